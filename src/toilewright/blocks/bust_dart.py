"""The bust dart on the front side seam: as wide as the front side seam is too long. Our own draft.

Its upper foot lies just below the bust line, so the dart slopes down to the side. Its axis, from the apex to the middle
of the mouth, runs through the bust point; the apex stops 25 mm short of it (common practice, no published source). The
dart's angle and the lean of the seam above it are found together: closed, the side seam is one straight line of the
back's length, from the side waist to the underarm.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees, radians, sin

from toilewright.blocks.draft import way
from toilewright.errors import GeometryError
from toilewright.geometry.point import Point, cross, rotated, unit

BUST_DART_STOPS = 25.0
"""mm short of the bust point (common practice, no published source)."""

BELOW_BUST_LINE = 18.0
"""mm; the bust dart's upper foot lies so far below the bust line, so that the dart slopes down to the side."""


@dataclass(frozen=True, slots=True)
class FrontSide:
    """Front side seam: from the waist up to the dart's lower foot, its upper foot, the underarm."""

    waist: Point
    lower: Point
    upper: Point
    underarm: Point
    apex: Point

    @property
    def start_way(self) -> Point:
        """Direction from the waist up to the dart."""
        return unit(self.lower - self.waist)

    @property
    def end_way(self) -> Point:
        """Direction from the dart up to the underarm."""
        return unit(self.underarm - self.upper)


def dart_on_side(waist: Point, bust_level: Point, drop: float, bust_point: Point, sewn: float) -> FrontSide:
    """The bust dart that makes the front side seam, straight once the dart is closed, `sewn` mm long.

    Args:
        bust_level: where the seam crosses the bust line.
        drop: height of the underarm over the bust line (mm).

    Raises:
        GeometryError: the front is not longer than the back, or so much longer that no dart can take it up.
    """
    def drawn(down: float, angle: float) -> tuple[Point, FrontSide]:
        underarm = bust_level + way(down) * (drop / sin(radians(down)))
        upper = bust_level + way(down) * BELOW_BUST_LINE
        above = abs(underarm - upper)
        lower = upper
        apex = bust_point
        for _ in range(30):  # the apex lies on the axis, the axis runs through the middle of the mouth
            moved = bust_point + unit((upper + lower) / 2 - bust_point) * BUST_DART_STOPS
            lower = rotated(upper, moved, -angle)
            if abs(moved - apex) < 1e-11:
                break
            apex = moved
        end = lower + way(down) * (sewn - above) * way(-degrees(angle))
        return end, FrontSide(end, lower, upper, underarm, apex)

    down, angle = -90.0, 0.2
    for _ in range(20):  # Newton's rule on the two angles, so that the seam ends on the side waist
        end, side = drawn(down, angle)
        miss = waist - end
        if abs(miss) < 1e-10:
            break
        by_down = (drawn(down + 1e-4, angle)[0] - end) / 1e-4
        by_angle = (drawn(down, angle + 1e-6)[0] - end) / 1e-6
        area = cross(by_down, by_angle)
        down += cross(miss, by_angle) / area
        angle += cross(by_down, miss) / area
    if not (abs(miss) < 1e-6 and 0.02 < angle < 0.8):
        raise GeometryError(
            "No bust dart can make the front side seam as long as the back one; compare the front and back lengths "
            'from the neck point to the waist: the front one is usually 5 to 40 mm longer.')
    return side
