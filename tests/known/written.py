#!/usr/bin/env python3
"""What the strip pipeline writes, read by general libraries and held against them.

    python3 tests/known/written.py PROGRAM

PROGRAM is the example `strips` of `crates/pixels`. Pixels of every kind of file are compared bit for bit with numpy's own doing; sizes with
Pillow's filters in floating point (mode F), which knows nothing of ours; the embedded resolution is read back. Needs the versions of
requirements-tiff.txt.
"""

import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import tifffile
from PIL import Image

WIDTH, HEIGHT = 331, 257


def source():
    dice = np.random.default_rng(7)
    y, x = np.mgrid[0:HEIGHT, 0:WIDTH]
    picture = 32768 + 20000 * np.sin(x / 17) * np.cos(y / 23) + dice.normal(0, 3000, (HEIGHT, WIDTH))
    picture[40:80, 40:120] = 65535
    picture[120:180, 200:260] = 0
    return picture.clip(0, 65535).astype(np.uint16)


def read(file):
    if file.suffix == ".png":
        return np.array(Image.open(file)).astype(np.uint16)
    return tifffile.imread(file)


def main(program):
    checks = 0
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        picture = source()
        own = folder / "in.tif"
        tifffile.imwrite(own, picture, photometric="minisblack")
        code = np.arange(65536, dtype=np.uint64)
        curve = (65535 - (code * code // 65535 // 2 + code // 2)).astype(np.uint16)

        def made(name, *settings):
            out = folder / name
            subprocess.run([program, "make", own, out, *settings], check=True, stdout=subprocess.DEVNULL)
            return out

        for packing in ("none", "deflate", "lzw", "png"):
            out = made(f"{packing}.{'png' if packing == 'png' else 'tif'}", f"packing={packing}")
            assert np.array_equal(read(out), curve[picture][:, ::-1]), packing
            dpi = Image.open(out).info["dpi"]
            assert abs(dpi[0] - 720) < 0.02 and abs(dpi[1] - 720) < 0.02, (packing, dpi)
            # Pillow decodes with other code than tifffile does.
            assert np.array_equal(np.array(Image.open(out)).astype(np.uint16), read(out)), packing
            checks += 3
        for turns in range(4):
            out = made(f"turn{turns}.tif", f"turn={turns}", "curve=none", "invert=no", "mirror=no")
            assert np.array_equal(read(out), np.rot90(picture, -turns)), turns
            checks += 1

        floats = Image.fromarray(picture.astype(np.float32), mode="F")
        filters = {"lanczos3": Image.Resampling.LANCZOS, "cubic": Image.Resampling.BICUBIC, "linear": Image.Resampling.BILINEAR}
        worst = {}
        for name, filter in filters.items():
            for scale in (1.7, 2.0, 0.5, 0.31):
                size = (int(WIDTH * scale + 0.5), int(HEIGHT * scale + 0.5))
                out = read(made(f"{name}{scale}.tif", f"filter={name}", f"scale={scale}", "curve=none", "invert=no", "mirror=no"))
                theirs = np.array(floats.resize(size, filter)).clip(0, 65535)
                assert out.shape == theirs.shape, (name, scale, out.shape, theirs.shape)
                worst[name] = max(worst.get(name, 0), float(np.abs(out - theirs).max()))
                checks += 1
        assert max(worst.values()) <= 1.0, worst
    furthest = ", ".join(f"{name} {value:.2f}" for name, value in worst.items())
    print(f"{checks} checks; furthest from Pillow's filters, in codes of 65,535: {furthest}")


if __name__ == "__main__":
    main(sys.argv[1])
