"""What a bodice is drawn around: the points of half a front or back, neck line and armhole. Our own draft."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from toilewright.blocks.draft import Measures, curve, measure, way
from toilewright.errors import GeometryError
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point

NECK_SHARE = 6.0
"""Degrees; at the neck point the front takes so much more than a right angle, the back so much less: sewn, the neck
runs on smoothly, and the front neck is round instead of pointed."""

UNDERARM_SHARE = 3.0
"""Degrees; at the underarm the front takes so much more than a right angle, the back so much less: sewn, the
armhole runs on smoothly, and on paper it lies more level."""


@dataclass(frozen=True, slots=True)
class BodiceEase:
    """Ease of the fitted bodice in mm, whole girth: within 3 to 4 in at the bust, up to 2 in at the waist."""

    bust: float = 95.0
    waist: float = 45.0
    length: float = 5.0
    armhole_depth: float = 16.0
    back_shoulder: float = 8.0


@dataclass(frozen=True, slots=True)
class Half:
    """Points of one half before its edges are drawn (mm)."""

    centre_neck: Point
    neck: Point
    tip: Point
    slope: float
    pitch: Point
    underarm_y: float


def neck_width(body: Measures) -> float:
    """Half the width of the front neck (mm)."""
    return 0.192 * measure(body, "neck base girth") + 1.5


def back_half(body: Measures, ease: BodiceEase) -> Half:
    """The back's points, the waist at height 0 at the centre."""
    nape = complex(0, measure(body, "back neck point to waist") + ease.length)
    neck = complex(neck_width(body) + 2.0, measure(body, "neck shoulder point to waist back") + ease.length)
    slope = measure(body, "shoulder slope") - 2.0
    tip = neck + way(-slope) * (measure(body, "shoulder length") + ease.back_shoulder)
    underarm_y = nape.imag - measure(body, "armscye depth") - ease.armhole_depth
    pitch = complex(measure(body, "across back width") / 2 + 7.0, underarm_y + 0.46 * (tip.imag - underarm_y))
    return Half(nape, neck, tip, slope, pitch, underarm_y)


def front_half(body: Measures, ease: BodiceEase) -> Half:
    """The front's points; its armhole is 20 mm shallower than the back one."""
    front = measure(body, "neck shoulder point to waist")
    neck = complex(neck_width(body), front + ease.length)
    slope = measure(body, "shoulder slope") + 2.0
    tip = neck + way(-slope) * measure(body, "shoulder length")
    back = back_half(body, ease)
    underarm_y = back.underarm_y + (neck.imag - back.neck.imag) + 20.0
    pitch = complex(measure(body, "across front width") / 2 + 4.0, underarm_y + 0.44 * (tip.imag - underarm_y))
    return Half(complex(0, neck.imag - neck.real - 16.0), neck, tip, slope, pitch, underarm_y)


def bust_point_of(body: Measures, half: Half) -> Point:
    """Where the bust point lies on the front.

    Raises:
        GeometryError: the measure does not reach from the neck point to it.
    """
    x = measure(body, "bust point width") / 2
    down = measure(body, "neck shoulder point to bust point")
    if down <= abs(x - half.neck.real):
        raise GeometryError(f'The "neck shoulder point to bust point" of {down:.0f} mm does not reach the bust points, '
                            f"which lie {2 * x:.0f} mm apart; measure both again.")
    return complex(x, half.neck.imag - sqrt(down * down - (x - half.neck.real) ** 2))


def neck_line(half: Half, share: float, first: float, last: float) -> Path:
    """From the neck point to the centre, square to the centre.

    Args:
        share: how much more than a right angle it makes with the shoulder (degrees).
        first, last: handles as shares of the neck's drop and width.
    """
    drop = half.neck.imag - half.centre_neck.imag
    return curve(half.neck, way(270 - half.slope + share), first * drop,
                 half.centre_neck, -1, last * half.neck.real)


def armhole_line(half: Half, underarm: Point, square: Point) -> Path:
    """From the underarm over the pitch point to the shoulder tip, square to the shoulder.

    Args:
        square: direction in which it leaves the underarm.
    """
    across_by, up_by = underarm.real - half.pitch.real, half.pitch.imag - underarm.imag
    rise = half.tip.imag - half.pitch.imag
    lower = curve(underarm, square, 0.54 * across_by, half.pitch, 1j, 0.74 * up_by)
    upper = curve(half.pitch, 1j, 0.38 * rise, half.tip, way(90 - half.slope), 0.26 * rise)
    return Path.joined([lower, upper])
