"""Families that were held out while the fit was designed: other papers, other coatings, other readings than the goals are set in."""

from dataclasses import dataclass

import numpy as np

from chart import HEIGHT, Sheet, coating
from families import Family
from response import FINE, LATER, base, lightness


def moved(seed, count):
    """How a paper of this family changes until later: as many normal numbers as asked for."""
    return np.random.default_rng([43, seed]).standard_normal(count)


def chain(seed, later=False):
    """A code made ink, ink made shade, shade made light, light made print.

    The ink's dots gain area, most in the middle; the shade of a film goes with the area by a power (the scatter between the dots), up to
    the film's own range; what light is left prints out at a rate that falls as the print shades itself, and with an inertia below which
    little happens.
    """
    dice = np.random.default_rng([41, seed])
    gain, scatter, span = dice.uniform(0.02, 0.22), dice.uniform(1.2, 2.2), dice.uniform(1.5, 2.4)
    white, black = dice.uniform(0.05, 0.09), dice.uniform(1.35, 1.65)
    light, order, mask = np.exp(dice.uniform(np.log(2.0), np.log(9.0))), dice.uniform(0.8, 1.5), dice.uniform(0.0, 1.2)
    if later:
        more, darker, slower = moved(seed, 3)
        light, black, order = light * np.exp(0.12 * more), black + LATER["black"] * darker, order * np.exp(LATER["steep"] * slower)
    area = FINE + 4 * gain * FINE * (1 - FINE)
    solid = 10 ** (-span / scatter)
    film = -scatter * np.log10(1 - np.clip(area, 0, 1) * (1 - solid))
    exposure = light * 10 ** -film
    # Reaction of so much light: exponential, slowed by the shade that is there already; a few rounds until both agree.
    reacted = 1 - np.exp(-(exposure ** order))
    for _ in range(8):
        reacted = 1 - np.exp(-((exposure / (1 + mask * reacted)) ** order))
    reacted = np.minimum.accumulate(reacted)
    return FINE, lightness(white + (black - white) * reacted / max(reacted[0], 0.8))


def kinked(seed, later=False):
    """Straight pieces in density with sharp corners: a shoulder that breaks off, a toe that ends at once. Nothing is smooth."""
    dice = np.random.default_rng([45, seed])
    white, black = dice.uniform(0.05, 0.09), dice.uniform(1.40, 1.62)
    first, last = dice.uniform(0.08, 0.25), dice.uniform(0.72, 0.92)
    knee, depth = dice.uniform(0.35, 0.6), dice.uniform(0.35, 0.65)
    near_black, near_white = dice.uniform(0.0, 0.1), dice.uniform(0.0, 0.05)
    if later:
        bend, darker, shift = moved(seed, 3)
        black, knee, depth = black + LATER["black"] * darker, knee + 0.02 * shift, depth * np.exp(LATER["bend"] * bend)
    corners = [0, first, knee, last, 1]
    parts = [1, 1 - near_black, depth, near_white, 0]
    return FINE, lightness(white + (black - white) * np.interp(FINE, corners, parts))


def stepped(seed, later=False):
    """The papers the goals are set in, through a printer's table of 24 straight pieces whose corners are each a little off."""
    dice = np.random.default_rng([47, seed])
    corners = np.linspace(0, 1, 25)
    table = np.sort(np.clip(corners + 0.006 * dice.standard_normal(25), 0, 1))
    table[0], table[-1] = 0, 1
    codes, levels = base(seed, later)
    return codes, np.interp(np.interp(codes, corners, table), codes, levels)


@dataclass(frozen=True)
class Heavy(Sheet):
    """Noise with long tails and no clear border to what is wild: Student's t of 2.5 degrees of freedom."""

    def read(self, true, where, dice):
        return true + coating(where, dice, self.field, self.length) + self.noise * dice.standard_t(2.5, len(true))


@dataclass(frozen=True)
class Brushed(Sheet):
    """A coat by brush: a slope over the sheet, where the coat was first dry, and strokes side by side in one direction."""

    slope: float = 0.8
    strokes: float = 0.5

    def coat(self, where, dice):
        turn, lean = dice.uniform(0, 2 * np.pi), dice.normal(0, 0.15)
        middle = where - [0.5, HEIGHT / 2]
        tilt = self.slope * (middle @ [np.cos(turn), np.sin(turn)]) / 0.3
        across = where[:, 0] + lean * where[:, 1] if dice.random() < 0.5 else where[:, 1] + lean * where[:, 0]
        # A stroke is 0.1 to 0.16 wide and has a weight of its own; at the seam between two the coat is doubled.
        width = dice.uniform(0.10, 0.16)
        weights = self.strokes * dice.standard_normal(24)
        place = across / width + 4 + dice.random()
        stroke = np.floor(place).astype(int)
        seam = np.exp(-0.5 * ((place - np.round(place)) / 0.08) ** 2)
        return tilt + weights[np.clip(stroke, 0, 23)] - 0.6 * self.strokes * seam

    def read(self, true, where, dice):
        y = true + self.coat(where, dice) + self.noise * dice.standard_normal(len(true))
        bad = dice.random(len(true)) < self.wild
        y[bad] += self.off * dice.choice([-1, 1], bad.sum())
        return y


@dataclass(frozen=True)
class Unequal(Sheet):
    """Blacks are read four times worse than whites (they shine), and an uneven coat shows where there is much of it: not in the whites."""

    def read(self, true, where, dice):
        dark = np.clip(1 - true / 95, 0, 1)
        y = true + coating(where, dice, self.field, self.length) * (0.25 + dark)
        y += self.noise * (0.4 + 2.0 * dark ** 2) * dice.standard_normal(len(true))
        bad = dice.random(len(true)) < self.wild
        y[bad] += self.off * dice.choice([-1, 1], bad.sum())
        return y


@dataclass(frozen=True)
class Everything(Brushed):
    """Brushed, unequal and with long tails, and what is wild is a speck: always darker."""

    def read(self, true, where, dice):
        dark = np.clip(1 - true / 95, 0, 1)
        y = true + self.coat(where, dice) * (0.3 + 0.9 * dark) + self.noise * (0.5 + dark) * dice.standard_t(4, len(true))
        bad = dice.random(len(true)) < self.wild
        y[bad] -= dice.uniform(2, 9, bad.sum())
        return y


HELD_OUT = {
    "chain": Family("dot gain, a film's shade, print-out that shades itself", paper=chain),
    "kinked": Family("straight pieces with sharp corners", paper=kinked),
    "stepped": Family("a printer's table with corners a little off", paper=stepped),
    "heavy": Family("noise with long tails (t of 2.5) and nothing else wild", Heavy()),
    "brushed": Family("a slope over the sheet and brush strokes instead of the field", Brushed()),
    "unequal": Family("blacks read four times worse than whites, coat uneven in the darks", Unequal()),
    "everything": Family("the chain, brushed, unequal, long tails, dark specks at 3 in 100", Everything(wild=0.03), chain),
}
