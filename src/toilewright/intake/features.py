"""What is drawn on one piece in one size: notches, darts, grain, fold and other lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.intake.arrows import (
    Arrow,
    Bracket,
    edge_beside,
    find_arrows,
    find_brackets,
    solid_arrow,
    straight_edges,
)
from toilewright.intake.corners import Bit, bits
from toilewright.intake.dart_lines import find_darts
from toilewright.intake.notches import SMALL, SMALL_SHAPE, grouped, shape_notches, tick_notches
from toilewright.intake.raw import RawDart, RawNotch
from toilewright.intake.sketch import Sketch, boxes_touch

ON_LINE = 0.9
"""mm; a line that keeps this near to the outline all along is the outline, drawn twice."""

FOLD_REACH = 60.0
"""mm; farthest that a fold bracket stands from its edge."""


@dataclass(frozen=True, slots=True)
class Features:
    """The marks of one piece in one size; `single_legs` are lines that look like half a dart."""

    notches: tuple[RawNotch, ...]
    darts: tuple[RawDart, ...]
    grain: tuple[Point, Point] | None
    fold: tuple[Point, Point] | None
    lines: tuple[Path, ...]
    single_legs: tuple[Path, ...]


def belongs(sketch: Sketch, outline: Sketch) -> bool:
    """Is this line drawn on the piece, or does it touch its outline from outside?"""
    if not boxes_touch(sketch.box, outline.box, 1.0):
        return False
    if any(outline.contains(p) for p in sketch.along(3)):
        return True
    return sketch.span <= SMALL and any(outline.nearest(complex(p)).distance < 1.0 for p in sketch.points[:8])


def find_features(outline: Path, drawn: Sequence[Sketch], bumps: Sequence[Point] = ()) -> Features:
    """Sort the lines drawn on a piece into marks.

    Args:
        outline: the closed printed line, without bumps.
        drawn: lines on the piece, closed or open.
        bumps: where notches were part of the outline.
    """
    edge = Sketch(outline)
    lines = [s for s in drawn if not _on(s, edge)]
    shapes = [s for s in lines if s.path.closed and s.span <= SMALL_SHAPE]
    solid = [(s, a) for s in lines if s.path.closed and s.span > SMALL_SHAPE and (a := solid_arrow(s))]
    gone = {id(s) for s in shapes} | {id(s) for s, _ in solid}
    found = bits([s.path for s in lines if id(s) not in gone])
    brackets = find_brackets(found, shapes, edge)
    taken = {i for b in brackets for i in b.bits}
    arrows = [a for a in find_arrows(found, shapes) if a.bits[0] not in taken]
    arrows += [a for _, a in solid]
    grain = _grain(arrows)
    if grain:
        taken.update(grain.bits)
    used_shapes = {i for mark in (*brackets, *([grain] if grain else [])) for i in mark.shapes}
    left = [b for i, b in enumerate(found) if i not in taken]
    darts = find_darts(left, edge)
    rest = [b for i, b in enumerate(left) if i not in darts.bits]
    single = tuple(left[i].path for i in darts.single_legs)
    ticks = tick_notches([b for b in rest if b.length <= SMALL and b.straight], edge)
    shaped = shape_notches([s for i, s in enumerate(shapes) if i not in used_shapes], edge)
    long = [b for b in rest if b.length > SMALL]
    return Features(grouped([*bumps, *ticks, *shaped], edge), darts.darts, grain and grain.tail_and_head,
                    _fold(brackets, outline), tuple(_whole(long)), single)


def _on(sketch: Sketch, outline: Sketch) -> bool:
    return sketch.span > 2 * SMALL and all(outline.nearest(p).distance < ON_LINE for p in sketch.along(5))


def _grain(arrows: Sequence[Arrow]) -> Arrow | None:
    return max(arrows, key=lambda a: a.length, default=None)


def _fold(brackets: Sequence[Bracket], outline: Path) -> tuple[Point, Point] | None:
    """The straight edge that a bracket points at."""
    edges = straight_edges(outline) if brackets else []
    for bracket in sorted(brackets, key=lambda b: -abs(b.b - b.a)):
        edge = edge_beside(edges, bracket.a, bracket.b, FOLD_REACH, bracket.towards)
        if edge:
            return edge.a, edge.b
    return None


def _whole(long: Sequence[Bit]) -> list[Path]:
    """Bits of one line that follow one another in it, joined again where nothing was taken out between."""
    made: list[Path] = []
    for i, bit in enumerate(long):
        if i and long[i - 1].source == bit.source and made[-1].nodes[-1] == bit.a:
            made[-1] = Path((*made[-1].nodes, *bit.path.nodes[1:]), (*made[-1].handles, *bit.path.handles))
        else:
            made.append(bit.path)
    return made
