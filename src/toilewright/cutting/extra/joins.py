"""A join: a seam that the pattern has not, because a piece is too wide or too long for the cloth.

The line is drawn on the pattern, an allowance added on both sides, and the join sewn before anything else. A piece on
the fold that is divided into two gets a seam in the place of the fold. (Common practice, no published source.)
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from math import radians, sin

from toilewright.cutting.allowances import cutting_line
from toilewright.cutting.corners import with_corners
from toilewright.cutting.dividing import MARK_AT, Division, Stretch, divided, extent, grain_of, resewn
from toilewright.cutting.extra.kinds import (
    Asks,
    Built,
    Example,
    Figure,
    Kind,
    Option,
    Options,
    Sum,
    length_of,
    mm,
    word_of,
)
from toilewright.cutting.extra.places import find_piece
from toilewright.errors import GeometryError, InputError
from toilewright.geometry.point import Point, dot, parallel, unit
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import EdgeKind, Notch
from toilewright.pattern.piece import Piece

ALLOWANCE = 15.0
"""mm beyond both sides of a join (common practice, no published source)."""

MOST_PARTS = 8
"""into which a piece is divided (our own bound)."""

ALONG, ACROSS = "along the grain", "across the grain"

_SAME_WAY = sin(radians(0.5))


@dataclass(frozen=True, slots=True)
class _Frame:
    """How a piece is divided.

    Attributes:
        way: unit direction of the joins; parts are counted from left to right of it.
        fold: names of the fold edges along it, which then are all at the left.
        low, high: least and greatest place of the seam line across (mm).
    """

    way: Point
    fold: tuple[str, ...]
    low: float
    high: float

    @property
    def across(self) -> Point:
        """In which parts are counted."""
        return self.way * -1j


def join_sum(options: Options) -> Sum:
    """What is told without a garment."""
    parts, allowance = int(length_of(options, "parts")), length_of(options, "allowance")
    joins = parts - 1
    taken = Figure("cloth_taken", 2 * joins * allowance, "more across all parts together, for the joins")
    return Sum((Figure("joins", joins, "joins", length=False), taken), _steps(allowance, False, ""))


def _steps(allowance: float, at_fold: bool, where: str) -> tuple[str, ...]:
    """The order of work."""
    steps = []
    if at_fold:
        steps.append(f"Do not lay it on the fold: add {mm(allowance)} beyond the fold line, and cut a left and a "
                     "right.")
    if not at_fold or where:
        steps.append(f"Draw the line on the pattern{where}. Put a balance mark across it, nearer to one end, and cut "
                     f"the pattern apart along it; add {mm(allowance)} beyond the line on both sides.")
    return (*steps, "Sew the join before anything else, right sides together, mark on mark. Neaten it and press it "
            "open; irons and steam burn.",
            "From then on it is one piece: gather, hem and sew it in as the pattern says. Let a join lie where it is "
            "seen least, and stripes run on across it.")


def build_join(garment: Garment, options: Options) -> Built:
    """A piece of the garment in parts, with the seams between them.

    Raises:
        InputError: there is no such piece or edge.
        GeometryError: it cannot be divided there.
    """
    piece = find_piece(garment.pieces, word_of(options, "piece"))
    allowance, parts = length_of(options, "allowance"), int(length_of(options, "parts"))
    frame = _frame(piece, word_of(options, "run"))
    if isinstance(options.get("at"), (int, float)):
        places, at_fold = (_place(piece, frame, length_of(options, "at"), word_of(options, "from")),), False
    elif word_of(options, "from"):
        raise InputError('"from" says from which edge "at" is measured; say "at" too, or leave it out.')
    else:
        places, at_fold = _even(frame, parts)
    joins: list[tuple[str, str, str]] = []
    if at_fold:
        piece, joins = _opened(piece, frame, allowance)
    division = _divided(garment, piece, frame, places, allowance)
    seams = [_sewn(*join, division.stretches) for join in joins]
    for one, other, edge in zip(division.parts, division.parts[1:], division.joins, strict=False):
        seams.append(Seam(f"{piece.name} {edge}", (EdgeRef(one.name, edge),),
                          (EdgeRef(other.name, edge, reverse=True),)))
    others = resewn(garment.seams, piece.name, division.stretches)
    rest = tuple(p for p in garment.pieces if p.name != piece.name)
    done = with_corners(Garment((*rest, *division.parts), (*others, *seams)))
    cut = tuple(done.piece(p.name) for p in division.parts)
    where = _where(frame, places, options) if places else ""
    worked = join_sum({**options, "parts": float(len(seams) + 1)})
    return Built(cut, tuple(seams), (), replace(
        worked, figures=(*worked.figures, _widest(cut, frame)), steps=_steps(allowance, at_fold, where)),
        replaced=(garment.piece(piece.name),), resewn=others)


def parts_for(garment: Garment, name: str, width: float, most: int = MOST_PARTS) -> int:
    """Into how many equal parts a piece has to be divided along its grain to lie on a cloth of this width (mm).

    Raises:
        InputError: not even `most` parts are enough, or every number that is would have a seam run through a dart.
    """
    for parts in range(2, most + 1):
        options = JOIN.read({"piece": name, "parts": parts}, "cm", JOIN.name)
        with suppress(GeometryError):
            if build_join(garment, options).worked.of("widest_part") <= width:
                return parts
    raise InputError(f'"{name}" is too wide for this cloth even in {most} parts.')


# -- where ------------------------------------------------------------------------------------------


def _frame(piece: Piece, run: str) -> _Frame:
    grain = grain_of(piece)
    way = grain if run == ALONG else grain * 1j
    folds = [e for e in piece.edges if e.kind is EdgeKind.FOLD
             and parallel(way, e.path.end - e.path.start, _SAME_WAY)]
    if folds:
        way = unit(folds[0].path.end - folds[0].path.start)
        low, high = extent(piece, way * -1j)
        if dot(folds[0].path.start, way * -1j) - low > (high - low) / 2:
            way = -way
    return _Frame(way, tuple(e.name for e in folds), *extent(piece, way * -1j))


def _even(frame: _Frame, parts: int) -> tuple[tuple[float, ...], bool]:
    """Where joins divide it into equal parts, and whether one of them takes the place of the fold."""
    whole = frame.high - frame.low
    if not frame.fold:
        return tuple(frame.low + whole * k / parts for k in range(1, parts)), False
    first = 2.0 if parts % 2 == 0 else 1.0
    return tuple(frame.low + whole * (first + 2 * k) / parts for k in range((parts - 1) // 2)), parts % 2 == 0


def _place(piece: Piece, frame: _Frame, at: float, edge: str) -> float:
    if not edge:
        return frame.low + at
    wanted = " ".join(edge.lower().replace("_", " ").split()).removeprefix(piece.name.lower() + " ")
    own = next((e for e in piece.edges if e.name.lower() == wanted), None) or piece.edge(edge)
    places = [dot(p, frame.across) for p in own.path.flatten(0.05)]
    if max(places) + min(places) > frame.low + frame.high:
        return max(places) - at
    return min(places) + at


def _where(frame: _Frame, places: Sequence[float], options: Options) -> str:
    """How far the lines lie from what, in words."""
    if word_of(options, "from"):
        return f', {mm(length_of(options, "at"))} from "{word_of(options, "from")}"'
    first = "the fold" if frame.fold else "its outermost point on the left, the head of the grain up" \
        if word_of(options, "run") == ALONG else "its lower end"
    return ", " + " and ".join(mm(p - frame.low) for p in places) + f" from {first}"


# -- making it --------------------------------------------------------------------------------------


def _opened(piece: Piece, frame: _Frame, allowance: float) -> tuple[Piece, list[tuple[str, str, str]]]:
    """A piece on the fold as a pair with a seam there; and (piece, edge, seam) of each edge that was the fold."""
    edges = tuple(replace(e, kind=EdgeKind.SEAM, allowance=allowance) if e.name in frame.fold else e
                  for e in piece.edges)
    marks = tuple(Notch("join", name, MARK_AT * piece.edge(name).path.length) for name in frame.fold)
    whole = replace(piece, edges=edges, notches=(*piece.notches, *marks),
                    cut=replace(piece.cut, count=2 * piece.cut.count, mirrored=True))
    called = "join at the fold"
    return whole, [(piece.name, e, f"{piece.name} {called}" + (f", {e}" if len(frame.fold) > 1 else ""))
                   for e in frame.fold]


def _sewn(name: str, edge: str, seam: str, stretches: Sequence[Stretch]) -> Seam:
    """A left and a right sewn to each other."""
    on = next((s.piece for s in stretches if s.edge == edge), name)
    return Seam(seam, (EdgeRef(on, edge),), (EdgeRef(on, edge),))


def _divided(garment: Garment, piece: Piece, frame: _Frame, places: Sequence[float], allowance: float) -> Division:
    if not places:
        whole = tuple(Stretch(piece.name, e.name, 0.0, e.path.length) for e in piece.edges)
        return Division((piece,), (), whole)
    names = _free(f"{piece.name} ", len(places) + 1, [p.name for p in garment.pieces])
    edges = [e.name for e in piece.edges]
    joins = ("join",) if len(places) == 1 and "join" not in edges else _free("join ", len(places), edges)
    return divided(piece, frame.way, places, names, joins, allowance)


def _free(stem: str, count: int, taken: Sequence[str]) -> tuple[str, ...]:
    """Names with numbers that nothing has yet."""
    number = (f"{stem}{k}" for k in range(1, count + len(taken) + 1))
    return tuple(name for name in number if name not in taken)[:count]


def _widest(parts: Sequence[Piece], frame: _Frame) -> Figure:
    most = 0.0
    for part in parts:
        places = [dot(p, frame.across) for path in cutting_line(part) for p in path.flatten(0.05)]
        folds = [e for e in part.edges if e.name in frame.fold and e.kind is EdgeKind.FOLD]
        most = max(most, (max(places) - min(places)) * (2.0 if folds else 1.0))
    return Figure("widest_part", most, "the widest part across, allowances in it")


JOIN = Kind(
    "join", "a seam across a piece that is too wide or too long for the cloth",
    (Option("piece", Asks.TEXT, "the piece that is divided", needed=True),
     Option("run", Asks.CHOICE, "how the join runs", ALONG, words=(ALONG, ACROSS)),
     Option("parts", Asks.COUNT, "into how many equal parts; two of a piece on the fold have a seam in its place", 2.0,
            2, MOST_PARTS),
     Option("at", Asks.LENGTH, "in place of equal parts, how far from an edge that you name, or else from the fold, "
            "the left or the lower end", None, 20.0),
     Option("from", Asks.TEXT, 'the edge from which "at" is measured'),
     Option("allowance", Asks.LENGTH, "beyond both sides of the join", ALLOWANCE, 3.0, 50.0)),
    ("common practice, no published source: an allowance on both sides, the join sewn first, in place of the fold "
     "where a piece on the fold is halved",),
    join_sum, build_join,
    (Example({"parts": "3", "allowance": "1.5 cm"}, {"joins": 2, "cloth_taken": 60.0},
             "arithmetic: each join takes its allowance twice"),),
    ("joining seam", "dividing seam", "piecing seam"))

KINDS = (JOIN,)
