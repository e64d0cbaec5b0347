"""Which prints and scans are made up: inside what the reader says it takes, and outside of it in one way each."""

import numpy as np

from scans import Case

# What docs/measured.md says the reader takes; a case outside of it leaves one of these far behind.
TURN = 180.0
SKEW = 5.0
LIFTED = 0.03
LAMP = 0.25
BLUR = 1.3


def inside(seed):
    rng = np.random.default_rng(10_000 + seed)
    colour = bool(rng.integers(2))
    kind = ["png", "tif", "jpg"][rng.integers(3)]
    return Case(
        seed=seed,
        turn=float(rng.choice([0, 90, 180, 270]) + rng.uniform(-8, 8)) if rng.random() < 0.7 else float(rng.uniform(-TURN, TURN)),
        skew=float(rng.uniform(-SKEW, SKEW)) * (rng.random() < 0.4),
        lifted=float(rng.uniform(0, LIFTED)) * (rng.random() < 0.4),
        blur_px=float(rng.uniform(0.4, BLUR)),
        lamp=float(rng.uniform(0, LAMP)) * (rng.random() < 0.5),
        slope=float(rng.uniform(-0.06, 0.06)) * (rng.random() < 0.5),
        noise=float(rng.uniform(0.001, 0.008)),
        specks=int(rng.integers(0, 25)),
        dust=int(rng.integers(0, 25)),
        brush=float(rng.uniform(0, 1.2)) * (rng.random() < 0.5),
        drift=float(rng.uniform(0.2, 1.2)),
        curve=["srgb", "1.8", "2.2"][rng.integers(3)] if not colour else "srgb",
        colour=colour,
        bits=16 if kind == "tif" and rng.random() < 0.7 else 8,
        kind=kind,
        quality=int(rng.integers(85, 98)),
        black=float(rng.uniform(18, 34)),
        white=float(rng.uniform(88, 96)),
        bend=float(rng.uniform(1.6, 2.8)),
    )


# Name, what is done, the codes of a refusal that tells the right thing.
OUTSIDE = [
    ("covered", {"covered": 0.4}, None),
    ("blurred", {"blur_px": 14.0}, None),
    ("coarse", {"ppi": 40}, None),
    ("mirrored", {"mirrored": True}, None),
    ("lifted far", {"lifted": 0.3}, None),
    ("skewed far", {"skew": 25.0}, None),
    ("too bright", {"level": 2.6}, None),
]


def outside(seed):
    name, changes, codes = OUTSIDE[seed % len(OUTSIDE)]
    own = inside(50_000 + seed)
    for key, value in changes.items():
        setattr(own, key, value)
    return name, own, codes
