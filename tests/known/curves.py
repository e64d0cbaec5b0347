"""Prints curves, pooled values, robust lines and fits as scipy and scikit-learn compute them, for the craft tests to compare with.

Each row is a name and lists of numbers; what the lists are is said at each function. Needs the versions in requirements.txt.

    python3 curves.py > curves.csv
"""

import numpy as np
from scipy.interpolate import PchipInterpolator
from scipy.optimize import curve_fit, isotonic_regression, nnls
from scipy.stats import linregress, theilslopes
from sklearn.isotonic import IsotonicRegression

DICE = np.random.default_rng(20260314)


def row(name, *lists):
    print(name, *(" ".join(f"{own:.12g}" for own in np.ravel(one)) for one in lists), sep=",")


def uneven(count):
    """Rising places with three decimals."""
    return np.round(np.cumsum(DICE.uniform(0.05, 1.0, count)), 3)


def readings(count):
    return np.round(DICE.uniform(0, 5, count), 3)


def pchips():
    """Places, values; where it is asked, what it is there; slopes at the places; the integral of all."""
    for count in [2, 3, 4, 5, 8, 13, 21, 40]:
        for shape in ["any", "rising", "flat"]:
            x, y = uneven(count), readings(count)
            if shape != "any":
                y = np.sort(y)
            if shape == "flat":
                y = np.round(np.minimum(y, 2.5), 1)
            curve = PchipInterpolator(x, y)
            q = np.round(np.linspace(x[0] + 0.001, x[-1] - 0.001, 7), 3)
            row("pchip", x, y, q, curve(q), curve.derivative()(x), curve.integrate(x[0], x[-1]))


def inverses():
    """Places and values of a falling curve; a value, and where it is reached."""
    x = np.linspace(0, 3, 21).round(2)
    # The synthetic wedge of 21 steps.
    y = np.array("0.07 0.07 0.08 0.08 0.09 0.11 0.15 0.23 0.35 0.53 0.76 0.99 1.17 1.29 1.37 1.41 1.43 1.44 1.44 1.45 1.45".split(), float)
    curve = PchipInterpolator(x, y)
    for value in [0.11, 0.67, 1.305, 1.312, 0.2, 1.0, 1.4]:
        inside = [root for root in curve.solve(value, extrapolate=False) if 0 <= root <= 3]
        row("inverse", x, y, [value], inside[:1])


def pooled():
    """Values, weights, 1 for rising and 0 for falling; pooled values; where blocks begin. Both libraries must agree."""
    for count in [2, 3, 5, 8, 13, 21, 34]:
        for rising in [True, False]:
            y, weights = readings(count), np.round(DICE.uniform(0.2, 3, count), 2)
            found = isotonic_regression(y, weights=weights, increasing=rising)
            other = IsotonicRegression(increasing=rising).fit_transform(np.arange(count), y, sample_weight=weights)
            assert np.allclose(found.x, other, rtol=0, atol=1e-12)
            row("pooled", y, weights, [rising], found.x, found.blocks)


def lines():
    """Places, values; slope and intercept of the median of all slopes; slope, intercept and the deviations of both of least squares."""
    for count in [3, 4, 7, 12, 25]:
        x, y = uneven(count), readings(count)
        middle, square = theilslopes(y, x), linregress(x, y)
        row("line", x, y, [middle.slope, middle.intercept], [square.slope, square.intercept, square.stderr, square.intercept_stderr])


def not_negative():
    """Columns, the matrix row by row, the values; coefficients, the length of the residual."""
    for count, columns in [(3, 2), (5, 3), (8, 5), (12, 4), (20, 8), (30, 10)]:
        a, b = DICE.uniform(-1, 2, (count, columns)).round(3), DICE.uniform(-2, 3, count).round(3)
        found, length = nnls(a, b)
        row("not-negative", [columns], a, b, found, [length])


def parabolas():
    """Places, values; three coefficients, squares of the residuals."""
    for count in [4, 6, 11]:
        x, y = uneven(count), readings(count)
        found, squares, _, _ = np.linalg.lstsq(np.vander(x, 3, increasing=True), y)
        row("parabola", x, y, found, squares)


MISRA1A = np.array("""77.6 10.07 114.9 14.73 141.1 17.94 190.8 23.93 239.9 29.61 289.0 35.18 332.8 40.02 378.4 44.82 434.8 50.76 477.3 55.05 536.8 61.01
    593.1 66.40 689.1 75.47 760.0 81.78""".split(), float).reshape(-1, 2)
RAT43 = np.array("16.08 33.83 65.80 97.20 191.55 326.20 386.87 520.53 590.03 651.92 724.93 699.56 689.96 637.56 717.41".split(), float)


def sigmoids():
    """Places, values, start; parameters, their deviations, squares of the residuals. NIST data sets, and invented print curves."""
    exponential = lambda x, a, b: a * (1 - np.exp(-b * x))
    growth = lambda x, a, b, c, d: a / (1 + np.exp(b - c * x)) ** (1 / d)
    fit("misra1a", exponential, *MISRA1A.T, [250, 5e-4])
    fit("rat43", growth, np.arange(1.0, 16), RAT43, [700, 5, 0.75, 1.3])
    for _ in range(4):
        x = np.linspace(0, 1, 21).round(2)
        truth = 70 + DICE.uniform(-5, 5), DICE.uniform(3, 5), DICE.uniform(7, 11), DICE.uniform(0.8, 1.5)
        y = (growth(x, *truth) + 0.3 * DICE.standard_normal(21)).round(2)
        fit("growth", growth, x, y, [70, 4, 9, 1])


def fit(name, model, x, y, start):
    found, covariance = curve_fit(model, x, y, p0=start, xtol=1e-15, ftol=1e-15, gtol=1e-15, maxfev=100_000)
    squares = np.sum((y - model(x, *found)) ** 2)
    # So many digits are the same whatever way was taken to the least sum.
    asked = zip([x, y, start, found, np.sqrt(np.diag(covariance)), [squares]], [6, 6, 6, 7, 5, 9])
    print(name, *(" ".join(f"{own:.{digits}g}" for own in one) for one, digits in asked), sep=",")



for part in [pchips, inverses, pooled, lines, not_negative, parabolas, sigmoids]:
    part()
