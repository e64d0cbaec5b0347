#!/usr/bin/env python3
"""Holds the ICC files of a curve and a proof against Little CMS: the device link against the monotone cubic of scipy through the exported table, the
profile of the print against the response, a proof against what L*a*b* comes to in sRGB there.

    python3 outside.py HANDCOAT

Little CMS is the one Pillow brings along, asked directly, for samples of 16 bits and numbers in floating point.
"""

import ctypes
import json
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import PIL
from PIL import Image, ImageCms
from scipy.interpolate import PchipInterpolator

GREY, RGB, LAB = 3, 4, 10
RELATIVE, ABSOLUTE, UNJOINED = 1, 3, 0x100
TINT = (1.5, 6.0)
# Codes of 65,535 and of 255; L*; codes of 255.
LINK_16, LINK_8, PROFILE, PROOF = 2, 1, 0.01, 1


def form(space, size):
    """A pixel type: 0 is a double."""
    return (0 if size else 1) << 22 | space << 16 | (1 if space == GREY else 3) << 3 | size


class Cms:
    def __init__(self):
        # Its symbols are found through the module that is linked with it, wherever the wheel put it.
        folder = Path(PIL.__file__).resolve().parents[1]
        library = next(folder.glob("pillow.libs/liblcms2*"))
        self.own = ctypes.CDLL(str(library))
        for name in ("cmsOpenProfileFromMem", "cmsCreateLab4Profile", "cmsCreate_sRGBProfile", "cmsCreateTransform"):
            getattr(self.own, name).restype = ctypes.c_void_p

    def opened(self, path):
        data = path.read_bytes()
        own = self.own.cmsOpenProfileFromMem(data, len(data))
        assert own, f"{path.name} is not opened"
        return ctypes.c_void_p(own)

    def run(self, into, out, samples, kinds, intent, flags):
        samples = np.ascontiguousarray(samples)
        (space_in, size_in), (space_out, size_out) = kinds
        made = self.own.cmsCreateTransform(into, form(space_in, size_in), out, form(space_out, size_out), intent, flags)
        assert made, "there is no transform"
        count = samples.size // (1 if space_in == GREY else 3)
        kind = {0: "f8", 1: "u1", 2: "u2"}[size_out]
        result = np.zeros((count, 1 if space_out == GREY else 3), kind)
        at = lambda own: own.ctypes.data_as(ctypes.c_void_p)
        self.own.cmsDoTransform(ctypes.c_void_p(made), at(samples), at(result), ctypes.c_uint32(count))
        return result


def links(cms, run, at):
    """The device link of each target: as it is, and by its curve of 16 bits alone, as programs have it that do not know the other. That one Little CMS joins with the
    places of its own table rounded to 16 bits first, so that half a code of input may pass."""
    found = {(kind, size, flags): 0.0 for kind in ("both", "16 bits alone") for size in (2, 1) for flags in (UNJOINED, 0)}
    for target in ("lightness", "density", "soft-whites", "soft-blacks"):
        fit, csv, icc = (str(at(f"{target}.{end}")) for end in ("json", "csv", "icc"))
        Path(fit).write_text(run("fit", str(at("chart.csv")), "--target", target, "--json"))
        run("curve", fit, "--csv", csv, "--device-link", icc)
        curve, whole = PchipInterpolator(*np.loadtxt(csv, delimiter=",", skiprows=1).T), Path(icc).read_bytes()
        assert whole.count(b"D2B0") == 1
        at("alone.icc").write_bytes(whole.replace(b"D2B0", b"none"))
        opened = {"both": cms.opened(Path(icc)), "16 bits alone": cms.opened(at("alone.icc"))}
        for (kind, size, flags), before in found.items():
            link = opened[kind]
            most = {1: 255, 2: 65535}[size]
            own = np.arange(most + 1, dtype=f"u{size}")
            got = cms.run(link, None, own, ((GREY, size), (GREY, size)), RELATIVE, flags)[:, 0].astype(float)
            slack = 0 if flags or size == 1 or kind == "both" else 0.5 / most
            low, high = (curve(np.clip(own / most + by, 0, 1)) * most for by in (-slack, slack))
            off = np.maximum(np.maximum(low - got, got - high), 0).max()
            assert off <= (LINK_16 if size == 2 else LINK_8), f"the device link for {target} is {off:.2f} of {most} codes off"
            found[kind, size, flags] = max(before, np.abs(got - curve(own / most) * most).max())
    for (kind, size, flags), off in found.items():
        print(f"device link, {kind}, samples of {8 * size} bits, {'each curve by itself' if flags else 'joined'}: off by at most {off:.2f} codes")


def main(handcoat):
    run = lambda *words: subprocess.run([handcoat, "tone", *words], check=True, capture_output=True, text=True).stdout
    cms, codes = Cms(), np.arange(65536, dtype="u2")
    with tempfile.TemporaryDirectory() as folder:
        at = lambda name: Path(folder, name)
        at("fit.json").write_text(run("fit", str(at("chart.csv")), "--sample", "--json"))
        run("curve", str(at("fit.json")), "--csv", str(at("curve.csv")), "--device-link", str(at("link.icc")), "--profile", str(at("print.icc")))
        tones, sent = np.loadtxt(at("curve.csv"), delimiter=",", skiprows=1).T
        curve = PchipInterpolator(tones, sent)

        links(cms, run, at)
        fit = json.loads(at("fit.json").read_text())
        inputs, light = np.array([(own["input"], own["l_star"]) for own in fit["response"]]).T
        printed = np.interp(codes / 65535, inputs, light)
        print_of, lab = cms.opened(at("print.icc")), ctypes.c_void_p(cms.own.cmsCreateLab4Profile(None))
        got = cms.run(print_of, lab, codes / 65535 * 1.0, ((GREY, 0), (LAB, 0)), ABSOLUTE, UNJOINED)
        off, tint = np.abs(got[:, 0] - printed).max(), np.abs(got[:, 1:]).max()
        assert off <= PROFILE and tint <= 0.02, f"the profile is {off:.4f} L* off, {tint:.4f} from neutral"
        white = cms.run(print_of, lab, np.array([1.0]), ((GREY, 0), (LAB, 0)), RELATIVE, UNJOINED)[0]
        assert np.abs(white - [100, 0, 0]).max() <= 0.01, f"its white is {white}"
        print(f"profile of the print: off by at most {off:.4f} L*, {tint:.4f} from neutral")

        # Every level of 16 bits as a picture of 256 pixels by 256: nothing is resampled.
        Image.fromarray(codes.reshape(256, 256)).save(at("levels.png"))
        words = ["proof", str(at("levels.png")), "-o", str(at("proof.png")), "--of", str(at("fit.json")), "--pixels", "256"]
        run(*words, "--tint", ",".join(map(str, TINT)))
        shown = Image.open(at("proof.png"))
        assert shown.mode == "RGB" and "srgb" in shown.info, f"the proof is {shown.mode} with {sorted(shown.info)}"
        wanted = np.interp(curve(codes / 65535), inputs, light)
        colour = np.stack([wanted, np.full_like(wanted, TINT[0]), np.full_like(wanted, TINT[1])], axis=-1)
        srgb = ctypes.c_void_p(cms.own.cmsCreate_sRGBProfile())
        got = cms.run(lab, srgb, colour, ((LAB, 0), (RGB, 1)), RELATIVE, UNJOINED).astype(int)
        off = np.abs(got - np.asarray(shown).reshape(-1, 3).astype(int))
        assert off.max() <= PROOF, f"the proof is {off.max()} codes off"
        print(f"proof: off by at most {off.max()} of 255 codes, {100 * (off > 0).mean():.2f} % of samples by one")

        # And the general door of Pillow opens both.
        for name, kind in (("link.icc", "link"), ("print.icc", "prtr")):
            own = ImageCms.getOpenProfile(str(at(name))).profile
            assert (own.device_class.strip(), own.xcolor_space.strip()) == (kind, "GRAY"), name


if __name__ == "__main__":
    main(*sys.argv[1:])
