"""Prints lightnesses, L*a*b*, colour differences and sRGB as other libraries compute them, for the craft tests to compare with.

colour-science 0.4.7; CIEDE2000 must agree with scikit-image, and the codes of sRGB in L*a*b* are those of lcms through Pillow.

    python3 colours.py > colours.csv
"""

import warnings

warnings.filterwarnings("ignore")  # of drawing, which is not installed

import colour
import numpy as np
from PIL import Image, ImageCms
from skimage.color import deltaE_ciede2000

DICE = np.random.default_rng(20260315)
WHITES = {
    "icc-d50": (0.9642, 1, 0.8249),
    "chromaticity-d50": tuple(colour.xy_to_XYZ((0.3457, 0.3585))),
    "tabulated-d50": (0.96422, 1, 0.82521),
    "chromaticity-d65": tuple(colour.xy_to_XYZ((0.3127, 0.3290))),
}
SOME = [(0.20654008, 0.12197225, 0.05136952), (0.14222010, 0.23042768, 0.10495772), (0.07818780, 0.06157201, 0.28099326),
        (0.5, 0.5, 0.4), (0.01, 0.01, 0.008), (0.3, 0.2, 0.1), (0.0035, 0.0036, 0.0031)]


def row(name, *values):
    print(name, *(own if isinstance(own, str) else f"{own:.12g}" for own in values), sep=",")


# Density; L*.
for density in np.round(np.linspace(-0.2, 4, 85), 3):
    row("lightness", density, colour.colorimetry.lightness_CIE1976(100 * 10.0 ** -density, 100))

# White; X, Y, Z; L*, a*, b*.
for name, white in WHITES.items():
    for xyz in [*SOME, *DICE.uniform(0, 1, (8, 3)).round(4), *DICE.uniform(0, 0.02, (4, 3)).round(5)]:
        row("lab", name, *xyz, *colour.XYZ_to_Lab(xyz, colour.XYZ_to_xy(white)))

# Two colours; their difference of 1976 and of 2000. Near greys, near blues and across the whole hue circle.
for reach in [0.5, 5, 40, 100]:
    for _ in range(25):
        one = DICE.uniform([0, -reach, -reach], [100, reach, reach])
        other = one + DICE.uniform(-1, 1, 3) * [10, reach, reach]
        one, other = one.round(4), np.clip(other, [0, -128, -128], [100, 128, 128]).round(4)
        difference = colour.difference.delta_E_CIE2000(one, other)
        assert abs(difference - deltaE_ciede2000(one, other)) < 1e-9
        row("difference", *one, *other, colour.difference.delta_E_CIE1976(one, other), difference)

# Code of 8 bits; light.
for code in range(256):
    row("light", code, colour.models.eotf_sRGB(code / 255))

# Three codes; L*, a*, b* in 8 bits, L* · 255/100, a* + 128, b* + 128, media-relative.
profiles = ImageCms.createProfile("sRGB"), ImageCms.createProfile("LAB")
turn = ImageCms.buildTransform(*profiles, "RGB", "LAB", renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC)
for codes in [(64, 64, 64), (128, 128, 128), (200, 180, 160), (60, 50, 40), (255, 255, 255), (0, 0, 0), *DICE.integers(0, 256, (20, 3))]:
    pixel = ImageCms.applyTransform(Image.new("RGB", (1, 1), tuple(int(own) for own in codes)), turn).getpixel((0, 0))
    # Pillow hands a* and b* out as signed bytes, turned to unsigned.
    row("icc", *(int(own) for own in codes), *pixel)
