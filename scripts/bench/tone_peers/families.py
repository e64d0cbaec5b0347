"""Families of papers and sheets. The first is what the goals are set in; the others are printed beside it and nothing is tuned to them."""

from dataclasses import dataclass
from typing import Callable

import numpy as np

from chart import Sheet
from response import FINE, base, lightness


@dataclass(frozen=True)
class Family:
    said: str
    sheet: object = Sheet()
    paper: Callable = base


def two_metals(seed, later=False):
    """Two sensitizers in one coat, of different speed and steepness: their densities add up, and the curve has a bend between them."""
    dice = np.random.default_rng([31, seed])
    white, black = dice.uniform(0.05, 0.09), dice.uniform(1.40, 1.62)
    share, bend = dice.uniform(0.3, 0.7), dice.uniform(0.8, 1.3)
    first, second = dice.uniform(0.25, 0.45), dice.uniform(0.55, 0.85)
    steep = dice.uniform(6, 14, 2)
    if later:
        moved = np.random.default_rng([33, seed]).standard_normal(4)
        bend, black = bend * np.exp(0.06 * moved[0]), black + 0.03 * moved[1]
        share, steep = share + 0.03 * moved[2], steep * np.exp(0.05 * moved[3])
    dark = 1 - FINE ** bend
    part = share / (1 + np.exp(-steep[0] * (dark - first))) + (1 - share) / (1 + np.exp(-steep[1] * (dark - second)))
    part = (part - part[-1]) / (part[0] - part[-1])
    return FINE, lightness(white + (black - white) * part)


FAMILIES = {
    "base": Family("as the goals are set"),
    "short-0.15": Family("coating field of length 0.15", Sheet(length=0.15)),
    "short-0.25": Family("coating field of length 0.25", Sheet(length=0.25)),
    "even": Family("coating field of 0.2 L*", Sheet(field=0.2)),
    "uneven": Family("coating field of 1.4 L*", Sheet(field=1.4)),
    "wild": Family("one reading in twenty wild", Sheet(wild=0.05)),
    "two-metals": Family("two sensitizers of different speed in one coat", paper=two_metals),
}
