#!/usr/bin/env python3
"""Writes small PNGs and JPEGs of every flavour that is read, and some that are refused, with a general library.

    python3 tests/known/picture_flavours.py FOLDER

The picture is our own. A PNG's name ends in the CRC-32 of its samples, interleaved and low byte first, palettes and few bits as bytes; beside a JPEG
lies what the library decodes it to. A refused one's name ends in the code. Needs Pillow and numpy in the versions of requirements-tiff.txt.
"""

import sys
import zlib
from pathlib import Path

import numpy as np
from PIL import Image, ImageCms

WIDTH, HEIGHT = 51, 43


def picture(samples, most):
    y, x = np.mgrid[0:HEIGHT, 0:WIDTH]
    planes = []
    for sample in range(samples):
        plane = 0.5 + 0.3 * np.sin(x / (5 + sample)) * np.cos(y / 7) + 0.2 * (x - y) / (WIDTH + HEIGHT)
        plane[10:20, 10:30] = 0.8 - 0.25 * sample
        planes.append(plane)
    return np.round(np.stack(planes, axis=-1).clip(0, 1) * most)


def main(folder):
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)

    def png(name, image, pixels, **how):
        crc = f"{zlib.crc32(np.ascontiguousarray(pixels).tobytes()):08x}"
        image.save(folder / f"{name}-{crc}.png", **how)

    grey8, grey16 = picture(1, 255)[..., 0].astype("u1"), picture(1, 65535)[..., 0].astype("<u2")
    rgb, rgba, greya = (picture(count, 255).astype("u1") for count in (3, 4, 2))
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    # The day of making would be another each time, and so would the mark of the profile.
    profile[24:36] = bytes([7, 234, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0])
    profile[84:100] = bytes(16)
    profile = bytes(profile)
    png("grey-8", Image.fromarray(grey8), grey8)
    png("grey-16", Image.fromarray(grey16), grey16)
    png("grey-8-alpha", Image.fromarray(greya, "LA"), greya)
    png("rgb-8", Image.fromarray(rgb), rgb)
    png("rgb-8-profile", Image.fromarray(rgb), rgb, icc_profile=profile)
    png("rgb-8-720-ppi", Image.fromarray(rgb), rgb, dpi=(720, 720))
    png("rgba-8", Image.fromarray(rgba), rgba)
    bits = Image.fromarray(grey8).convert("1")
    png("one-bit", bits, np.array(bits).astype("u1") * 255)
    palette = Image.fromarray(rgb).quantize(16)
    png("palette", palette, np.array(palette.convert("RGB")))

    def jpeg(name, image, **how):
        image.save(folder / f"{name}.jpg", **how)
        decoded = Image.open(folder / f"{name}.jpg")
        decoded.info.clear()
        Image.fromarray(np.array(decoded)).save(folder / f"{name}.decoded.png")

    jpeg("grey", Image.fromarray(grey8), quality=92)
    jpeg("colour-whole", Image.fromarray(rgb), quality=95, subsampling=0)
    jpeg("colour-half", Image.fromarray(rgb), quality=90, subsampling=2)
    jpeg("progressive", Image.fromarray(rgb), quality=90, progressive=True)
    jpeg("profile", Image.fromarray(rgb), quality=90, icc_profile=profile)
    exif = Image.Exif()
    exif[274] = 6
    jpeg("orientation-6", Image.fromarray(grey8), quality=95, exif=exif)
    Image.fromarray(rgba, "CMYK").save(folder / "refused-four-inks-picture_sort.jpg")


if __name__ == "__main__":
    main(sys.argv[1])
