"""Invented papers: the lightness L* of a print over its code, 0 for the darkest code and 1 for bare paper.

Each is a skewed sigmoid in density, with toe, shoulder, steepness and skew of its own; half of them use the whole of it, three in ten are
full black before the darkest code and two in ten are paper white before the lightest. A smooth random change of the slope goes over
that, so that no formula with parameters fits any of them exactly. The same paper at a later time has its code bent, its black moved
and its steepness changed a little, as a new bottle of developer or another week's weather does.
"""

from dataclasses import dataclass, replace

import numpy as np

FINE = np.linspace(0, 1, 4097)
# Standard deviations of what changes between two printings: of the logarithm of the exponent, of the blackest density, of the logarithm
# of the steepness.
LATER = {"bend": 0.06, "black": 0.03, "steep": 0.05}
WAVES = 40
WAVELENGTH = 0.18


def lightness(density):
    """CIE 1976 L* of a reflection density: the cube root, and a straight line below its junction."""
    y = 10.0 ** -np.asarray(density, float)
    return np.where(y > 216 / 24389, 116 * np.cbrt(y) - 16, y * 24389 / 27)


@dataclass(frozen=True)
class Ripple:
    """A smooth random function, as a sum of waves: the logarithm of a change of slope."""

    size: float
    weights: np.ndarray
    turns: np.ndarray
    phases: np.ndarray

    @classmethod
    def drawn(cls, dice):
        size = dice.uniform(0, 0.30)
        weights = dice.standard_normal(WAVES)
        turns = dice.standard_normal(WAVES) / WAVELENGTH
        return cls(size, weights, turns, dice.uniform(0, 2 * np.pi, WAVES))

    def over(self, levels):
        """The curve with its slope changed, between the same ends."""
        waves = (np.cos(np.outer(FINE, self.turns) + self.phases) * self.weights).sum(1) * np.sqrt(2 / WAVES)
        rises = np.diff(levels) * np.exp(self.size * 0.5 * (waves[1:] + waves[:-1]))
        climbed = np.concatenate([[0], np.cumsum(rises)])
        return levels[0] + climbed * (levels[-1] - levels[0]) / rises.sum()


@dataclass(frozen=True)
class Paper:
    white: float
    black: float
    bend: float
    whole: bool
    below: float
    above: float
    skew: float
    steep: float
    ripple: Ripple

    @classmethod
    def drawn(cls, dice):
        white, black, bend = dice.uniform(0.05, 0.09), dice.uniform(1.40, 1.62), dice.uniform(0.7, 1.5)
        kind = dice.choice(3, p=[0.5, 0.3, 0.2])
        below, above = dice.uniform(0.6, 2.0, 2)
        if kind == 1:
            below = dice.uniform(2.5, 4.5)
        elif kind == 2:
            above = dice.uniform(2.5, 4.5)
        skew, steep = dice.uniform(0.45, 2.2), dice.uniform(1.2, 1.9)
        return cls(white, black, bend, kind == 0, below, above, skew, steep, Ripple.drawn(dice))

    def changed(self, dice):
        bend, black, steep = (dice.standard_normal() for _ in LATER)
        return replace(self, bend=self.bend * np.exp(LATER["bend"] * bend), black=self.black + LATER["black"] * black,
                       steep=self.steep * np.exp(LATER["steep"] * steep))

    def plain(self):
        """Before the ripple."""
        place = self.below - (self.below + self.above) * FINE ** self.bend
        part = (1 + np.exp(-self.steep * place) * (2 ** (1 / self.skew) - 1)) ** -self.skew
        if self.whole:
            part = (part - part[-1]) / (part[0] - part[-1])
        return lightness(self.white + (self.black - self.white) * part)

    def levels(self):
        return self.ripple.over(self.plain())


def paper(seed, later):
    own = Paper.drawn(np.random.default_rng([11, seed]))
    return own.changed(np.random.default_rng([13, seed])) if later else own


def base(seed, later=False):
    """(codes, L*) of one paper, at once or later."""
    return FINE, paper(seed, later).levels()
