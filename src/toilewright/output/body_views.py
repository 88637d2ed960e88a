"""The body on which the tape is shown: one woman in four views, drawn as smooth lines."""

from __future__ import annotations

import tomllib
from cmath import rect
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import radians
from pathlib import Path as File
from typing import Any

from toilewright.draw.figure import Figure, Mark, Pen
from toilewright.geometry.fairing import curve_through
from toilewright.geometry.meeting import line_meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot

_FAR = 4000.0
"""mm; longer than any body."""

VIEWS = ("front", "back", "side", "arm", "shoulder", "seated")


@dataclass(frozen=True)
class BodyView:
    """One view.

    Attributes:
        outline: closed, mm over the floor; in front and back views x = 0 is the middle.
        figure: everything that is drawn of her.
        places: what dressmakers find on a body, by name.
    """

    name: str
    outline: Path
    figure: Figure
    places: Mapping[str, Point]

    def across(self, at: Point, tilt: float = 0.0) -> tuple[Point, Point]:
        """Where a straight line through a point inside meets the outline next, left and right.

        Args:
            tilt: degrees, counter-clockwise from the level.
        """
        along = rect(1.0, radians(tilt))
        met = [dot(m.point - at, along) for m in line_meetings(self.outline, at - _FAR * along, at + _FAR * along)]
        return at + along * max(s for s in met if s < 0), at + along * min(s for s in met if s > 0)

    def along(self, high: float, low: float) -> Path:
        """The right side of the trunk from one height down to another."""
        s = [self.outline.nearest(self.across(complex(0, y))[1])[0] for y in (high, low)]
        part = self.outline.sub(min(s), max(s))
        return part if part.start.imag > part.end.imag else part.reversed()


@lru_cache(maxsize=1)
def body_views() -> Mapping[str, BodyView]:
    """Every view by its name."""
    plain = tomllib.loads(File(__file__).with_name("body_views.toml").read_text(encoding="utf-8"))
    return {name: _view(name, plain) for name in VIEWS}


def line_through(words: str) -> Path:
    """The line of points "x,y x,y | x,y ...": smooth, with a corner at each "|"."""
    runs: list[list[Point]] = []
    for run in words.split("|"):
        points = [point_of(pair) for pair in run.split()]
        runs.append(points if not runs else [runs[-1][-1], *points])
    return Path.joined(curve_through(run) for run in runs if len(run) > 1)


def _view(name: str, plain: Mapping[str, Any]) -> BodyView:
    rows = plain[name]
    outline = line_through(plain[rows.get("same_outline", name)]["outline"])
    if rows.get("mirrored"):
        outline = _both_halves(outline)
    shapes = [*plain[rows.get("same_shapes", name)]["shapes"], *rows.get("more_shapes", ())]
    marks = (Mark(outline, Pen.BODY), *(Mark(line_through(s), Pen.BODY) for s in shapes),
             *(Mark(line_through(s), Pen.GUIDE) for s in rows["lines"]))
    places = {place: point_of(words) for place, words in rows["places"].items()}
    return BodyView(name, outline, Figure(marks, title=name), places)


def _both_halves(right: Path) -> Path:
    """A right half and its mirror image as one closed line."""
    left = right.mirrored(0j, 1j).reversed()
    return Path.joined((right, left, Path.line(left.end, right.start)))


def point_of(words: str) -> Point:
    """The point of "x,y"."""
    x, y = words.split(",")
    return complex(float(x), float(y))
