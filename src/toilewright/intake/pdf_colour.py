"""Colours of PDF as red, green and blue: close enough to tell sizes apart, not to print by."""

from __future__ import annotations

import colorsys
import zlib
from collections.abc import Sequence

import pikepdf

Colour = tuple[float, float, float]
BLACK: Colour = (0.0, 0.0, 0.0)

_SPACES = {"/DeviceGray": 1, "/G": 1, "/CalGray": 1, "/DeviceRGB": 3, "/RGB": 3, "/CalRGB": 3, "/DeviceCMYK": 4,
           "/CMYK": 4}


def from_numbers(values: Sequence[float]) -> Colour:
    """Gray, red-green-blue or cyan-magenta-yellow-black, told apart by how many numbers there are."""
    v = [min(max(x, 0.0), 1.0) for x in values]
    if len(v) == 1:
        return (v[0], v[0], v[0])
    if len(v) == 3:
        return (round(v[0], 4), round(v[1], 4), round(v[2], 4))
    if len(v) == 4:
        return tuple(round((1 - x) * (1 - v[3]), 4) for x in v[:3])
    return BLACK


def in_space(space: object, values: Sequence[float]) -> Colour:
    """A colour of a colour space (a name, or an array as in a resource dictionary)."""
    try:
        return _in_space(space, values, 0)
    except (pikepdf.PdfError, KeyError, IndexError, TypeError, ValueError, AttributeError):
        return from_numbers(values)


def _in_space(space: object, values: Sequence[float], depth: int) -> Colour:
    if isinstance(space, pikepdf.Array) and len(space) and depth < 4:
        kind = str(space[0])
        if kind == "/Lab":
            return from_numbers([values[0] / 100])
        if kind in ("/Separation", "/DeviceN"):
            return _ink(space, values, depth)
        if kind == "/Indexed":
            return _shade(f"{space[2]!s} {values[0]}", 1.0)
        if kind == "/Pattern":
            return BLACK
    return from_numbers(values) if values else BLACK


def _ink(space: pikepdf.Array, values: Sequence[float], depth: int) -> Colour:
    """A spot ink: through its tint function where that is simple, else a colour made up from its name."""
    tint, function = values[0], space[3]
    kind = int(function.get("/FunctionType", -1))
    if kind == 2:
        low = [float(x) for x in function.get("/C0", [0.0])]
        high = [float(x) for x in function.get("/C1", [1.0])]
        share = tint ** float(function.get("/N", 1))
        return _in_space(space[2], [a + share * (b - a) for a, b in zip(low, high, strict=False)], depth + 1)
    if kind == 0 and len(values) == 1 and int(function["/BitsPerSample"]) == 8:
        ranges = [float(x) for x in function["/Range"]]
        n, size = len(ranges) // 2, int(function["/Size"][0])
        at = round(tint * (size - 1)) * n
        sample = function.read_bytes()[at:at + n]
        return _in_space(space[2], [lo + b / 255 * (hi - lo) for b, lo, hi in
                                    zip(sample, ranges[::2], ranges[1::2], strict=True)], depth + 1)
    if str(space[1]) in ("/Black", "/All"):
        return from_numbers([1 - tint])
    return _shade(str(space[1]), tint)


def _shade(name: str, tint: float) -> Colour:
    """A strong colour that is always the same for a name."""
    hue = zlib.crc32(name.encode()) % 360 / 360
    red, green, blue = colorsys.hsv_to_rgb(hue, max(tint, 0.0), 0.8)
    return (round(red, 3), round(green, 3), round(blue, 3))
