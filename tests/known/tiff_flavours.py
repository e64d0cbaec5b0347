#!/usr/bin/env python3
"""Writes small TIFFs of every flavour that is read, and some that are refused, with a general library.

    python3 tests/known/tiff_flavours.py FOLDER

The picture is our own: a ramp with a few squares and seeded noise. A name ends in the CRC-32 of its samples, interleaved and low byte first,
or in the code of the refusal. Needs tifffile, imagecodecs and numpy in the versions of requirements-tiff.txt.
"""

import itertools
import sys
import zlib
from pathlib import Path

import numpy as np
import tifffile

WIDTH, HEIGHT = 37, 29


def picture(samples, kind):
    dice = np.random.default_rng(20260314)
    y, x = np.mgrid[0:HEIGHT, 0:WIDTH]
    planes = []
    for sample in range(samples):
        plane = (x * (sample + 2) + y * 3) / (WIDTH * (samples + 1) + HEIGHT * 3)
        plane[5:12, 4:20] = 0.9 - 0.2 * sample
        plane[20:26, 10:30] = 0.0
        planes.append(plane)
    out = np.stack(planes, axis=-1) + dice.uniform(-0.02, 0.02, (HEIGHT, WIDTH, samples))
    out = out.clip(0, 1)
    if kind.kind == "f":
        return out.astype(kind)
    return np.round(out * np.iinfo(kind).max).astype(kind)


def crc(pixels):
    return f"{zlib.crc32(pixels.astype(pixels.dtype.newbyteorder('<')).tobytes()):08x}"


def write(folder, name, pixels, **how):
    file = Path(folder, f"{name}-{crc(pixels)}.tif")
    stored = pixels[..., 0] if pixels.shape[-1] == 1 else pixels
    if how.get("planarconfig") == "separate":
        stored = np.moveaxis(stored, -1, 0)
    tifffile.imwrite(file, np.ascontiguousarray(stored), metadata=None, software=None, **how)


def refused(folder, name, code, stored, **how):
    tifffile.imwrite(Path(folder, f"refused-{name}-{code}.tif"), stored, metadata=None, software=None, **how)


def main(folder):
    Path(folder).mkdir(parents=True, exist_ok=True)
    packings = {"plain": {}, "lzw": {"compression": "lzw"}, "deflate": {"compression": "zlib"}, "packbits": {"compression": "packbits"}}
    for (packing, how), order in itertools.product(packings.items(), "<>"):
        for bits in ("u1", "u2"):
            grey = picture(1, np.dtype(bits))
            ends = "little" if order == "<" else "big"
            common = {"photometric": "minisblack", "byteorder": order, **how}
            write(folder, f"grey-{bits}-{packing}-{ends}-strips", grey, rowsperstrip=8, **common)
            if order == "<" or packing == "deflate":
                write(folder, f"grey-{bits}-{packing}-{ends}-tiles", grey, tile=(16, 32), **common)
            if packing in ("lzw", "deflate"):
                write(folder, f"grey-{bits}-{packing}-{ends}-predictor", grey, rowsperstrip=8, predictor=True, **common)
    for packing in ("plain", "deflate"):
        how = packings[packing]
        for bits in ("u1", "u2"):
            rgb = picture(3, np.dtype(bits))
            write(folder, f"rgb-{bits}-{packing}", rgb, photometric="rgb", rowsperstrip=7, **how)
            write(folder, f"rgb-{bits}-{packing}-planes", rgb, photometric="rgb", planarconfig="separate", rowsperstrip=7, **how)
            write(folder, f"rgb-{bits}-{packing}-planes-tiles", rgb, photometric="rgb", planarconfig="separate", tile=(16, 16), **how)
        write(folder, f"rgb-u2-{packing}-big-tiles", picture(3, np.dtype("u2")), photometric="rgb", byteorder=">", tile=(16, 16), **how)
    write(folder, "rgb-u2-deflate-predictor", picture(3, np.dtype("u2")), photometric="rgb", compression="zlib", predictor=True)
    write(folder, "rgb-u1-lzw-predictor-tiles", picture(3, np.dtype("u1")), photometric="rgb", compression="lzw", predictor=True, tile=(16, 16))
    for bits, order in itertools.product(("f2", "f4", "f8"), "<>"):
        grey = picture(1, np.dtype(bits))
        ends = "little" if order == "<" else "big"
        write(folder, f"grey-{bits}-plain-{ends}", grey, photometric="minisblack", byteorder=order)
        write(folder, f"grey-{bits}-deflate-{ends}-predictor", grey, photometric="minisblack", byteorder=order, compression="zlib", predictor=True)
    for kind in ("unassalpha", "assocalpha", "unspecified"):
        for packing in ("plain", "lzw"):
            write(folder, f"rgba-u1-{packing}-{kind}", picture(4, np.dtype("u1")), photometric="rgb", extrasamples=[kind], **packings[packing])
            write(folder, f"greya-u2-{packing}-{kind}", picture(2, np.dtype("u2")), photometric="minisblack", planarconfig="contig", extrasamples=[kind], **packings[packing])
    for order in "<>":
        ends = "little" if order == "<" else "big"
        write(folder, f"grey-u2-bigtiff-{ends}", picture(1, np.dtype("u2")), photometric="minisblack", bigtiff=True, byteorder=order)
        write(folder, f"grey-u2-bigtiff-{ends}-deflate-tiles", picture(1, np.dtype("u2")), photometric="minisblack", bigtiff=True, byteorder=order, compression="zlib", tile=(16, 16))
    write(folder, "grey-u2-white-is-zero", picture(1, np.dtype("u2")), photometric="miniswhite")
    grey = picture(1, np.dtype("u2"))
    for orientation in range(2, 9):
        write(folder, f"grey-u2-orientation-{orientation}", grey, photometric="minisblack", extratags=[(274, 3, 1, orientation, True)])

    plain = picture(1, np.dtype("u1"))[..., 0]
    refused(folder, "jpeg-inside", "picture_sort", plain, photometric="minisblack", compression="jpeg")
    refused(folder, "zstandard", "picture_sort", plain, photometric="minisblack", compression="zstd")
    refused(folder, "lzma", "picture_sort", plain, photometric="minisblack", compression="lzma")
    refused(folder, "palette", "picture_sort", plain, photometric="palette", colormap=np.zeros((3, 256), "u2"))
    refused(folder, "four-inks", "picture_sort", picture(4, np.dtype("u1")), photometric="separated")
    refused(folder, "32-bit-whole", "picture_sort", picture(1, np.dtype("u4"))[..., 0], photometric="minisblack")
    refused(folder, "signed", "picture_sort", picture(1, np.dtype("i2"))[..., 0], photometric="minisblack")
    refused(folder, "one-bit", "picture_sort", plain > 128, photometric="minisblack")
    refused(folder, "complex", "picture_sort", picture(1, np.dtype("f4"))[..., 0].astype("c8"), photometric="minisblack")


if __name__ == "__main__":
    main(sys.argv[1])
