"""What is to be packed, and what a packing is: values only, in mm and degrees, x along the strip, y across it."""

from __future__ import annotations

import cmath
from collections.abc import Callable
from dataclasses import dataclass
from math import radians

from toilewright.errors import InputError
from toilewright.geometry.point import Point

Outline = tuple[Point, ...]
"""Corners of a simple polygon, counter-clockwise, the first one not repeated (mm)."""

Tell = Callable[[float, float], None]
"""Told, while a search goes on, the length of the best packing so far (mm) and the seconds gone."""

Stop = Callable[[], bool]
"""Asked often by a search: shall it end?"""


@dataclass(frozen=True, slots=True)
class Pose:
    """How an outline may lie: first mirrored in the x axis (y -> -y) or not, then turned about its origin.

    >>> Pose(180.0, mirrored=True).of(3 + 1j)
    (-3+1j)
    """

    turn: float = 0.0
    mirrored: bool = False

    def of(self, p: Point) -> Point:
        """Where a point of the outline comes to lie, before it is shifted."""
        q = p.conjugate() if self.mirrored else p
        if self.turn % 90.0 == 0.0:  # right angles stay exact: fold edges must lie on the fold
            return q * (1, 1j, -1, -1j)[int(self.turn // 90.0) % 4]
        return q * cmath.rect(1.0, radians(self.turn))


@dataclass(frozen=True, slots=True)
class Beat:
    """A point of an outline that must lie on a line of a repeat: its coordinate is `phase` more than a multiple of
    `pitch` (mm), in every pose."""

    point: Point
    phase: float
    pitch: float


@dataclass(frozen=True, slots=True)
class Item:
    """One outline, so many times.

    Attributes:
        key: its name, unique in a problem.
        poses: the ways in which it may lie; at least one.
        band: least and greatest y that it may take up; None for the whole strip.
        origin_y: y at which its origin must lie, as for a fold edge on the fold; None where it is free.
        beat_x, beat_y: repeats that it must meet along and across the strip.
    """

    key: str
    outline: Outline
    count: int = 1
    poses: tuple[Pose, ...] = (Pose(),)
    band: tuple[float, float] | None = None
    origin_y: float | None = None
    beat_x: Beat | None = None
    beat_y: Beat | None = None

    def __post_init__(self) -> None:
        if len(self.outline) < 3 or self.count < 1 or not self.poses:
            raise InputError(f'"{self.key}" cannot be packed: it needs an outline, a count and a way to lie.')


@dataclass(frozen=True, slots=True)
class Problem:
    """A strip and what must lie on it.

    Attributes:
        height: of the strip, y from 0 to here.
        items: what must lie on it, all of it.
        forbidden: outlines that nothing may overlap, such as flaws, or what a remnant lacks of its rectangle.
        longest: the strip ends here; None where there is as much as is needed.
        gap: least distance between two items, and between an item and what is forbidden.
    """

    height: float
    items: tuple[Item, ...]
    forbidden: tuple[Outline, ...] = ()
    longest: float | None = None
    gap: float = 0.0


@dataclass(frozen=True, slots=True)
class Placed:
    """One copy of an item on the strip.

    Attributes:
        item: index into the problem's items.
        copy: 0 for its first copy.
        at: where the origin of the outline lies.
    """

    item: int
    copy: int
    pose: Pose
    at: Point

    def outline(self, problem: Problem) -> Outline:
        """Its corners on the strip, counter-clockwise (mm)."""
        points = tuple(self.pose.of(p) + self.at for p in problem.items[self.item].outline)
        return points[::-1] if self.pose.mirrored else points


@dataclass(frozen=True, slots=True)
class Packing:
    """Everything placed.

    Attributes:
        length: of strip that is taken up, from 0 to the rightmost point (mm).
        how: which search found it, for the record.
        seed: of that search.
        repeatable: would the same seed give the same packing again? False where the clock ended the search.
    """

    length: float
    placed: tuple[Placed, ...]
    how: str = ""
    seed: int = 0
    repeatable: bool = True
