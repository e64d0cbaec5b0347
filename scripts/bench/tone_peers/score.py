"""What a fit is worth: the print that its correction would give, against the one that was aimed at.

Aimed at is a straight line in L* between the fit's own ends. The codes that the fit asks for are printed on the true paper and held against
the straight line between the true ends, so that an offset of the whole sheet, which nobody can know, costs nothing.
"""

import numpy as np

GRID = np.linspace(0, 1, 1025)
TONES = np.linspace(0, 1, 257)


def residual(fitted, codes, levels):
    """ΔL* at each tone of the corrected print; `fitted` is L* on GRID."""
    rising = np.maximum.accumulate(fitted) + 1e-7 * np.arange(len(fitted))
    aim = rising[0] + TONES * (rising[-1] - rising[0])
    asked = np.interp(aim, rising, GRID)
    return np.interp(asked, codes, levels) - (levels[0] + TONES * (levels[-1] - levels[0]))


def score(fitted, codes, levels):
    """Root of the mean square and largest of the residual."""
    off = residual(fitted, codes, levels)
    return np.sqrt(np.mean(off * off)), np.max(np.abs(off))
