"""Plane geometry: lines and cubic Bezier curves, paths, offsets, fairing, meeting points.

Millimetres and radians, y up. A point is a ``complex`` (x + iy): adding, turning and measuring
points is then arithmetic that the interpreter does in one step, which is what keeps a whole
dress inside one screen frame.
"""

from toilewright.geometry.affine import Affine
from toilewright.geometry.curve import Cubic, Line
from toilewright.geometry.fairing import curve_through, ease_corner, fit_cubics, hermite
from toilewright.geometry.meeting import meetings, ray_meeting
from toilewright.geometry.offset import offset_path, offset_ring
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, cross, dot, reflected, rotated, turn, unit

__all__ = [
    "Affine", "Cubic", "Line", "Path", "Point", "cross", "curve_through", "dot", "ease_corner",
    "fit_cubics", "hermite", "meetings", "offset_path", "offset_ring", "ray_meeting", "reflected",
    "rotated", "turn", "unit",
]
