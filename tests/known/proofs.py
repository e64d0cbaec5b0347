"""Prints what tones of a print come to on a screen, for the proof in the craft tests to be compared with.

colour-science 0.4.7: L*a*b* to X, Y, Z by CIE 15:2018, 8.2.1, beside the D50 of ICC profiles; to D65 by the matrix of Bradford; to linear light and the codes of
IEC 61966-2-1:1999, cut at the ends of what a screen shows.

    python3 proofs.py > proofs.csv
"""

import warnings

warnings.filterwarnings("ignore")  # of drawing, which is not installed

import colour
import numpy as np

D50 = np.array([0.9642, 1, 0.8249])
D65 = colour.xy_to_XYZ((0.3127, 0.3290))


def codes(lab):
    xyz = colour.Lab_to_XYZ(lab, colour.XYZ_to_xy(D50))
    xyz = xyz @ colour.adaptation.matrix_chromatic_adaptation_VonKries(D50, D65, transform="Bradford").T
    light = xyz @ colour.RGB_COLOURSPACES["sRGB"].matrix_XYZ_to_RGB.T
    return 255 * colour.models.eotf_inverse_sRGB(np.clip(light, 0, 1))


# L*, a*, b*; three codes of 255, not rounded. Neutral, cool and warm prints from black to paper.
for tint in [(0, 0), (1.5, 6), (-0.8, -2.5), (3.2, 11.4)]:
    for l_star in np.linspace(0, 100, 41):
        print(*(f"{own:.12g}" for own in (l_star, *tint, *codes(np.array([l_star, *tint])))), sep=",")
