"""Simulates, fits, scores and prints: see scripts/bench/tone."""

import argparse
import os
import tempfile
import time
from multiprocessing import Pool
from pathlib import Path

import numpy as np

import ours
from chart import read
from families import FAMILIES
from peers import PEERS, SLOW
from score import GRID, score

COUNTS = [9, 11, 16, 21, 31, 51, 101, 129]
CURVES, CURVES_ELSEWHERE, CURVES_SLOW = 300, 100, 100
PORTION = 10
GOALS = dict(zip(COUNTS, [0.75, 0.65, 0.45, 0.38, 0.29, 0.22, 0.16, 0.15]))
GOALS_LATER = dict(zip(COUNTS, [0.50, 0.45, 0.38, 0.33, 0.27, 0.21, 0.16, 0.15]))
GOAL_LARGEST = {31: 0.7}
OURS, LATER, EARLIER = "ours", "ours, with the earlier fit as prior", "the earlier fit, unchanged"
LATER_ALONE, UNCHANGED = "ours, no prior", "the true earlier curve, unchanged"
ALL = {**PEERS, **SLOW}


def all_families():
    try:
        from held_out import HELD_OUT
    except ImportError:
        return FAMILIES
    return {**FAMILIES, **HELD_OUT}


def portion(job):
    """Of a few papers {(later, who, count): [(seed, rms, largest)]} and {(later, count): [(seed, what our fit says of itself)]}; then the
    seconds our own fits took, and how many they were."""
    name, seeds, counts, others, also_alone = job
    family = all_families()[name]
    found, said = {}, {}

    def add(later, who, count, seed, fitted, codes, levels):
        found.setdefault((later, who, count), []).append((seed, *score(fitted, codes, levels)))

    with tempfile.TemporaryDirectory(dir=os.environ.get("HANDCOAT_CHARTS")) as folder:
        alone = Path(folder, "alone")
        alone.mkdir()
        charts = {(seed, count, later): read(family, seed, count, later)
                  for seed in seeds for later in (False, True) for count in ([*counts, ours.EARLIER] if not later else counts)}
        for (seed, count, later), chart in charts.items():
            ours.written(folder, ours.named(seed, count, later), chart)
            if later and also_alone:
                # Under a name that has no prior.
                ours.written(alone, ours.named(seed, count, False), chart)
        began = time.perf_counter()
        for place in (folder, alone):
            ours.fit(os.environ["HANDCOAT_TRIALS"], place)
        seconds = time.perf_counter() - began
        for (seed, count, later), chart in charts.items():
            said.setdefault((later, count), []).append((seed, ours.quality(folder, ours.named(seed, count, later))))
            truth = chart.codes, chart.levels
            if later:
                add(True, LATER, count, seed, ours.fitted(folder, ours.named(seed, count, True)), *truth)
                if also_alone:
                    add(True, LATER_ALONE, count, seed, ours.fitted(alone, ours.named(seed, count, False)), *truth)
                add(True, EARLIER, count, seed, ours.fitted(folder, ours.named(seed, ours.EARLIER, False)), *truth)
                add(True, UNCHANGED, count, seed, np.interp(GRID, *family.paper(seed, False)), *truth)
            elif count in counts:
                add(False, OURS, count, seed, ours.fitted(folder, ours.named(seed, count, False)), *truth)
                for who in others:
                    if who not in SLOW or seed < CURVES_SLOW:
                        add(False, who, count, seed, ALL[who](chart.x, chart.y), *truth)
    return found, said, seconds, len(charts) + also_alone * sum(later for _, _, later in charts)


class Judged:
    def __init__(self):
        self.rows, self.said = {}, {}
        self.seconds = self.fits = 0

    def add(self, found, said, seconds, fits):
        for key, own in said.items():
            self.said.setdefault(key, []).extend(own)
        for key, scores in found.items():
            self.rows.setdefault(key, []).extend(scores)
        self.seconds += seconds
        self.fits += fits

    def of(self, later, who, count):
        """Mean and standard error of the root mean squares, mean of the largest."""
        scores = np.array(sorted(self.rows[later, who, count]))[:, 1:]
        return scores[:, 0].mean(), scores[:, 0].std() / np.sqrt(len(scores)), scores[:, 1].mean()

    def mean_said(self, later, count, key):
        return np.mean([own[key] for _, own in sorted(self.said[later, count], key=lambda one: one[0])])

    def who(self, later):
        return list(dict.fromkeys(who for own, who, _ in self.rows if own == later))


def against(mean, error, goal):
    """A goal is met within one standard error."""
    return f"{goal:.2f} {'met' if mean <= goal + error else '**missed**'}"


def table(judged, counts, later, goals):
    """One column for each number of patches; the last rows are our own largest and the goals."""
    main = LATER if later else OURS
    print("| patches | " + " | ".join(map(str, counts)) + " |\n|---|" + "---|" * len(counts))
    line = lambda head, cells: print(f"| {head} | " + " | ".join(cells) + " |")
    for who in sorted(judged.who(later), key=lambda who: who == main):
        rows = [judged.of(later, who, count) for count in counts]
        name = f"**{who}**" if who == main else who
        line(name, [f"{mean:.3f} ± {error:.3f}" for mean, error, _ in rows])
        if goals and who == main:
            line("goal", [against(mean, error, goals[count]) if count in goals else "" for count, (mean, error, _) in zip(counts, rows)])
    for who in sorted(judged.who(later), key=lambda who: who == main):
        line(f"largest, {who}", [f"{judged.of(later, who, count)[2]:.2f}" for count in counts])
    if goals and not later and GOAL_LARGEST.keys() & set(counts):
        errors = {count: np.array([one[2] for one in judged.rows[later, main, count]]) for count in GOAL_LARGEST.keys() & set(counts)}
        line("goal of the largest", [against(errors[count].mean(), errors[count].std() / np.sqrt(len(errors[count])), GOAL_LARGEST[count])
                                     if count in errors else "" for count in counts])
    line("the fit's own guess of its error", [f"{judged.mean_said(later, count, 'expected'):.2f}" for count in counts])
    line("noise, field, length in mm it found",
         [", ".join(f"{judged.mean_said(later, count, key):.{digits}f}" for key, digits in (("noise", 2), ("field", 2), ("length", 0)))
          for count in counts])
    if later:
        parts = [np.mean([own["prior"] < 0 for _, own in judged.said[True, count]]) for count in counts]
        line("prior left aside as contradicted", [f"{part:.1%}" for part in parts])
    print()


def main():
    asked = argparse.ArgumentParser()
    asked.add_argument("--curves", type=int)
    asked.add_argument("--n", default=",".join(map(str, COUNTS)))
    asked.add_argument("--quick", action="store_true", help="60 curves at 11, 31 and 129 patches")
    asked.add_argument("--ours", action="store_true", help="no peers")
    asked.add_argument("--alone", action="store_true", help="later sheets also without their prior")
    asked.add_argument("--families", default="base", help="names with commas between them, `all`, or `open` for those that were not held out")
    asked.add_argument("--lanes", type=int, default=2)
    asked.add_argument("--kept", help="a folder for the score of every curve, as CSV")
    own = asked.parse_args()
    families = all_families()
    names = list(families) if own.families == "all" else list(FAMILIES) if own.families == "open" else own.families.split(",")
    if unknown := [name for name in names if name not in families]:
        asked.error(f"no family {', '.join(unknown)}; there are {', '.join(families)}")
    counts = [11, 31, 129] if own.quick and own.n == asked.get_default("n") else [int(count) for count in own.n.split(",")]
    with Pool(own.lanes) as pool:
        for name in names:
            curves = own.curves or (60 if own.quick else CURVES if name == "base" else CURVES_ELSEWHERE)
            others = [] if own.ours else [*PEERS, *(SLOW if name == "base" else [])]
            jobs = [(name, range(first, min(first + PORTION, curves)), counts, others, own.alone) for first in range(0, curves, PORTION)]
            judged = Judged()
            for done in pool.imap(portion, jobs):
                judged.add(*done)
            goals = name == "base"
            print(f"### {name}: {families[name].said}\n\n{curves} papers; mean RMS ΔL* ± its standard error, then the mean of the largest |ΔL*|"
                  f"{f'; {next(iter(SLOW))} of the first {min(curves, CURVES_SLOW)}' if others and goals else ''}."
                  f" One fit of ours took {judged.seconds / judged.fits * 1000:.0f} ms.\n")
            table(judged, counts, False, GOALS if goals else None)
            print(f"Printed again after the set-up changed; the earlier sheet had {ours.EARLIER} levels.\n")
            table(judged, counts, True, GOALS_LATER if goals else None)
            if own.kept:
                keep(Path(own.kept, f"{name}.csv"), judged)


def keep(path, judged):
    path.parent.mkdir(parents=True, exist_ok=True)
    lines = [f"{int(later)},{who},{count},{int(seed)},{rms:.6f},{largest:.6f}"
             for (later, who, count), scores in judged.rows.items() for seed, rms, largest in sorted(scores)]
    path.write_text("\n".join(["later,who,patches,paper,rms,largest", *(line.replace(", ", " ") for line in lines), ""]))


if __name__ == "__main__":
    main()
