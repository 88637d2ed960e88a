"""A picture as a list of pen marks and captions, in mm, y up."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from math import cos, sin

from toilewright.geometry.path import Path
from toilewright.geometry.point import Point

LETTER_WIDTH = 0.56
"""A letter's width as a share of the size of the type, to leave room for words."""

_CAPITAL = 0.72
"""A capital letter's height as a share of the size of the type."""


def type_size(size: float) -> float:
    """Letter height of a caption that is set in type of this size."""
    return size * _CAPITAL


class Pen(StrEnum):
    """What a line stands for; each output medium decides how that looks."""

    CUT = "cutting line"
    SEAM = "seam line"
    FOLD = "fold"
    GRAIN = "grain"
    DART = "dart"
    NOTCH = "notch"
    OLD = "as bought"
    NEW = "as altered"
    SLASH = "cut here"
    GUIDE = "guide"
    MARK = "mark"
    FILL = "added paper"
    BODY = "body"
    TAPE = "tape"
    TAPE_BEHIND = "tape behind"


@dataclass(frozen=True, slots=True)
class Mark:
    """A pen line; FILL closes and tints its path, BODY covers what was drawn before it.

    Attributes:
        layer: where it lies in files that have layers.
    """

    path: Path
    pen: Pen
    layer: str | None = None


@dataclass(frozen=True, slots=True)
class Caption:
    """Words at a point: `height` is the letter height in mm, `angle` in radians, `anchor` start, middle or end."""

    text: str
    at: Point
    height: float = 4.0
    angle: float = 0.0
    anchor: str = "start"
    layer: str | None = None

    def box(self, size: float | None = None) -> tuple[float, float, float, float]:
        """(x min, y min, x max, y max) of the room that the words take, set in type of `size` mm or in their own."""
        size = self.height / _CAPITAL if size is None else size
        wide = len(self.text) * size * LETTER_WIDTH
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor] * wide
        way = complex(cos(self.angle), sin(self.angle))
        spots = [self.at + (x + 1j * y) * way for x in (-back, wide - back) for y in (-0.25 * size, 0.8 * size)]
        return (min(p.real for p in spots), min(p.imag for p in spots),
                max(p.real for p in spots), max(p.imag for p in spots))


@dataclass(frozen=True, slots=True)
class Figure:
    """Marks and captions that belong together."""

    marks: tuple[Mark, ...] = ()
    captions: tuple[Caption, ...] = ()
    title: str = ""

    def bounds(self) -> tuple[float, float, float, float]:
        """(x min, y min, x max, y max) of the marks in mm."""
        return _about(m.path.bounds for m in self.marks)

    def whole(self) -> tuple[float, float, float, float]:
        """(x min, y min, x max, y max) of marks and captions in mm."""
        return _about([*(m.path.bounds for m in self.marks), *(c.box() for c in self.captions)])

    def mapped(self, f: Callable[[Point], Point], scale: float = 1.0) -> Figure:
        """Image under an affine map; captions keep their angle and are scaled in height."""
        return replace(
            self,
            marks=tuple(replace(m, path=m.path.mapped(f)) for m in self.marks),
            captions=tuple(replace(c, at=f(c.at), height=c.height * scale) for c in self.captions))

    def plus(self, *others: Figure) -> Figure:
        """This figure with others laid over it."""
        return replace(self, marks=sum((o.marks for o in others), self.marks),
                       captions=sum((o.captions for o in others), self.captions))


def _about(boxes: Iterable[tuple[float, float, float, float]]) -> tuple[float, float, float, float]:
    row = [*boxes] or [(0.0, 0.0, 0.0, 0.0)]
    return min(b[0] for b in row), min(b[1] for b in row), max(b[2] for b in row), max(b[3] for b in row)
