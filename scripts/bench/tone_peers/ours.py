"""Our own fit, through `trials tone`: readings are written into a folder, the program answers beside them."""

import subprocess
from pathlib import Path

import numpy as np

from chart import MILLIMETRES
from score import GRID, TONES

# Patches of the earlier sheet that a later one has as its prior.
EARLIER = 96


def written(folder, name, reading):
    # As many digits as there are, so that everyone fits the same readings.
    rows = zip(reading.x.tolist(), reading.y.tolist(), (reading.places * MILLIMETRES).tolist())
    lines = [f"{count},{x!r},{y!r},{across!r},{down!r},1" for count, (x, y, (across, down)) in enumerate(rows, 1)]
    Path(folder, f"{name}.csv").write_text("\n".join(["patch,input,l_star,x_mm,y_mm,copy", *lines, ""]))


def fit(program, folder):
    """Fits everything in the folder; sheets named `…_later` have their own paper's earlier sheet as prior."""
    subprocess.run([program, "tone", str(folder), "--prior", str(EARLIER)], check=True, capture_output=True, text=True)


def numbers(folder, name, ending, count=None):
    text = Path(folder, f"{name}.{ending}").read_text().split()
    found = np.array(text, float)
    assert count is None or len(found) == count, f"{name}.{ending} has {len(found)} numbers and not {count}"
    return found


def fitted(folder, name):
    return numbers(folder, name, "fit", len(GRID))


def deviation(folder, name):
    return numbers(folder, name, "sd", len(TONES))


def quality(folder, name):
    """What the fit says of itself: noise, field and its length in mm, sheet, expected error, distance to the plain fit; prior 1 used, -1 not."""
    lines = Path(folder, f"{name}.quality").read_text().splitlines()
    return {key: float(value) for key, value in (line.split() for line in lines)}


def named(seed, count, later):
    return f"c{seed:04d}_n{count:03d}" + ("_later" if later else "")
