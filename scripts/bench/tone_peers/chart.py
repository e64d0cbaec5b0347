"""A chart, printed and read: patches in random places on a sheet 1 wide and 0.7 high, under a coating that is nowhere quite the same."""

from dataclasses import dataclass

import numpy as np

HEIGHT = 0.7
# A sheet of 200 mm by 140 mm, for those who want millimetres.
MILLIMETRES = 200
WAVES = 300


@dataclass(frozen=True)
class Reading:
    """Codes, lightness read, places; and what is true: codes and lightness, fine."""

    x: np.ndarray
    y: np.ndarray
    places: np.ndarray
    codes: np.ndarray
    levels: np.ndarray


def places(count, dice):
    """The middles of a grid's cells, in random order."""
    columns = int(np.ceil(np.sqrt(count / HEIGHT)))
    rows = int(np.ceil(count / columns))
    one = np.arange(count)
    grid = np.stack([(one % columns + 0.5) / columns, (one // columns + 0.5) / rows * HEIGHT], 1)
    return grid[dice.permutation(count)]


def coating(where, dice, sd, length):
    """A random field with the kernel exp(-d²/(2 length²)), as a sum of random waves."""
    turns, phases, weights = dice.standard_normal((WAVES, 2)) / length, dice.uniform(0, 2 * np.pi, WAVES), dice.standard_normal(WAVES)
    return sd * np.sqrt(2 / WAVES) * (np.cos(where @ turns.T + phases) @ weights)


@dataclass(frozen=True)
class Sheet:
    """How uneven a coating is and how well it is read, in L*: the field's standard deviation and length, the noise of one reading, the
    part of all readings that are wild and by how much."""

    field: float = 0.8
    length: float = 0.35
    noise: float = 0.3
    wild: float = 0.02
    off: float = 5

    def read(self, true, where, dice):
        y = true + coating(where, dice, self.field, self.length) + self.noise * dice.standard_normal(len(true))
        bad = dice.random(len(true)) < self.wild
        y[bad] += self.off * dice.choice([-1, 1], bad.sum())
        return y


def read(family, seed, count, later=False):
    """One chart of one paper of a family."""
    codes, levels = family.paper(seed, later)
    dice = np.random.default_rng([23, seed, count, later])
    x, where = np.linspace(0, 1, count), places(count, dice)
    return Reading(x, family.sheet.read(np.interp(x, codes, levels), where, dice), where, codes, levels)
