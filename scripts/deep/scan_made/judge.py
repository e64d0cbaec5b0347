"""Reads made-up scans with the program and judges what it says: see scripts/deep/scan."""

import argparse
import json
import os
import subprocess
import sys
import tempfile
from collections import Counter
from multiprocessing import Pool
from pathlib import Path

import numpy as np
import tifffile

from cases import inside, outside
from scans import made

PROGRAM = os.environ["HANDCOAT"]
CHARTS = [["--strip"], ["--levels", "12"], ["--levels", "24"], ["--levels", "40"], ["--levels", "96"]]
FILM_PPI = 360
MISREAD = 2.0  # L* of the worst patch
MEDIAN, HIGH = 0.2, 0.5
READ, REFUSED = 0.97, 0.95


def chart(folder, seed):
    """Pixels of a film, its patches, the width of one; as the program makes it."""
    film, told = Path(folder, f"{seed}.tif"), Path(folder, f"{seed}.json")
    options = CHARTS[seed % len(CHARTS)]
    said = subprocess.run([PROGRAM, "tone", "chart", "-o", film, *options, "--seed", str(seed + 1), "--ppi", str(FILM_PPI), "--json"],
                          capture_output=True, check=True)
    told.write_bytes(said.stdout)
    one = json.loads(said.stdout)
    codes = tifffile.imread(film)
    film.unlink()
    return codes, one


def shuffled(codes, one, seed):
    """The patches change places among themselves; marks and code stay."""
    rng = np.random.default_rng(seed)
    half = int(one["patch_mm"] / 2 / 25.4 * FILM_PPI) + 2
    # On the film left is right.
    middles = [(codes.shape[1] - p["x_mm"] / 25.4 * FILM_PPI, p["y_mm"] / 25.4 * FILM_PPI) for p in one["patches"]]
    parts = [codes[int(y) - half:int(y) + half, int(x) - half:int(x) + half].copy() for x, y in middles]
    for (x, y), own in zip(middles, rng.permutation(len(parts))):
        codes[int(y) - half:int(y) + half, int(x) - half:int(x) + half] = parts[own]
    return codes


def judged(job):
    within, seed = job
    name, case, codes = ("inside", inside(seed), None) if within else outside(seed)
    with tempfile.TemporaryDirectory(dir=os.environ.get("HANDCOAT_SCANS")) as folder:
        film, one = chart(folder, seed)
        if case.shuffled:
            film = shuffled(film, one, seed)
        file, truth = made(case, film, FILM_PPI, one["patches"], one["patch_measured_mm"])
        scan = Path(folder, f"scan.{case.kind}")
        scan.write_bytes(file)
        # A gamma is no secret of whoever scans.
        gamma = [] if case.curve == "srgb" else ["--scanner-gamma", case.curve]
        said = subprocess.run([PROGRAM, "tone", "read", scan, *gamma, "--json"], capture_output=True)
        keep = os.environ.get("HANDCOAT_KEEP")
        if keep and f"{within}{seed}" in keep.split(","):
            Path(f"kept-{name}-{seed}.{case.kind}").write_bytes(file)
    if said.returncode:
        code = json.loads(said.stderr)["error"]["code"]
        return within, seed, name, code, bool(codes) and code in codes, []
    read = json.loads(said.stdout)["readings"]
    off = [own["l_star"] - truth[str(own["patch"])] for own in read if not own["left_aside"]]
    return within, seed, name, None, False, off


def main():
    asked = argparse.ArgumentParser()
    asked.add_argument("--scans", type=int, default=250)
    asked.add_argument("--first", type=int, default=0)
    asked.add_argument("--lanes", type=int, default=2)
    own = asked.parse_args()
    # Two of three lie within what is read.
    jobs = [(seed % 3 != 2, seed) for seed in range(own.first, own.first + own.scans)]
    with Pool(own.lanes) as pool:
        all_ = list(pool.imap_unordered(judged, jobs))
    met = True

    def say(what, value, good):
        nonlocal met
        met = met and good
        print(f"| {what} | {value} | {'met' if good else '**missed**'} |", flush=True)

    print("| What | Figure | Goal |\n|---|---|---|")
    within = [one for one in all_ if one[0]]
    read = [one for one in within if one[3] is None]
    say(f"inside, read, of {len(within)}", f"{len(read) / max(len(within), 1):.1%}", len(read) >= READ * len(within))
    worst = {one[1]: np.abs(one[5]).max() for one in all_ if one[3] is None and one[5]}
    wrong = {seed: float(off) for seed, off in worst.items() if off > MISREAD}
    say("misread, a patch more than 2 L* off", f"{len(wrong)} {sorted(wrong.items()) if wrong else ''}", not wrong)
    off = np.abs(np.concatenate([one[5] for one in read] or [np.zeros(1)]))
    say(f"patches, median |ΔL*|, of {len(off)}", f"{np.median(off):.3f}", np.median(off) <= MEDIAN)
    say("99th percentile", f"{np.percentile(off, 99):.3f}", np.percentile(off, 99) <= HIGH)
    beyond = [one for one in all_ if not one[0]]
    right = [one for one in beyond if one[4]]
    say(f"outside, refused for the right reason, of {len(beyond)}", f"{len(right) / max(len(beyond), 1):.1%}", len(right) >= REFUSED * len(beyond))
    print(f"\nInside and refused: {Counter(one[3] for one in within if one[3])}")
    print(f"Outside: {sorted(Counter((one[2], one[3] or 'read') for one in beyond).items())}")
    print(f"Worst inside: {sorted(((round(float(off), 2), seed) for seed, off in worst.items()), reverse=True)[:5]}")
    sys.exit(0 if met else 1)


if __name__ == "__main__":
    main()
