"""Pictures for the hand cards: a piece as it is cut, and its parts in their new places with the paper added to them.

Added paper is what the new outline holds and no part of the old paper covers; what the old paper has beyond the new
outline, or lays double, is hatched. Both are found by taking shapes from each other, so they cannot disagree with the
piece.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from toilewright.draw.figure import Caption, Figure, Mark, Pen
from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Picture, Size
from toilewright.fit.frame import centre_of, down
from toilewright.fit.moves.ring import Region, cut_out
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, unit
from toilewright.pattern.piece import Piece

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

Box = tuple[float, float, float, float]
"""x min, y min, x max, y max (mm)."""

_WIDE, _TALL = 54.0, 60.0
"""mm; about the room that one picture has on a card, to tell how large a letter or an arrow is on the piece."""

_FINE = 0.2
"""mm; how near the shapes follow the curves."""

_SLIVER = 0.4
"""mm; a strip of paper narrower than this is not shown."""

_LETTER = 4.0

_BETWEEN = 60.0
"""mm between pieces that are shown beside each other."""


def as_cut(before: Piece, after: Piece, picture: Picture) -> Figure:
    """The piece as bought, with the lines to cut and the hinges."""
    stand = _upright(before)
    box = _bounds(before.outline.mapped(stand).nodes)
    unit_ = _scale(box)
    marks = [Mark(e.path.mapped(stand), Pen.NEW) for e in before.edges]
    marks += [Mark(p.mapped(stand), Pen.NEW) for p in _darts(before)]
    if before.grain is not None:
        marks += _arrow(stand(before.grain.start), stand(before.grain.end), unit_, Pen.GUIDE)
    marks += [Mark(p.mapped(stand), Pen.SLASH) for p in (*_cut_edges(before, picture.regions, False), *picture.cuts)]
    words = Figure()
    if picture.regions or picture.cuts:
        words = Figure().plus(*(_hinge(stand(h), unit_, box) for h in picture.hinges))
    elif picture.near:
        marks.append(_frame(_view(before, picture, stand)[0]))
    return Figure((*marks, *words.marks), words.captions, f"{before.name}, as bought")


def as_altered(before: Piece, after: Piece, picture: Picture) -> Figure:
    """The parts in their new places, added paper tinted, what is cut off hatched, the new outline over them."""
    stand = _upright(before)
    if picture.near:
        window, unit_ = _view(before, picture, stand)
        box = window
    else:
        window, box = None, _bounds((*before.outline.mapped(stand).nodes, *after.outline.mapped(stand).nodes))
        unit_ = _scale(box)
    new, parts = _shape(after.outline.flatten(_FINE)), _parts(before, picture.regions)
    marks = [Mark(Path.polyline(ring), Pen.FILL) for ring in _rings(new.difference(_union(parts)))]
    lost = _union([_doubled(parts), _union(parts).difference(new)])
    marks += [Mark(line, Pen.GUIDE) for line in _hatched(lost, unit_)]
    marks += [Mark(e.path, Pen.OLD) for e in before.edges] + [Mark(p, Pen.OLD) for p in _darts(before)]
    marks += [Mark(p, Pen.SLASH) for p in _cut_edges(before, picture.regions, True)]
    marks += [Mark(e.path, Pen.NEW) for e in after.edges] + [Mark(p, Pen.NEW) for p in _darts(after)]
    marks = [Mark(m.path.mapped(stand), m.pen) for m in marks]
    if window:
        marks = [*_clipped(marks, window), _frame(window)]
    words = _words(before, picture, stand, unit_, box)
    return Figure((*marks, *words.marks), words.captions, before.name)


def as_parts(pieces: Sequence[Piece]) -> Figure:
    """New pieces beside each other, each upright."""
    marks, x = [], 0.0
    for piece in pieces:
        stand = _upright(piece)
        left, low, right, _ = _bounds(piece.outline.mapped(stand).nodes)
        stand = stand.then(Affine.shift(complex(x - left, -low)))
        marks += [Mark(p.mapped(stand), Pen.NEW) for p in (*(e.path for e in piece.edges), *_darts(piece))]
        if piece.grain is not None:
            marks += _arrow(stand(piece.grain.start), stand(piece.grain.end), _scale((0.0, 0.0, right - left, 400.0)),
                            Pen.GUIDE)
        x += right - left + _BETWEEN
    return Figure(tuple(marks), (), " and ".join(p.name for p in pieces))


def _words(piece: Piece, picture: Picture, stand: Affine, unit_: float, box: Box) -> Figure:
    """Hinges, crosses and amounts."""
    return Figure().plus(
        *(_hinge(stand(h), unit_, box) for h in picture.hinges),
        *(_cross(name, stand(at), _inwards(piece, at, stand), unit_) for name, at in picture.crosses.items()),
        *(_size(Size(stand(s.a), stand(s.b), s.away * stand.p), unit_) for s in picture.sizes))


def _inwards(piece: Piece, at: Point, stand: Affine) -> float:
    """+1 when the centre of the piece lies to the right of a point, else -1."""
    centre = centre_of(piece)
    return 1.0 if centre and stand(piece.edge(centre).path.start).real > stand(at).real else -1.0


# -- the piece and its paper ------------------------------------------------------------------------


def _upright(piece: Piece) -> Affine:
    try:
        return Affine(-1j / down(piece))
    except AlterationError:  # neither centre nor grain is drawn: shown as it lies
        return Affine()


def _darts(piece: Piece) -> list[Path]:
    out = []
    for dart in piece.darts:
        first, second = piece.feet(dart)
        out.append(Path.polyline((first, dart.apex, second)))
    return out


def _parts(piece: Piece, regions: Sequence[Region]) -> list[BaseGeometry]:
    """The old paper in its new places."""
    whole = _shape(piece.outline.flatten(_FINE))
    loose = [cut_out(piece, r, _FINE) for r in regions]
    moved = [_shape([r.move(p) if r.move else p for p in ring]) for r, ring in zip(regions, loose, strict=True)]
    rest = whole.difference(_union([_shape(ring) for ring in loose]))
    return [*moved, rest]


def _cut_edges(piece: Piece, regions: Sequence[Region], moved: bool) -> list[Path]:
    """The cut sides of every part, each drawn once where both sides still meet."""
    seen: set[tuple[complex, ...]] = set()
    out = []
    for region in regions:
        ends = [piece.edge(p.edge).path.point_at(p.at) for p in (region.end, region.start)]
        line = [ends[0], *region.within, ends[1]]
        if moved and region.move is not None:
            line = [region.move(p) for p in line]
        for a, b in pairwise(line):
            key = tuple(sorted((complex(round(p.real, 1), round(p.imag, 1)) for p in (a, b)),
                               key=lambda p: (p.real, p.imag)))
            if key not in seen and a != b:
                seen.add(key)
                out.append(Path.line(a, b))
    return out


def _shape(points: Iterable[Point]) -> BaseGeometry:
    from shapely.geometry import Polygon

    return Polygon([(p.real, p.imag) for p in points]).buffer(0)


def _union(shapes: Sequence[BaseGeometry]) -> BaseGeometry:
    from shapely import union_all

    return union_all([s.buffer(0.02) for s in shapes])


def _doubled(parts: Sequence[BaseGeometry]) -> BaseGeometry:
    """Where parts lie over each other."""
    return _union([a.intersection(b) for i, a in enumerate(parts) for b in parts[:i]])


def _rings(shape: BaseGeometry) -> list[tuple[Point, ...]]:
    """Outer rings of all that is wide enough to be seen."""
    seen = shape.buffer(-_SLIVER / 2).buffer(_SLIVER / 2, join_style="mitre")
    return [tuple(complex(x, y) for x, y in part.exterior.coords) for part in getattr(seen, "geoms", (seen,))
            if not part.is_empty]


def _hatched(shape: BaseGeometry, unit_: float) -> list[Path]:
    """Slanting lines over a shape, about 1.5 mm apart on the card."""
    from shapely.geometry import MultiLineString

    shape = _union([_shape(ring) for ring in _rings(shape)])
    if shape.is_empty:
        return []
    x0, y0, x1, y1 = shape.bounds
    step, tall = 1.5 * 1.41 * unit_, y1 - y0
    rows = [((x, y0), (x + tall, y1)) for x in (x0 - tall + k * step for k in range(int((x1 - x0 + tall) / step) + 1))]
    return _lines(MultiLineString(rows).intersection(shape)) if rows else []


def _lines(shape: BaseGeometry) -> list[Path]:
    return [Path.polyline(complex(x, y) for x, y in line.coords) for line in getattr(shape, "geoms", (shape,))
            if line.geom_type == "LineString" and len(line.coords) > 1]


# -- closer views -------------------------------------------------------------------------------------


def _view(piece: Piece, picture: Picture, stand: Affine) -> tuple[Box, float]:
    """The part of the piece that a closer view shows, with room for what is written there; and its scale."""
    x0, y0, x1, y1 = _bounds([stand(p) for p in picture.near])
    margin = 0.1 * max(x1 - x0, y1 - y0)
    window = (x0 - margin, y0 - margin, x1 + margin, y1 + margin)
    unit_ = _scale(window)
    words = _words(piece, picture, stand, unit_, window)
    taken = [p for mark in words.marks for p in mark.path.nodes]
    for c in words.captions:
        wide = (6 if "{" in c.text else len(c.text)) * 1.5 * unit_  # letters of 2 mm on the card
        left = c.at.real - {"start": 0.0, "middle": 0.5, "end": 1.0}[c.anchor] * wide
        taken += [complex(left, c.at.imag), complex(left + wide, c.at.imag + 2 * unit_)]
    low, high = complex(-1.5, -1.5) * unit_, complex(1.5, 1.5) * unit_
    corners = [complex(*window[:2]), complex(*window[2:]), *(p + d for p in taken for d in (low, high))]
    return _bounds(corners), unit_


def _clipped(marks: Sequence[Mark], window: Box) -> list[Mark]:
    from shapely.geometry import LineString, Polygon, box

    frame = box(*window)
    out = []
    for mark in marks:
        points = [(p.real, p.imag) for p in mark.path.flatten(_FINE)]
        if mark.pen is Pen.FILL:
            out += [Mark(Path.polyline(r), mark.pen) for r in _rings(Polygon(points).buffer(0).intersection(frame))]
        else:
            out += [Mark(p, mark.pen) for p in _lines(LineString(points).intersection(frame))]
    return out


def _frame(window: Box) -> Mark:
    x0, y0, x1, y1 = window
    return Mark(Path.polyline((complex(x0, y0), complex(x1, y0), complex(x1, y1), complex(x0, y1), complex(x0, y0))),
                Pen.GUIDE)


def _bounds(points: Iterable[Point]) -> Box:
    points = tuple(points)
    return (min(p.real for p in points), min(p.imag for p in points),
            max(p.real for p in points), max(p.imag for p in points))


def _scale(box: Box) -> float:
    """mm of the piece in one mm of the card."""
    return max((box[2] - box[0]) / _WIDE, (box[3] - box[1]) / _TALL, 1.0)


# -- what is written on it ------------------------------------------------------------------------------


def _hinge(at: Point, unit_: float, box: Box) -> Figure:
    """A small circle, and the word beside it on the side where there is no paper."""
    k = 0.5523  # a quarter of a circle as a cubic
    quarter = Path.cubic(1 + 0j, 1 + k * 1j, k + 1j, 1j)
    circle = tuple(Mark(quarter.mapped(Affine(1.3 * unit_ * q, 0j, at)), Pen.MARK) for q in (1, 1j, -1, -1j))
    right = at.real > (box[0] + box[2]) / 2
    return Figure(circle, (Caption("hinge", at + ((2.4 if right else -2.4) - 1j) * unit_, _LETTER,
                                   anchor="start" if right else "end"),))


def _cross(name: str, at: Point, way: float, unit_: float) -> Figure:
    """A small cross, and its name on the side towards the centre."""
    arms = tuple(Mark(Path.line(at - arm * unit_, at + arm * unit_), Pen.MARK) for arm in (1.4, 1.4j))
    return Figure(arms, (Caption(name, at + (2.2 * way - 0.9j) * unit_, 0.85 * _LETTER,
                                 anchor="end" if way < 0 else "start"),))


def _size(size: Size, unit_: float) -> Figure:
    """A dimension: arrows between two points, or from outside to them when they lie close; the amount beside it."""
    off = size.away * 4 * unit_
    a, b = size.a + off, size.b + off
    along, length = unit(b - a), abs(b - a)
    marks = [Mark(Path.line(p + size.away * unit_, p + off + size.away * unit_), Pen.GUIDE)
             for p in (size.a, size.b) if off]
    if length > 6 * unit_:
        marks += _arrow(a, b, unit_) + _arrow(b, a, unit_)
        far = 0.0
    else:
        far = 4 * unit_
        marks += _arrow(a - along * far, a, unit_) + _arrow(b + along * far, b, unit_)
    text = f"{{{length:.1f} mm}}"
    way = size.away or along
    at = (a + b) / 2 + way * 2 * unit_ if size.away else b + along * (far + 1.5 * unit_)
    anchor = "start" if way.real > 0.3 else "end" if way.real < -0.3 else "middle"
    drop = 1.0 if anchor != "middle" else 2.2 if way.imag < 0 else 0.0
    return Figure(tuple(marks), (Caption(text, at - 1j * drop * unit_, _LETTER, anchor=anchor),))


def _arrow(start: Point, end: Point, unit_: float, pen: Pen = Pen.MARK) -> list[Mark]:
    """A line with a head at its end."""
    way = unit(end - start) * 1.6 * unit_
    head = Path.polyline((end - way + way * 0.4j, end, end - way - way * 0.4j))
    return [Mark(Path.line(start, end), pen), Mark(head, pen)]
