"""What a toile will show, drawn: half the back and half the front as cut, and on them where she is.

The pattern is drawn in blue with its darts and levels; in red stand her bust point (with a ring as wide as it is
uncertain), her shoulder point, and the levels of her waist and hip.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from toilewright.draw.figure import Caption, Figure, Mark, Pen, type_size
from toilewright.fit.flat.laid import Laid, level_of
from toilewright.fit.levels import centre_edge, crossings, first_of, place
from toilewright.fit.toile.captions import LEAD, Label, lettering, stacked
from toilewright.fit.toile.predict import Prediction
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

APART = 90.0
"""mm between two pictures beside each other, and round them."""

SAME = 8.0
"""mm; nearer than that a place of hers and the pattern's are named together (our own choice)."""

GAP = 25.0
"""mm between the panels of a princess seam."""

_CROSS, _BEYOND = 12.0, 18.0
"""mm; an arm of a cross, and how far a level of hers runs on beyond the pieces."""


@dataclass(frozen=True)
class _Column:
    """Back or front: its bodice piece over its skirt piece, side seams towards the middle of the picture."""

    side: str
    bodice: Piece | None
    pieces: tuple[Piece, ...]


def prediction_figure(garment: Garment, told: Prediction) -> Figure:
    """Half the back and half the front of these pieces, with her places on them (mm, upright, back at the left).

    Args:
        told: what :func:`toilewright.fit.toile.predict.predict` says of the same pieces.
    """
    laid = Laid(garment)
    drawn = [_drawn(one, told) for side in ("back", "front") if (one := _column(laid, side)).pieces]
    boxes = [one.figure.bounds() for one in drawn]
    wide, tall = sum(x1 - x0 for x0, _, x1, _ in boxes), max((y1 - y0 for _, y0, _, y1 in boxes), default=0.0)
    size, words = lettering(wide, tall, [label for one in drawn for label in one.labels])
    gap, parts, labels = words + 2 * LEAD, [], []
    for one, (x0, _, x1, y1) in zip(drawn, boxes, strict=True):
        # The back ends where the column of words begins; the front begins where it ends.
        by = -gap / 2 - x1 if one.side == "back" else gap / 2 - x0
        head = Caption(one.side, complex((x0 + x1) / 2 + by, y1 + size), type_size(size), 0.0, "middle")
        parts.append(one.figure.mapped(lambda z, by=by: z + by).plus(Figure((), (head,))))
        labels += [Label(label.words, label.at + by) for label in one.labels]
    whole = Figure(title="what the toile will show").plus(*parts, stacked(labels, 0.0, size))
    left = whole.whole()[0]
    return whole.mapped(lambda z: z - left)


@dataclass(frozen=True)
class _Drawn:
    """One side drawn, and what is to be said of it."""

    side: str
    figure: Figure
    labels: tuple[Label, ...]


def _column(laid: Laid, side: str) -> _Column:
    """The main pieces of one side: a side panel beside its bodice piece, the skirt hung from the bodice's waist."""
    main = laid.main(side)
    skirt = next((p for p in laid.skirt if side in p.name), None)
    bodice, under = (p and _faced(p, side) for p in (main, skirt))
    pieces = [] if bodice is None or main is None else [bodice, *_beside(laid, main, bodice, side)]
    if bodice is not None and under is not None:
        under = under.moved(first_of(bodice, "centre waist") - first_of(under, "centre waist"))
    return _Column(side, bodice, (*pieces, under) if under is not None else tuple(pieces))


def _beside(laid: Laid, main: Piece, drawn: Piece, side: str) -> Iterator[Piece]:
    """The side panels of a princess seam, a little apart from their neighbour, at the same height."""
    levels, _ = laid.levels
    x0, _, x1, _ = drawn.outline.bounds
    for panel in laid.half(side):
        if panel.name == main.name or not {panel.name, main.name} <= set(levels):
            continue
        faced = _faced(panel, side)
        low, _, high, _ = faced.outline.bounds
        across = x1 + GAP - low if side == "back" else x0 - GAP - high
        yield faced.moved(complex(across, levels[main.name] - levels[panel.name]))


def _faced(piece: Piece, side: str) -> Piece:
    """Mirrored where need be: the back with its side seam at the right, the front with it at the left."""
    middle = sum(piece.outline.nodes) / len(piece.outline.nodes)
    seam = piece.edge("side seam").path if piece.has_edge("side seam") else None
    if seam is not None:
        right = seam.point_at(seam.length / 2).real > middle.real
    else:
        centre = centre_edge(piece)
        right = centre is None or piece.edge(centre).path.start.real < middle.real
    return piece if right == (side == "back") else piece.mirrored(0j, 1j)


def _drawn(column: _Column, told: Prediction) -> _Drawn:
    marks = [Mark(e.path, Pen.NEW) for p in column.pieces for e in p.edges]
    marks += [Mark(Path.line(foot, d.apex), Pen.DART) for p in column.pieces for d in p.darts for foot in p.feet(d)]
    said = [*_levels(column, told)]
    if column.bodice is not None:
        said += [*_bust(column, told), *_shoulder(column.bodice, told)]
    for drawn, _ in said:
        marks += drawn
    return _Drawn(column.side, Figure(tuple(marks)), tuple(label for _, labels in said for label in labels))


# -- her places --------------------------------------------------------------------------------------------

Said = tuple[tuple[Mark, ...], tuple[Label, ...]]
"""Lines, and the words that name them."""


def _bust(column: _Column, told: Prediction) -> Iterator[Said]:
    """Where the dart aims, and where her bust point lies."""
    high, across = told.at("dart height"), told.at("dart across")
    piece, neck = column.bodice, column.bodice and place(column.bodice, "neck point")
    if column.side != "front" or high is None or piece is None or neck is None:
        return
    centre = centre_edge(piece)
    if centre is None:
        return
    line = piece.edge(centre).path
    out = -1.0 if sum(piece.outline.nodes).real / len(piece.outline.nodes) < line.end.real else 1.0
    away = across.hers.value if across else None
    aim = complex(line.end.real + out * (across.pattern.value if across else 0.0), neck.imag - high.pattern.value)
    hers = complex(line.end.real + out * away if away is not None else aim.real, neck.imag - high.hers.value)
    darts = any(p.darts for p in column.pieces if p.has_edge("armhole"))
    ring = Mark(_ring(hers, max(high.by.spread or 0.0, 1.0)), Pen.SLASH)
    marks = (*_cross(aim, Pen.NEW), *_cross(hers, Pen.SLASH), ring)
    if abs(hers - aim) < SAME:
        both = "the dart aims at her bust point" if darts else "bust point, hers and the pattern's"
        yield marks, (Label(both, hers - _CROSS),)
    else:
        yield marks, (Label("the dart aims here" if darts else "bust point of the pattern", aim - _CROSS),
                      Label("her bust point", hers - _CROSS))


def _shoulder(piece: Piece, told: Prediction) -> Iterator[Said]:
    """Her shoulder point, on the shoulder seam or run on from it."""
    row, neck, tip = told.at("shoulder point"), place(piece, "neck point"), place(piece, "shoulder tip")
    if row is None or neck is None or tip is None:
        return
    at, out = neck + unit(tip - neck) * row.hers.value, 1.0 if tip.real > neck.real else -1.0
    yield _cross(at, Pen.SLASH), (Label("her shoulder point", at + out * _CROSS),)


def _levels(column: _Column, told: Prediction) -> Iterator[Said]:
    """The pattern's waist and hip, and hers."""
    waist = _waist_level(column.pieces[0])
    rows = (told.at("front waist line"),) if column.side == "front" else (
        told.at("centre back waist line"), told.at("back waist line"))
    off = next((row.by.value for row in rows if row is not None), 0.0) if column.bodice is not None else 0.0
    if waist is not None and column.bodice is not None and any(row is not None for row in rows):
        yield _hers(column, waist + off, "waist, hers and the pattern's" if abs(off) < SAME else "her waist")
    yield from _bust_line(column, told)
    below = next(((p, y) for p in column.pieces if (y := level_of(p, "hip line")) is not None), None)
    if below is None:
        return
    piece, level = below
    hip = told.at("hip line")
    by = None if hip is None else hip.by.value + off
    one = by is not None and abs(by) < SAME
    yield _patterns(column, piece, level, "" if one else "hip of the pattern")
    if by is not None:
        yield _hers(column, level + by, "hip, hers and the pattern's" if one else "her hip")


def _bust_line(column: _Column, told: Prediction) -> Iterator[Said]:
    """The pattern's bust line, where the dart's aim does not show it."""
    piece = column.bodice
    line = level_of(piece, "bust line") if piece else None
    if piece is not None and line is not None and (column.side == "back" or told.at("dart height") is None):
        yield _patterns(column, piece, line, "bust line")


def _waist_level(piece: Piece) -> float | None:
    level = level_of(piece, "waist line")
    if level is None and piece.has_edge("waist"):
        return first_of(piece, "centre waist", "side waist").imag
    return level


def _hers(column: _Column, y: float, words: str) -> Said:
    """One of her levels, right across."""
    nodes = [n.real for p in column.pieces for n in p.outline.nodes]
    return _across(column, complex(min(nodes) - _BEYOND, y), complex(max(nodes) + _BEYOND, y), Pen.SLASH, words)


def _patterns(column: _Column, piece: Piece, y: float, words: str) -> Said:
    """A level of the pattern, from edge to edge."""
    ends = crossings(piece.outline.flatten(), y) or [0.0, 0.0]
    return _across(column, complex(ends[0], y), complex(ends[-1], y), Pen.GUIDE, words)


def _across(column: _Column, left: Point, right: Point, pen: Pen, words: str) -> Said:
    """A level, named at the end where the words stand."""
    end = right if column.side == "back" else left
    return (Mark(Path.line(left, right), pen),), (Label(words, end),) if words else ()


def _cross(at: Point, pen: Pen) -> tuple[Mark, ...]:
    return Mark(Path.line(at - _CROSS, at + _CROSS), pen), Mark(Path.line(at - _CROSS * 1j, at + _CROSS * 1j), pen)


def _ring(at: Point, radius: float) -> Path:
    k = 0.5522847498 * radius
    ring = [at + radius * 1j**q for q in range(4)]
    handles = tuple((ring[q] + 1j ** (q + 1) * k, ring[(q + 1) % 4] - 1j ** (q + 2) * k) for q in range(4))
    return Path((*ring, ring[0]), handles)
