"""Prints the lightness, as a code of 16 bits, of colours in PNGs that say what they mean without a profile, as another library computes it, for the
pixel tests to compare with.

colour-science 0.4.7: its decoding of sRGB, a plain power, its matrices from chromaticities, its linear Bradford transform to the white of ICC profiles,
its L*. The sRGB rows must agree with lcms through Pillow to half an L*, which is as fine as its 8 bits are.

    python3 png_colours.py > png_colours.csv
"""

import warnings

warnings.filterwarnings("ignore")  # of drawing, which is not installed

import colour
import numpy as np
from PIL import Image, ImageCms

DICE = np.random.default_rng(20260402)
D50 = np.array([0.9642, 1, 0.8249])
# White, red, green, blue: those of ITU-R BT.709, of ITU-R BT.2020, and a set of our own under another white.
SETS = {
    "709": [(0.3127, 0.3290), (0.64, 0.33), (0.30, 0.60), (0.15, 0.06)],
    "2020": [(0.3127, 0.3290), (0.708, 0.292), (0.170, 0.797), (0.131, 0.046)],
    "own": [(0.345, 0.358), (0.70, 0.28), (0.25, 0.68), (0.12, 0.08)],
}
GAMMAS = [45455, 55556, 100000]


def parts(chromaticities):
    white, *primaries = chromaticities
    matrix = colour.normalised_primary_matrix(np.array(primaries), np.array(white))
    adapt = colour.adaptation.matrix_chromatic_adaptation_VonKries(colour.xy_to_XYZ(np.array(white)), D50, transform="Bradford")
    return (adapt @ matrix)[1]


def light(y):
    return float(colour.lightness(100 * max(y, 0), method="CIE 1976")) / 100


def main():
    colours = [(0, 0, 0), (65535, 65535, 65535), (65535, 0, 0), (0, 65535, 0), (0, 0, 65535), (32768, 32768, 32768), (1000, 500, 2000)]
    colours += [tuple(int(own) for own in DICE.integers(0, 65536, 3)) for _ in range(25)]
    image = Image.new("RGB", (len(colours), 1))
    image.putdata([tuple(round(own / 257) for own in rgb) for rgb in colours])
    lab = ImageCms.buildTransform(ImageCms.createProfile("sRGB"), ImageCms.createProfile("LAB"), "RGB", "LAB", renderingIntent=1)
    lcms = [own[0] / 2.55 for own in ImageCms.applyTransform(image, lab).get_flattened_data()]
    y = parts(SETS["709"])
    for (r, g, b), theirs in zip(colours, lcms):
        own = light(y @ colour.models.eotf_sRGB(np.array([r, g, b]) / 65535))
        assert abs(100 * own - theirs) < 0.5, (r, g, b, own, theirs)
        print("srgb", "", "", r, g, b, f"{own * 65535:.2f}", sep=",")
    for gamma in GAMMAS:
        for name, chromaticities in SETS.items():
            y = parts(chromaticities)
            for r, g, b in colours:
                own = light(y @ (np.array([r, g, b]) / 65535) ** (100000 / gamma))
                said = " ".join(str(round(100000 * own)) for xy in chromaticities for own in xy)
                print("gamma", gamma, said, r, g, b, f"{own * 65535:.2f}", sep=",")


main()
