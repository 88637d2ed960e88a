"""Facings and linings: copied from the piece they belong to, edge by edge, and their own edges drawn along."""

from __future__ import annotations

import cmath
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from toilewright.fit.follow.seams import neighbours
from toilewright.fit.moves.edges import STAY, Redrawn, bend, corner, ends_at, redraw_edge, run_on, shift_end, towards
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, turn, unit
from toilewright.pattern.garment import Garment, Seam
from toilewright.pattern.piece import Piece

SAME = 0.5
"""mm; lines that lie so near all along are one and the same (a printed pen line)."""

MOVED = 0.3
"""mm; a line that has changed by less has not changed."""

WORDS = ("facing", "lining")
"""What a piece is called that is cut like another one."""


@dataclass(frozen=True, slots=True)
class _Stretch:
    """An edge of a facing that lies on its piece's edge of that name: all of it, or so much from one end (mm)."""

    edge: str
    length: float | None = None
    from_end: bool = False

    def on(self, piece: Piece) -> bool:
        """Has the piece such a stretch (a panel that was cut off may be too narrow)?"""
        return piece.has_edge(self.edge) and (self.length or 0.0) < piece.edge(self.edge).path.length + SAME

    def of(self, piece: Piece) -> Path:
        path = piece.edge(self.edge).path
        if self.length is None or self.length >= path.length:
            return path
        return path.sub(path.length - self.length, path.length) if self.from_end else path.sub(0.0, self.length)


def copy_cloths(before: Garment, after: Garment, seams: Sequence[Seam], moved: Collection[str]) -> Garment:
    """Every facing and lining of a piece that was altered copied from it anew.

    Args:
        seams: those by which a facing is known to belong to a piece.
        moved: pieces that were altered.
    """
    for cloth in after.pieces:
        if cloth.name in moved or not is_cloth(cloth.name):
            continue
        name, edge = _belongs_to(before, seams, cloth)
        if name in moved and after.has(name):
            copied = _followed(cloth, before.piece(name), after.piece(name), edge)
            after = after if copied is cloth else after.with_piece(copied)
    return after


def is_cloth(name: str) -> bool:
    """Is a piece called a facing or a lining?"""
    return any(w in name for w in WORDS)


def _belongs_to(garment: Garment, seams: Sequence[Seam], cloth: Piece) -> tuple[str, str]:
    """The piece of a facing or lining and the edge they share: what it is sewn to there, or the piece of its name."""
    for seam in seams:
        for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a)):
            if len(mine) == len(theirs):
                for m, t in zip(mine, theirs, strict=True):
                    if m.piece == cloth.name and m.edge == t.edge and not is_cloth(t.piece):
                        return t.piece, t.edge
    plain = " ".join(w for w in cloth.name.split() if w not in WORDS)
    edges = cloth.edges if garment.has(plain) else ()
    return next(((plain, e.name) for e in edges if garment.piece(plain).has_edge(e.name)), ("", ""))


def _followed(cloth: Piece, old: Piece, new: Piece, edge: str) -> Piece:
    """One facing or lining after its piece."""
    if not new.has_edge(edge) or all(old.edge(e.name).path is new.edge(e.name).path for e in cloth.edges
                                     if old.has_edge(e.name) and new.has_edge(e.name)):
        return cloth
    for a, b in ((old, new), _turned_over(old, new)):
        put = _laid(a.edge(edge).path, cloth.edge(edge).path)
        if put is not None and not old.darts_on(edge) and not new.darts_on(edge):
            return _copied(cloth, a, b, put)
    return _by_its_end(cloth, old, new, edge)


def _turned_over(old: Piece, new: Piece) -> tuple[Piece, Piece]:
    return old.mirrored(0j, 1j), new.mirrored(0j, 1j)


def _laid(path: Path, on: Path) -> Affine | None:
    """The rigid move that lays one line on another from end to end; None when they are not the same."""
    if abs(path.length - on.length) > SAME:
        return None
    way = unit((on.end - on.start) / (path.end - path.start))
    put = Affine(way, 0j, on.start - way * path.start)
    return put if _apart(path.mapped(put), on) < SAME else None


def _apart(one: Path, other: Path) -> float:
    """How far two lines are apart, or (quicker, and never less) the points that they are drawn from (mm)."""
    if [h is None for h in one.handles] == [h is None for h in other.handles]:
        drawn = max(abs(a - b) for a, b in zip(_points(one), _points(other), strict=True))
        if drawn < MOVED:
            return drawn
    return max(abs(one.point_at(one.length * k / 8) - other.point_at(other.length * k / 8)) for k in range(9))


def _points(path: Path) -> list[Point]:
    return [*path.nodes, *(h for pair in path.handles if pair for h in pair)]


# -- copied ------------------------------------------------------------------------------------------


def _copied(cloth: Piece, old: Piece, new: Piece, put: Affine) -> Piece:
    shared = {s.edge: s for e in cloth.edges for s in [_stretch(cloth, old, put, e.name)] if s and s.on(new)}
    fresh = {name: s.of(new).mapped(put) for name, s in shared.items()}
    if all(_apart(fresh[n], s.of(old).mapped(put)) < MOVED for n, s in shared.items()):
        return cloth
    drawn = {n: Redrawn(n, p, (0.0, cloth.edge(n).path.length), (0.0, p.length)) for n, p in fresh.items()}
    drawn |= {e.name: _along(cloth, e.name, drawn) for e in cloth.edges if e.name not in drawn}
    if not _meets(cloth, drawn):
        return cloth
    marks = {m.name: p for m in cloth.landmarks for p in [new.landmark(m.name)] if p is not None}
    copied = redraw_edge(cloth, *drawn.values(), landmarks={n: put(p) for n, p in marks.items()})
    whole = {n for n, s in shared.items() if s.length is None}
    return replace(copied, darts=(*(d for d in copied.darts if d.edge not in whole),
                                  *(replace(d, apex=put(d.apex)) for d in new.darts if d.edge in whole)))


def _stretch(cloth: Piece, old: Piece, put: Affine, edge: str) -> _Stretch | None:
    """How an edge of the facing lies on its piece; None when it does not."""
    if not old.has_edge(edge):
        return None
    mine, length = cloth.edge(edge).path, cloth.edge(edge).path.length
    ways = (_Stretch(edge), _Stretch(edge, length), _Stretch(edge, length, True))
    return next((s for s in ways if _apart(s.of(old).mapped(put), mine) < SAME), None)


def _along(cloth: Piece, edge: str, drawn: Mapping[str, Redrawn]) -> Redrawn:
    """An edge of the facing's own, carried at each end by what it meets there: as deep as it was, at the same angle."""
    path = cloth.edge(edge).path
    before, after = neighbours(cloth, edge)
    first, last = STAY, STAY
    if before in drawn:
        was, now = cloth.edge(before).path, drawn[before].path
        first = _carrier(was.end, now.end, turn(was.end_tangent, now.end_tangent))
    if after in drawn:
        was, now = cloth.edge(after).path, drawn[after].path
        last = _carrier(was.start, now.start, turn(was.start_tangent, now.start_tangent))
    fresh = bend(path, first, last)
    return Redrawn(edge, fresh, (0.0, path.length), (0.0, fresh.length))


def _carrier(was: Point, now: Point, angle: float) -> Affine:
    way = cmath.rect(1.0, angle)
    return Affine(way, 0j, now - way * was)


def _meets(cloth: Piece, drawn: Mapping[str, Redrawn]) -> bool:
    """Do the new edges still come together in their corners?"""
    paths = [drawn[e.name].path for e in cloth.edges]
    return all(abs(paths[i - 1].end - p.start) < 1e-3 for i, p in enumerate(paths))


# -- where the lines are not the same --------------------------------------------------------------


def _by_its_end(cloth: Piece, old: Piece, new: Piece, edge: str) -> Piece:
    """A facing that is drawn otherwise than its piece: longer where the piece has grown, its shoulder turned."""
    beside = next((n for n in ("shoulder", *neighbours(cloth, edge))
                   if n in neighbours(cloth, edge) and n in neighbours(old, edge) and n in neighbours(new, edge)), None)
    if beside is None:
        return cloth
    more = new.sewn_length(edge) - old.sewn_length(edge)
    angle = _opens(new, edge, beside) - _opens(old, edge, beside)
    if abs(more) < MOVED and abs(angle) < 1e-4:
        return cloth
    same_hand = ends_at(cloth, edge, beside) == ends_at(old, edge, beside)
    here = corner(cloth, edge, beside)
    line = run_on(cloth, edge, beside, more) if abs(more) > 1e-6 else None
    goal = here if line is None else line.path.end if ends_at(cloth, edge, beside) else line.path.start
    move = Affine.turn(angle if same_hand else -angle, here).then(Affine.shift(goal - here))
    path = cloth.edge(beside).path
    outer = next(n for n in neighbours(cloth, beside) if n != edge)
    drawn = [Redrawn(beside, path.mapped(move), (0.0, path.length), (0.0, path.length)),
             shift_end(cloth, outer, beside, move), *([line] if line else [])]
    return redraw_edge(cloth, *drawn)


def _opens(piece: Piece, edge: str, beside: str) -> float:
    """Angle from the edge to its neighbour where they meet."""
    return turn(towards(piece, edge, beside).end_tangent, -towards(piece, beside, edge).end_tangent)
