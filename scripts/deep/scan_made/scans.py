"""Made-up prints and scans of a chart, for scripts/deep/scan.

Written apart from the reader and from its own test generator: nothing of the program is used here but the film it makes (a TIFF) and the list of
its patches (JSON). Geometry, resampling and tone are done with numpy and scipy. Everything comes from a seed.

The way of light: film → what is sent (65,535 less the code, left for right) → lightness of the print by a response, an uneven coat, brush marks,
grain and specks → reflectance → where the print lies under the lens, its lamp, its blur and noise → codes through a curve → a file.
"""

import dataclasses
import io

import numpy as np
from PIL import Image, ImageCms
from scipy import ndimage

MM = 25.4
PPI = 300
# The print is drawn this much finer than the scan, so that the scan's own sampling is what blurs.
FINER = 2


@dataclasses.dataclass
class Case:
    """One print and its scan. Angles in degrees, lengths in millimetres, lightness in L*."""

    seed: int
    turn: float = 0.0
    skew: float = 0.0
    lifted: float = 0.0  # the far edge is seen so much smaller, as a part
    blur_px: float = 0.6
    lamp: float = 0.0  # the corners get so much less light, as a part
    slope: float = 0.0  # and from left to right
    noise: float = 0.003  # of full scale
    specks: int = 0  # light ones, on the print
    dust: int = 0  # dark ones, on the glass
    brush: float = 0.0  # L* of streaks
    drift: float = 0.5  # L*, an uneven coat
    curve: str = "srgb"
    colour: bool = False
    bits: int = 8
    kind: str = "png"
    quality: int = 92
    ppi: float = PPI
    mirrored: bool = False
    covered: float = 0.0  # a part of a side that a strip of paper hides
    black: float = 24.0
    white: float = 93.5
    bend: float = 2.2
    tint: float = 1.0
    level: float = 1.0  # more than 1: the scan is too bright and clips
    shuffled: bool = False  # the film is of another chart than its marks and code say


def luminance(lightness):
    """CIE 15: Y of L*, 0..1."""
    f = (np.asarray(lightness) + 16) / 116
    return np.where(np.asarray(lightness) > 8, f**3, np.asarray(lightness) / 903.2962962962963)


def response(case, sent):
    """Lightness a print has where so much was sent; white is just reached before the end."""
    x = np.clip(np.asarray(sent, dtype=float) / 0.95, 0, 1)
    s = 1 / (1 + np.exp(-6.5 * (x**(1 / case.bend * 1.6) - 0.45)))
    low, high = 1 / (1 + np.exp(6.5 * 0.45)), 1 / (1 + np.exp(-6.5 * 0.55))
    return case.black + (case.white - case.black) * (s - low) / (high - low)


def smooth_field(rng, shape, deviation, length_px):
    """Waves of random directions; their sum has the deviation asked for."""
    y, x = np.mgrid[0:shape[0], 0:shape[1]].astype(np.float32)
    out = np.zeros(shape, np.float32)
    for _ in range(8):
        angle, phase = rng.uniform(0, 2 * np.pi, 2)
        wave = 2 * np.pi / (length_px * rng.uniform(2.5, 6))
        out += np.cos(wave * (x * np.cos(angle) + y * np.sin(angle)) + phase)
    return out * (deviation / max(out.std(), 1e-6))


def printed(case, film, film_ppi, rng):
    """The print as lightness at FINER times the scan's resolution, and the same before specks and grain."""
    sent = (1.0 - film.astype(np.float32) / 65535.0)[:, ::-1]
    scale = case.ppi * FINER / film_ppi
    if scale < 1:
        sent = ndimage.gaussian_filter(sent, 0.45 / scale)
    sent = np.clip(ndimage.zoom(sent, scale, order=1, mode="nearest", grid_mode=True), 0, 1)
    # Light creeps a little under the film.
    sent = ndimage.gaussian_filter(sent, 0.04 / MM * case.ppi * FINER)
    light = response(case, sent).astype(np.float32)
    unit = case.ppi * FINER / MM
    # An uneven coat shows where there is an image, and not in bare paper.
    shown = np.clip((case.white - light) / 40, 0, 1)
    light += smooth_field(rng, light.shape, case.drift, 25 * unit) * shown
    if case.brush:
        streak = rng.normal(0, 1, light.shape[0]).astype(np.float32)
        streak = ndimage.gaussian_filter1d(streak, 0.6 * unit)
        streak *= case.brush / max(streak.std(), 1e-6)
        light += streak[:, None] * shown
    clean = light.copy()
    light += ndimage.gaussian_filter(rng.normal(0, 1, light.shape).astype(np.float32), 0.8) * 1.2
    for _ in range(case.specks):
        spot(light, rng, unit, case.white - 2, (0.15, 0.6))
    return light, clean


def spot(light, rng, unit, value, radii):
    cy, cx = rng.uniform(0, light.shape[0]), rng.uniform(0, light.shape[1])
    ry, rx = rng.uniform(*radii, 2) * unit
    y0, y1 = int(max(cy - 3 * ry, 0)), int(min(cy + 3 * ry + 1, light.shape[0]))
    x0, x1 = int(max(cx - 3 * rx, 0)), int(min(cx + 3 * rx + 1, light.shape[1]))
    if y1 <= y0 or x1 <= x0:
        return
    y, x = np.mgrid[y0:y1, x0:x1]
    inside = (((y - cy) / ry)**2 + ((x - cx) / rx)**2) < 1
    light[y0:y1, x0:x1][inside] = value


def pose(case, width, height):
    """From a place on the print (pixels, its middle the origin) to a place under the lens: turn, skew, then what a lifted edge does."""
    turn, skew = np.radians(case.turn), np.tan(np.radians(case.skew))
    linear = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]) @ np.array([[1, skew], [0, 1]])
    if case.mirrored:
        linear = linear @ np.diag([-1, 1])
    matrix = np.eye(3)
    matrix[:2, :2] = linear
    # At the far edge the divisor is 1 + lifted, at the near one 1 - lifted.
    lift = np.eye(3)
    lift[2, 1] = case.lifted / (height / 2)
    return lift @ matrix


def scanned(case, light, rng):
    """Reflectance at each pixel of the scan, and the matrix from print pixels to scan pixels."""
    height, width = light.shape
    matrix = pose(case, width, height)
    corners = np.array([[-width / 2, width / 2, width / 2, -width / 2], [-height / 2, -height / 2, height / 2, height / 2], [1, 1, 1, 1]])
    seen = matrix @ corners
    seen = seen[:2] / seen[2] / FINER
    margin = 8 * case.ppi / MM
    low, high = seen.min(axis=1) - margin, seen.max(axis=1) + margin
    across, down = int(np.ceil(high[0] - low[0])), int(np.ceil(high[1] - low[1]))
    y, x = np.mgrid[0:down, 0:across]
    back = np.linalg.inv(matrix)
    at = np.stack([(x + 0.5 + low[0]) * FINER, (y + 0.5 + low[1]) * FINER, np.ones_like(x, float)])
    u, v, w = np.tensordot(back, at, axes=1)
    u, v = u / w + width / 2 - 0.5, v / w + height / 2 - 0.5
    # The paper beside the coat, and no sheet under the lid beyond it.
    reflect = luminance(light)
    reflect = ndimage.gaussian_filter(reflect, FINER * max(case.blur_px, 0.35))
    seen = ndimage.map_coordinates(reflect, [v, u], order=1, mode="constant", cval=float(luminance(96.5)))
    r2 = ((x / across - 0.5)**2 + (y / down - 0.5)**2) / 0.5
    lamp = (1 - case.lamp * r2) * (1 + case.slope * (x / across - 0.5))
    # The scanner is set by its brightest place.
    seen = seen * lamp / lamp.max()
    if case.covered:
        seen[:, : int(case.covered * across)] = float(luminance(97))
    return seen


def encoded(curve, value):
    value = np.clip(value, 0, 1)
    if curve == "srgb":
        return np.where(value <= 0.0031308, 12.92 * value, 1.055 * np.maximum(value, 1e-9)**(1 / 2.4) - 0.055)
    return value**(1 / float(curve))


def written(case, reflect, rng):
    """The bytes of the file."""
    value = reflect * case.level + rng.normal(0, case.noise, reflect.shape)
    planes = [value]
    if case.colour:
        # A warm black: red a little lighter, blue a little darker, luminance unchanged to the first order.
        warm = case.tint * 0.04 * (1 - value) * value
        planes = [value + warm, value - 0.18 * warm, value - 1.2 * warm]
    planes = [encoded(case.curve, own) for own in planes]
    for _ in range(case.dust):
        # The same hair or grain on every plane.
        state = rng.integers(1 << 31)
        for own in planes:
            spot(own, np.random.default_rng(state), case.ppi / MM, 0.1, (0.05, 0.25))
    most = 255 if case.bits == 8 else 65535
    codes = np.stack([np.round(np.clip(own, 0, 1) * most) for own in planes], axis=-1).astype(np.uint8 if case.bits == 8 else np.uint16)
    out = io.BytesIO()
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes() if case.curve == "srgb" and case.colour else None
    if case.kind == "tif":
        import tifffile

        tags = [(34675, "B", len(profile), profile, True)] if profile else []
        tifffile.imwrite(out, codes if case.colour else codes[..., 0], photometric="rgb" if case.colour else "minisblack",
                         resolution=(case.ppi, case.ppi), resolutionunit="INCH", extratags=tags)
    else:
        image = Image.fromarray(codes if case.colour else codes[..., 0])
        options = {"quality": case.quality, "subsampling": 0} if case.kind == "jpg" else {}
        if profile:
            options["icc_profile"] = profile
        image.save(out, {"jpg": "JPEG", "png": "PNG"}[case.kind], dpi=(case.ppi, case.ppi), **options)
    return out.getvalue()


def made(case, film, film_ppi, patches, patch_mm):
    """The file of a scan and what each patch truly is: {patch: L*}. Patches have x_mm and y_mm, their middles on the print."""
    rng = np.random.default_rng(case.seed)
    light, clean = printed(case, film, film_ppi, rng)
    unit = case.ppi * FINER / MM
    # The whole of what the reader says it measures: under a streak another part of a patch is another tone.
    half = 0.5 * patch_mm * unit
    truth = {}
    for own in patches:
        x, y = own["x_mm"] * unit, own["y_mm"] * unit
        # The mean of what lies within, as reflectance: that is what any meter sees.
        part = luminance(clean[int(y - half):int(y + half) + 1, int(x - half):int(x + half) + 1]).mean()
        truth[str(own["patch"])] = float(116 * np.cbrt(part) - 16)
    reflect = scanned(case, light, rng)
    return written(case, reflect, rng), truth
