"""A piece cut right across at a line, and opened or folded: its sides redrawn across the step, or run on."""

from __future__ import annotations

from collections.abc import Sequence

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import too_much
from toilewright.fit.frame import down
from toilewright.fit.moves.edges import (
    Redrawn,
    bend,
    ends_at,
    free_stretch,
    redraw_edge,
    reline,
    towards,
)
from toilewright.fit.moves.opening import open_right_across
from toilewright.fit.moves.ring import Carried, Place, Region, point_of
from toilewright.fit.moves.simple import is_simple
from toilewright.geometry.affine import Affine
from toilewright.geometry.meeting import line_meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.piece import Piece

NAME, HEM = "lengthen or shorten", "hem"

LEAST_LEFT = 20.0
"""mm that must stay between the line and the nearest corner when the piece is shortened (common practice)."""

CLEAR = 1.0
"""mm; nearer to a corner no side can be drawn across a cut."""


def cut_at(piece: Piece, line: str, at: Point | None) -> tuple[Place, Place]:
    """The two places where the cut crosses the ring."""
    drawn = piece.line(line)
    if drawn is not None:
        start, along = drawn.start, unit(drawn.end - drawn.start)
        middle = (drawn.start + drawn.end) / 2
    elif at is not None:
        start, along = at, down(piece) * 1j
        centre = sum(e.path.start for e in piece.edges) / len(piece.edges)
        along = along if dot(centre - at, along) > 0 else -along
        middle = at + along
    else:
        raise AlterationError(f'"{piece.name}" has no line called "{line}"; name one that it has.')
    hits = [(dot(m.point - middle, along), Place(e.name, m.on_first))
            for e in piece.edges for m in line_meetings(e.path, start - along * 3000, start + along * 3000)]
    left = max((h for h in hits if h[0] <= 0), key=lambda h: h[0], default=None)
    right = min((h for h in hits if h[0] > 1e-3), key=lambda h: h[0], default=None)
    if left is None or right is None:
        raise AlterationError(f'The line "{line}" of "{piece.name}" does not lie across the piece; draw it from edge '
                              "to edge.")
    for place in (left[1], right[1]):
        if min(place.at, piece.edge(place.edge).path.length - place.at) < CLEAR:
            raise AlterationError(f'"{NAME}" on "{piece.name}" would be cut at a corner of it; choose a line that '
                                  'clears its corners, or say how far above its lowest point to cut: up = "10 cm".')
        for d in piece.darts_on(place.edge):
            if d.start - 1 < place.at < d.end + 1:
                raise AlterationError(f'The line "{line}" of "{piece.name}" runs into the mouth of its "{d.name}"; '
                                      "choose a line that clears it.")
    return left[1], right[1]


def moved(piece: Piece, one: Place, other: Place, amount: float, follow: bool) -> tuple[Piece, tuple[Region, ...]]:
    """The piece longer by `amount` mm at a cut (shorter when negative), and its parts as they were moved."""
    way = away(piece, one, other)
    healed, carried = open_right_across(piece, one, other, amount, _upper(piece, one, other, way), way)
    if follow:
        return _run_on(piece, carried, (one, other), way * amount), carried.regions
    return healed, carried.regions


def check_room(cuts: Sequence[tuple[Piece, Place, Place]], amount: float, follow: bool) -> None:
    """Raise AlterationError where one of the pieces cannot be shortened so much, with the most that all of them can."""
    short = []
    for piece, one, other in cuts:
        room = -max(min(_room(piece, p) for p in (one, other)), 0.0)
        within = max(amount, room)
        if within < 0 and not is_simple(moved(piece, one, other, within, follow)[0]):
            most = _most(piece, one, other, within, follow)
            short.append((most, piece.name, "folds one part over the other's corner"))
        elif amount < room:
            short.append((room, piece.name, "folds out more than lies beside the line"))
    if short:
        most, name, why = max(short)
        raise too_much(NAME, amount, name, why, most)


def _most(piece: Piece, one: Place, other: Place, amount: float, follow: bool) -> float:
    """The most that folds without the outline crossing itself, somewhat less than an amount with which it does."""
    low, high = 0.0, amount
    for _ in range(8):
        middle = (low + high) / 2
        fits = is_simple(moved(piece, one, other, middle, follow)[0])
        low, high = (middle, high) if fits else (low, middle)
    return low


def _run_on(piece: Piece, carried: Carried, cut: tuple[Place, Place], by: Point) -> Piece:
    """The sides continued at their slope instead of redrawn across the step; the edge between them goes along."""
    if not all(meets(piece, HEM, p.edge) for p in cut):
        raise AlterationError(f'"{NAME}" with hem = "follow" on "{piece.name}" needs the edge "{HEM}" below the line, '
                              'from side to side; use hem = "keep" there.')
    drawn, ends = [], {}
    for place in cut:
        edge = _continued(piece, carried, place, by)
        drawn.append(edge)
        end = edge.path.end if ends_at(piece, place.edge, HEM) else edge.path.start
        ends[ends_at(piece, HEM, place.edge)] = end
    hem = carried.piece.edge(HEM).path
    moved = bend(hem, Affine.shift(ends[False] - hem.start), Affine.shift(ends[True] - hem.end))
    hem_drawn = Redrawn(HEM, moved, (0.0, hem.length), (0.0, moved.length))
    return reline(piece, redraw_edge(carried.piece, *drawn, hem_drawn), *{p.edge for p in cut})


def _continued(piece: Piece, carried: Carried, place: Place, by: Point) -> Redrawn:
    """One side: its upper part, run on straight (or cut short) until it is as much longer, then its lower part."""
    at_end = ends_at(piece, place.edge, HEM)
    path = towards(piece, place.edge, HEM)
    at = place.at if at_end else path.length - place.at
    upper, lower = path.split(at)
    along = path.tangent_at(at)
    run = dot(by, by) / dot(along, by)
    if run > 0:
        head = Path.joined((upper, Path.line(upper.end, upper.end + along * run)))
    else:
        for _ in range(4):
            head = upper.split(upper.length + run)[0]
            run *= dot(by, by) / dot(head.end - upper.end, by)
        head = upper.split(upper.length + run)[0]
    fresh = Path.joined((head, lower.moved(head.end - upper.end)))
    whole = carried.piece.edge(place.edge).path.length
    gap = sorted(carried.at(place.edge, place.at, after) for after in (False, True))
    kept = min(at, head.length)
    if at_end:
        return Redrawn(place.edge, fresh, (0.0, kept, gap[1], whole), (0.0, kept, head.length, fresh.length))
    rest, total = fresh.length - head.length, fresh.length
    return Redrawn(place.edge, fresh.reversed(), (0.0, gap[0], whole - kept, whole), (0.0, rest, total - kept, total))


def meets(piece: Piece, edge: str, other: str) -> bool:
    """Has the piece both edges, one beside the other?"""
    names = [e.name for e in piece.edges]
    if edge not in names:
        return False
    i = names.index(edge)
    return other in (names[i - 1], names[(i + 1) % len(names)])


def away(piece: Piece, one: Place, other: Place) -> Point:
    """Unit direction square to the cut, towards the hem."""
    along = unit(point_of(piece, other) - point_of(piece, one)) * 1j
    return along if dot(along, down(piece)) > 0 else -along


def _upper(piece: Piece, one: Place, other: Place, way: Point) -> str:
    """The edge farthest up that is not cut: it stays."""
    whole = [e for e in piece.edges if e.name not in (one.edge, other.edge)]
    if not whole:
        raise AlterationError(f'The cut on "{piece.name}" leaves no edge whole; give the piece corners in the labels '
                              "file.")
    return min(whole, key=lambda e: dot(e.path.start + e.path.end, way)).name


def _room(piece: Piece, place: Place) -> float:
    ends = free_stretch(piece, place.edge, place.at)
    return max(place.at - ends[0], ends[1] - place.at) - LEAST_LEFT
