"""Which prints and scans are made up: inside what the reader says it takes, and outside of it in one way each."""

import numpy as np

from scans import Case

# What docs/scans.md says is read; a case outside of it leaves one of these far behind.
TURN = 180.0
SKEW = 4.5
LIFTED = 0.02  # opposite sides then differ by 4 %
LAMP = 0.10
BLUR = 2.6  # pixels of a scan at 300 to the inch, 0.22 mm


def inside(seed):
    rng = np.random.default_rng(10_000 + seed)
    colour = bool(rng.integers(2))
    kind = ["png", "tif", "jpg"][rng.integers(3)]
    own = Case(
        seed=seed,
        turn=float(rng.choice([0, 90, 180, 270]) + rng.uniform(-8, 8)) if rng.random() < 0.7 else float(rng.uniform(-TURN, TURN)),
        skew=float(rng.uniform(-SKEW, SKEW)) * (rng.random() < 0.4),
        lifted=float(rng.uniform(0, LIFTED)) * (rng.random() < 0.4),
        blur_px=float(rng.uniform(0.4, BLUR)),
        lamp=float(rng.uniform(0, LAMP)) * (rng.random() < 0.5),
        slope=float(rng.uniform(-0.02, 0.02)) * (rng.random() < 0.5),
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
    # Together they put a corner further out of square than either.
    if own.skew:
        own.lifted = 0.0
    return own


# Name, what is done, the codes of a refusal that tell it right.
OUTSIDE = [
    ("a side covered", {"covered": 0.4}, {"scan_few_marks", "scan_no_marks"}),
    ("not sharp", {"blur_px": 14.0}, {"scan_blurred", "scan_code_unreadable", "scan_no_marks", "scan_few_marks"}),
    ("coarse", {"ppi": 60, "blur_px": 0.6}, {"scan_coarse", "scan_blurred"}),
    ("left for right", {"mirrored": True}, {"scan_mirrored"}),
    ("an edge lifted far", {"lifted": 0.09}, {"scan_skewed"}),
    ("out of square", {"skew": 12.0}, {"scan_skewed"}),
    ("too bright", {"level": 2.2}, {"scan_clipped"}),
    ("not the chart of its code", {"shuffled": True}, {"scan_disagrees", "scan_copies_disagree", "scan_order"}),
    ("a print that is all but even", {"white": 33.0}, {"scan_flat", "scan_no_marks", "scan_few_marks"}),
]


def outside(seed):
    name, changes, codes = OUTSIDE[seed // 3 % len(OUTSIDE)]
    own = inside(50_000 + seed)
    for key, value in changes.items():
        setattr(own, key, value)
    if name == "a print that is all but even":
        own.black = 24.0
    return name, own, codes
