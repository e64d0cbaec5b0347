"""Fits that a general library gives, on the same readings: each takes codes and lightness and answers with L* on GRID."""

import numpy as np
from scipy.interpolate import PchipInterpolator, make_smoothing_spline
from scipy.optimize import isotonic_regression, least_squares

from score import GRID


def rising(y):
    return isotonic_regression(y).x


def pchip(x, y):
    return PchipInterpolator(x, y)(GRID)


def isotonic_pchip(x, y):
    return pchip(x, rising(y))


def spline_isotonic(x, y):
    """Penalised by generalised cross-validation, then pooled where it falls."""
    return rising(make_smoothing_spline(x, y)(GRID))


LOGISTIC_STARTS = [(4.0, 0.5), (8.0, 0.3), (8.0, 0.7)]
LOGISTIC_BOUNDS = ([-40, 5, 0.3, -1.5, -3], [90, 200, 40, 2.5, 3])


def logistic(p, x):
    low, rise, steep, middle, log_skew = p
    return low + rise * (1 + np.exp(-steep * (x - middle))) ** -np.exp(log_skew)


def robust_logistic(x, y):
    """Five parameters, a loss that grows slowly beyond 1 L*; the best of three starts."""
    low, rise = np.min(y), np.max(y) - np.min(y)
    tried = [least_squares(lambda p: logistic(p, x) - y, [low, rise, steep, middle, 0.0], loss="soft_l1", f_scale=1.0,
                           bounds=LOGISTIC_BOUNDS, max_nfev=300) for steep, middle in LOGISTIC_STARTS]
    return logistic(min(tried, key=lambda one: one.cost).x, GRID)


def gaussian_process(x, y):
    """Matérn 5/2 and white noise by marginal likelihood, then pooled where it falls."""
    from sklearn.gaussian_process import GaussianProcessRegressor
    from sklearn.gaussian_process.kernels import ConstantKernel, Matern, WhiteKernel

    kernel = ConstantKernel(1.0) * Matern(0.3, (0.05, 10.0), nu=2.5) + WhiteKernel(0.01, (1e-5, 1.0))
    process = GaussianProcessRegressor(kernel, normalize_y=True, n_restarts_optimizer=1, random_state=0)
    return rising(process.fit(x[:, None], y).predict(GRID[:, None]))


PEERS = {
    "PCHIP through the readings": pchip,
    "isotonic + PCHIP": isotonic_pchip,
    "smoothing spline + isotonic": spline_isotonic,
    "5-parameter logistic, robust": robust_logistic,
}
SLOW = {"Gaussian process + isotonic": gaussian_process}
