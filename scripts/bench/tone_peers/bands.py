"""Counts how often pointwise bands hold the truth: see scripts/deep/bands.

A band is the fitted L* ± 1.96 standard deviations, as the program states them. It is held against the true L* itself: an offset of the whole
sheet, which no chart on that sheet can tell from tone, is in it.
"""

import argparse
import hashlib
import json
import os
import tempfile
from multiprocessing import Pool
from pathlib import Path

import numpy as np

import ours
from chart import read
from judge import all_families
from score import TONES

PORTION = 20
CURVES = 1000
COUNTS = [11, 31, 101]
# Printed again after the set-up changed, with the earlier sheet as prior.
COUNTS_LATER = [31]
NORMAL = 1.959963984540054
GOAL = 0.92, 0.98
# Within these the tones are inner; the very first and the very last stand alone.
INNER = (TONES >= 0.05) & (TONES <= 0.95)
PLACES = {"all tones": slice(None), "inner tones, 0.05-0.95": INNER, "black end": slice(0, 1), "white end": slice(-1, None)}


def portion(job):
    """For each paper: the part of tones that the band holds in each place, its mean half width, the mean of what is off."""
    name, count, later, seeds = job
    family = all_families()[name]
    rows = []
    with tempfile.TemporaryDirectory(dir=os.environ.get("HANDCOAT_CHARTS")) as folder:
        charts = {seed: read(family, seed, count, later) for seed in seeds}
        for seed, chart in charts.items():
            ours.written(folder, ours.named(seed, count, later), chart)
            if later:
                ours.written(folder, ours.named(seed, ours.EARLIER, False), read(family, seed, ours.EARLIER, False))
        ours.fit(os.environ["HANDCOAT_TRIALS"], folder)
        for seed, chart in charts.items():
            own = ours.named(seed, count, later)
            off = ours.fitted(folder, own)[::4] - np.interp(TONES, chart.codes, chart.levels)
            half = NORMAL * ours.deviation(folder, own)
            held = np.abs(off) <= half
            rows.append([*(float(held[where].mean()) for where in PLACES.values()), float(half.mean()), float(off.mean())])
    return rows


class Kept:
    """What was counted already, one line a portion."""

    def __init__(self, folder):
        # The program and the simulation as they are; with others it is another count.
        sources = sorted(Path(__file__).parent.glob("*.py"))
        seen = hashlib.sha256(b"".join(path.read_bytes() for path in [Path(os.environ["HANDCOAT_TRIALS"]), *sources]))
        Path(folder).mkdir(parents=True, exist_ok=True)
        self.path = Path(folder, f"{seen.hexdigest()[:16]}.jsonl")
        self.done = {}
        for line in self.path.read_text().splitlines() if self.path.exists() else []:
            try:
                one = json.loads(line)
            except json.JSONDecodeError:
                continue  # the line a stopped run was writing
            self.done[self.key(one["job"])] = one["rows"]

    @staticmethod
    def key(job):
        name, count, later, seeds = job
        return name, count, bool(later), tuple(seeds)

    def add(self, job, rows):
        self.done[self.key(job)] = rows
        with self.path.open("a") as file:
            file.write(json.dumps({"job": [*job[:3], list(job[3])], "rows": rows}) + "\n")


def counted(job):
    return job, portion(job)


def main():
    asked = argparse.ArgumentParser()
    asked.add_argument("--curves", type=int, default=CURVES)
    asked.add_argument("--n", default=",".join(map(str, COUNTS)))
    asked.add_argument("--later", default=",".join(map(str, COUNTS_LATER)), help="patch counts with an earlier sheet as prior, or nothing")
    asked.add_argument("--families", default="all")
    asked.add_argument("--lanes", type=int, default=2)
    own = asked.parse_args()
    names = list(all_families()) if own.families == "all" else own.families.split(",")
    sheets = [(int(count), later) for text, later in ((own.n, False), (own.later, True)) for count in text.split(",") if count]
    kept = Kept(os.environ.get("HANDCOAT_BANDS", "target/bands"))
    cuts = [range(first, min(first + PORTION, own.curves)) for first in range(0, own.curves, PORTION)]
    missed = []
    print("| family | patches | " + " | ".join(PLACES) + " | mean half width | offset of the sheet, sd |\n|---|---|" + "---|" * (len(PLACES) + 2))
    with Pool(own.lanes) as pool:
        for name in names:
            for count, later in sheets:
                jobs = [(name, count, later, seeds) for seeds in cuts]
                for job, rows in pool.imap_unordered(counted, [job for job in jobs if kept.key(job) not in kept.done]):
                    kept.add(job, rows)
                rows = np.array([row for job in jobs for row in kept.done[kept.key(job)]])
                patches = f"{count}, with a prior" if later else str(count)
                cells = [cell(part.mean(), part.std() / np.sqrt(len(part)), judged=place == 0) for place, part in enumerate(rows[:, :len(PLACES)].T)]
                if "missed" in cells[0]:
                    missed.append(f"{name} at {patches}")
                print(f"| {name} | {patches} | " + " | ".join(cells) + f" | {rows[:, -2].mean():.2f} | {rows[:, -1].std():.2f} |", flush=True)
    print(f"\n{own.curves} papers in each row; parts in % ± standard error over papers. Goal for the mean over all tones: {GOAL[0]:.0%}-{GOAL[1]:.0%}; "
          + (f"**missed** by {'; '.join(missed)}." if missed else "met by all."))


def cell(mean, error, judged):
    said = (" met" if GOAL[0] <= mean <= GOAL[1] else " **missed**") if judged else ""
    return f"{mean * 100:.1f} ± {error * 100:.1f}{said}"


if __name__ == "__main__":
    main()
