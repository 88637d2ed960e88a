"""A strip wider than its piece: drawn across the panel seam, with the panel on its other side laid to it.

As far as the strip is deep the two panels are laid together along their seam in the paper, and the strip is drawn over
both as over one piece (common practice, no published source). What shape the seam has there is lost in the strip, so
that only panels are laid together that lie flat side by side.
"""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from dataclasses import dataclass, replace

from toilewright.cutting.extra.beside import Strip, strip_beside
from toilewright.errors import InputError
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.pattern.garment import EdgeRef, Garment
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.piece import Piece

GAP = 3.0
"""mm between two panels laid together, or by which they lie over each other, at most; more is shape that the strip
would lack (common practice, no published source)."""

_LOOKED_AT = 12
"""Places along the depth of a strip where the gap is looked at."""


@dataclass(frozen=True, slots=True)
class Across:
    """A strip, and the panels that were laid to its piece to have room for it.

    Attributes:
        panels, seams: their names, and by which seams they were laid to it; none where the piece is wide enough.
        gap: the largest between two panels along the strip's depth (mm).
    """

    strip: Strip
    panels: tuple[str, ...] = ()
    seams: tuple[str, ...] = ()
    gap: float = 0.0


@dataclass(frozen=True, slots=True)
class _Laid:
    """A piece with a panel laid to it: only the line beside the strip goes on over both."""

    piece: Piece
    panel: str
    seam: str
    gap: float


def strip_across(garment: Garment, piece: Piece, names: Sequence[str], width: float) -> Across:
    """The strip of a piece beside some edges, across the seams to its neighbours where it is too narrow for it.

    Args:
        names: edges that follow on each other.
        width: mm.

    Raises:
        InputError: there is no room for it, with neighbours or without.
    """
    try:
        return Across(strip_beside(piece, names, width))
    except InputError:
        for ends in ((True,), (False,), (True, False)):
            found = _over(garment, piece, names, width, ends)
            if found is not None:
                return found
        raise


def _over(garment: Garment, piece: Piece, names: Sequence[str], width: float, ends: Sequence[bool]) -> Across | None:
    """The same with neighbours laid to the piece before the first of the edges (True), or behind the last (False)."""
    laid: list[_Laid] = []
    for first in ends:
        one = _laid_to(garment, laid[-1].piece if laid else piece, names, first, width)
        if one is None:
            return None
        laid.append(one)
    try:
        strip = strip_beside(laid[-1].piece, names, width)
    except InputError:
        return None
    return Across(strip, tuple(one.panel for one in laid), tuple(one.seam for one in laid),
                  max(one.gap for one in laid))


def _laid_to(garment: Garment, piece: Piece, names: Sequence[str], first: bool, width: float) -> _Laid | None:
    """A piece whose edge beside the strip goes on over its neighbour; None where none can be laid to it flat."""
    ring = piece.edges
    k = [e.name for e in ring].index(names[0] if first else names[-1])
    step = -1 if first else 1
    end, joined = ring[(k + step) % len(ring)], ring[(k + 2 * step) % len(ring)]
    found = _neighbour(garment, piece.name, joined.name)
    if found is None or joined.name in names or end.kind is not EdgeKind.SEAM:
        return None
    other, own, seam = found
    rest = other.edges
    j = [e.name for e in rest].index(own)
    further = rest[(j + step) % len(rest)]
    mine, theirs = joined.path, other.edge(own).path
    mine, theirs = (mine.reversed(), theirs) if first else (mine, theirs.reversed())
    put = _laid_together(theirs, mine, width)
    gap = _gap(theirs.mapped(put), mine, width)
    if gap > GAP or further.kind is not EdgeKind.SEAM:
        return None
    beyond = further.path.mapped(put)
    whole = (Path.joined([beyond.with_ends(end=end.path.start), end.path]) if first else
             Path.joined([end.path, beyond.with_ends(start=end.path.end)]))
    shut = Path.line(joined.path.start, whole.start) if first else Path.line(whole.end, joined.path.end)
    new = {end.name: whole, joined.name: shut}
    moved = beyond.length if first else 0.0
    return _Laid(replace(
        piece, edges=tuple(replace(e, path=new.get(e.name, e.path)) for e in ring), corners=(), lines=(),
        darts=tuple(replace(d, start=d.start + moved, end=d.end + moved) if d.edge == end.name else d
                    for d in piece.darts if d.edge != joined.name),
        notches=tuple(replace(n, at=n.at + moved) if n.edge == end.name else n
                      for n in piece.notches if n.edge != joined.name)), other.name, seam, gap)


def _neighbour(garment: Garment, piece: str, edge: str) -> tuple[Piece, str, str] | None:
    """The piece that an edge is sewn to, by which edge of it, in which seam, where the two lie side by side."""
    for seam in garment.seams:
        if len(seam.a) != 1 or len(seam.b) != 1 or seam.ratio is not None or seam.upon:
            continue
        for mine, theirs in ((seam.a[0], seam.b[0]), (seam.b[0], seam.a[0])):
            if (mine.piece, mine.edge) == (piece, edge) and _side_by_side(garment, mine, theirs):
                return garment.piece(theirs.piece), theirs.edge, seam.name
    return None


def _side_by_side(garment: Garment, mine: EdgeRef, theirs: EdgeRef) -> bool:
    one, other = garment.piece(mine.piece), garment.piece(theirs.piece)
    whole = mine.part is None and theirs.part is None and mine.reverse != theirs.reverse
    often = [p.cut.count * (2 if p.on_fold else 1) for p in (one, other)]
    return whole and one.name != other.name and often[0] == often[1] and not (
        one.darts_on(mine.edge) or other.darts_on(theirs.edge))


def _laid_together(theirs: Path, mine: Path, depth: float) -> Affine:
    """The rigid move that lays one line to another: its start to the start, and as far on as is asked (mm)."""
    reach = min(depth, theirs.length, mine.length)
    turned = cmath.phase((mine.point_at(reach) - mine.start) / (theirs.point_at(reach) - theirs.start))
    return Affine.shift(mine.start - theirs.start).then(Affine.turn(turned, mine.start))


def _gap(theirs: Path, mine: Path, depth: float) -> float:
    """How far two lines that start together lie from each other at most, as far on as is asked (mm)."""
    reach = min(depth, theirs.length, mine.length)
    places = [reach * k / _LOOKED_AT for k in range(1, _LOOKED_AT + 1)]
    return max(abs(theirs.point_at(s) - mine.point_at(s)) for s in places)
