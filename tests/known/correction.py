"""Holds an exported correction against the truth: the charts of invented papers are fitted by the program, its CSV is sent through the true
papers, and what is left must be what the bench says of the same fit read backwards without margins and smoothing.

    python3 correction.py HANDCOAT TRIALS
"""

import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "scripts/bench/tone_peers"))

import ours
from chart import read
from families import FAMILIES
from score import TONES, residual

PAPERS, PATCHES = 12, 31
# Margins at both ends and smoothing may cost so much, L*, in the mean and for any one paper.
MEAN, ANY = 0.05, 0.25


def exported(handcoat, chart, into):
    """Tones and what is sent for them, as the CSV has it."""
    subprocess.run([handcoat, "tone", "fit", str(chart), "--csv", str(into)], check=True, capture_output=True)
    lines = into.read_text().splitlines()
    assert lines[0] == "input,output", f"the correction begins with `{lines[0]}`"
    return np.array([line.split(",") for line in lines[1:]], float).T


def main(handcoat, trials):
    rms = lambda off: float(np.sqrt(np.mean(off * off)))
    found = []
    with tempfile.TemporaryDirectory() as folder:
        charts = {seed: read(FAMILIES["base"], seed, PATCHES) for seed in range(PAPERS)}
        for seed, chart in charts.items():
            ours.written(folder, ours.named(seed, PATCHES, False), chart)
        subprocess.run([trials, "tone", folder], check=True, capture_output=True)
        for seed, chart in charts.items():
            name = ours.named(seed, PATCHES, False)
            tones, sent = exported(handcoat, Path(folder, f"{name}.csv"), Path(folder, f"{name}.curve"))
            assert tones[0] == 0 and tones[-1] == 1 and (np.diff(sent) >= 0).all(), f"{name}: the correction falls or stops short"
            printed = np.interp(np.interp(TONES, tones, sent), chart.codes, chart.levels)
            wanted = chart.levels[0] + TONES * (chart.levels[-1] - chart.levels[0])
            found.append((rms(printed - wanted), rms(residual(ours.fitted(folder, name), chart.codes, chart.levels))))
    own, bench = np.array(found).T
    said = f"{PAPERS} papers, {PATCHES} patches: through the exported correction {own.mean():.3f} L* are left, by the bench {bench.mean():.3f}"
    assert abs(own.mean() - bench.mean()) <= MEAN and np.abs(own - bench).max() <= ANY, f"{said}; {np.round(own - bench, 3).tolist()}"
    print(said)


if __name__ == "__main__":
    main(*sys.argv[1:])
