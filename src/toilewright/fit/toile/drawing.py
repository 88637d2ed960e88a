"""What a toile will show, drawn: half the back and half the front as cut, and on them where she is.

The pattern is drawn in blue with its darts and levels; in red stand her bust point (with a ring as wide as it is
uncertain), her shoulder point, and the levels of her waist and hip.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from toilewright.draw.figure import Caption, Figure, Mark, Pen
from toilewright.fit.flat.laid import Laid, level_of
from toilewright.fit.levels import centre_edge, crossings, first_of, place
from toilewright.fit.toile.predict import Prediction
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

LETTER = 24.0
"""mm; height of letters, for a picture of a metre that is shown a hand high."""

WIDE_LETTER = 0.56
"""A letter's width as a share of its height, to tell how much room words take."""

APART = 140.0
"""mm between back and front."""

GAP = 25.0
"""mm between the panels of a princess seam."""

_CROSS = 12.0


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
    figures, left = [], 0.0
    for side in ("back", "front"):
        column = _column(laid, side)
        if not column.pieces:
            continue
        figure = _drawn(column, told)
        x0, *_ = figure.bounds()
        moved = figure.mapped(lambda z, by=left - x0: z + by)
        left = moved.bounds()[2] + APART
        figures.append(moved)
    return _spread(Figure(title="what the toile will show").plus(*figures))


def _spread(figure: Figure) -> Figure:
    """The figure with words that would lie on others moved down below them."""
    placed: list[Caption] = []
    for one in sorted(figure.captions, key=lambda c: -c.at.imag):
        while (under := next((c for c in placed if _overlap(c, one)), None)) is not None:
            one = replace(one, at=complex(one.at.real, under.at.imag - 1.02 * LETTER))
        placed.append(one)
    return replace(figure, captions=tuple(placed))


def caption_box(caption: Caption) -> tuple[float, float, float, float]:
    """The room that words take: x0, y0, x1, y1 (mm)."""
    wide = len(caption.text) * WIDE_LETTER * LETTER
    x0 = caption.at.real - {"start": 0.0, "middle": wide / 2, "end": wide}[caption.anchor]
    return x0, caption.at.imag, x0 + wide, caption.at.imag + LETTER


def _overlap(one: Caption, other: Caption) -> bool:
    a, b = caption_box(one), caption_box(other)
    return bool(one.text and other.text) and a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


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


def _drawn(column: _Column, told: Prediction) -> Figure:
    marks = [Mark(e.path, Pen.NEW) for p in column.pieces for e in p.edges]
    marks += [Mark(Path.line(foot, d.apex), Pen.DART) for p in column.pieces for d in p.darts for foot in p.feet(d)]
    parts = [Figure(tuple(marks)), *_levels(column, told)]
    if column.bodice is not None:
        parts += [*_bust(column, told), *_shoulder(column, column.bodice, told)]
    x0, _, x1, y1 = parts[0].bounds()
    parts.append(Figure((), (Caption(column.side, complex((x0 + x1) / 2, y1 + 2 * LETTER), LETTER, 0.0,
                                     "middle"),)))
    return Figure().plus(*parts)


# -- her places --------------------------------------------------------------------------------------------


def _bust(column: _Column, told: Prediction) -> Iterator[Figure]:
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
    yield _cross(aim, Pen.NEW, "the dart aims here" if darts else "bust point of the pattern", up=hers.imag < aim.imag)
    ring = max(high.by.spread or 0.0, 1.0)
    cross = _cross(hers, Pen.SLASH, "her bust point", up=hers.imag >= aim.imag)
    yield Figure((*cross.marks, Mark(_ring(hers, ring), Pen.SLASH)), cross.captions)


def _shoulder(column: _Column, piece: Piece, told: Prediction) -> Iterator[Figure]:
    """Her shoulder point, on the shoulder seam or run on from it; named on the front, where there is room."""
    row, neck, tip = told.at("shoulder point"), place(piece, "neck point"), place(piece, "shoulder tip")
    if row is None or neck is None or tip is None:
        return
    at, out = neck + unit(tip - neck) * row.hers.value, 1.0 if tip.real > neck.real else -1.0
    beside = complex(max(at.real * out, tip.real * out) * out + out * (_CROSS + 4), at.imag)
    words = Caption("her shoulder point", beside, LETTER, 0.0, "start" if out > 0 else "end")
    yield Figure(_cross(at, Pen.SLASH, "", up=True).marks, (words,) if column.side == "front" else ())


def _levels(column: _Column, told: Prediction) -> Iterator[Figure]:
    """The pattern's waist and hip, and hers."""
    waist = _waist_level(column.pieces[0])
    rows = (told.at("front waist line"),) if column.side == "front" else (
        told.at("centre back waist line"), told.at("back waist line"))
    off = next((row.by.value for row in rows if row is not None), 0.0) if column.bodice is not None else 0.0
    if waist is not None and column.bodice is not None and any(row is not None for row in rows):
        yield _level(column, waist + off, "her waist", waist)
    yield from _bust_line(column, told)
    below = next(((p, level_of(p, "hip line")) for p in column.pieces if level_of(p, "hip line") is not None), None)
    hip = told.at("hip line")
    if below is not None and below[1] is not None:
        yield _drawn_level(below[0], below[1], "hip of the pattern")
        if hip is not None:
            yield _level(column, below[1] + hip.by.value + off, "her hip", below[1])


def _bust_line(column: _Column, told: Prediction) -> Iterator[Figure]:
    """The pattern's bust line, where the dart's aim does not show it."""
    piece = column.bodice
    line = level_of(piece, "bust line") if piece else None
    if piece is not None and line is not None and (column.side == "back" or told.at("dart height") is None):
        yield _drawn_level(piece, line, "bust line")


def _waist_level(piece: Piece) -> float | None:
    level = level_of(piece, "waist line")
    if level is None and piece.has_edge("waist"):
        return first_of(piece, "centre waist", "side waist").imag
    return level


def _level(column: _Column, y: float, words: str, drawn: float) -> Figure:
    """One of her levels, right across; its words on the side where the pattern's are not."""
    nodes = [n.real for p in column.pieces for n in p.outline.nodes]
    x0, x1 = min(nodes), max(nodes)
    at = complex(x1 + 18, y + 3.0 if y >= drawn else y - LETTER - 5.0)
    return Figure((Mark(Path.line(complex(x0 - 18, y), complex(x1 + 18, y)), Pen.SLASH),),
                  (Caption(words, at, LETTER, 0.0, "end"),))


def _drawn_level(piece: Piece, y: float, words: str) -> Figure:
    """A level of the pattern, from edge to edge."""
    ends = crossings(piece.outline.flatten(), y) or [0.0, 0.0]
    x0, x1 = ends[0], ends[-1]
    return Figure((Mark(Path.line(complex(x0, y), complex(x1, y)), Pen.GUIDE),),
                  (Caption(words, complex((x0 + x1) / 2, y + 3.0), LETTER, 0.0, "middle"),))


def _cross(at: Point, pen: Pen, words: str, up: bool) -> Figure:
    arms = (Path.line(at - _CROSS, at + _CROSS), Path.line(at - _CROSS * 1j, at + _CROSS * 1j))
    caption = Caption(words, at + complex(0, _CROSS + 3 if up else -_CROSS - LETTER), LETTER, 0.0, "middle")
    return Figure(tuple(Mark(arm, pen) for arm in arms), (caption,))


def _ring(at: Point, radius: float) -> Path:
    k = 0.5522847498 * radius
    ring = [at + radius * 1j**q for q in range(4)]
    handles = tuple((ring[q] + 1j ** (q + 1) * k, ring[(q + 1) % 4] - 1j ** (q + 2) * k) for q in range(4))
    return Path((*ring, ring[0]), handles)
