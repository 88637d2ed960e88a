"""Where an extra piece goes: edges by the names that she gives them, in order along the line that they make together.

A garment shows one half of her, so a line goes on over a fold, or over a centre seam, to her other half; a sleeve's or
a trouser leg's closes into a ring of its own and is there twice.
"""

from __future__ import annotations

import cmath
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from toilewright.errors import InputError, NameUnknown
from toilewright.geometry.point import turn
from toilewright.pattern.garment import EdgeRef, Garment
from toilewright.pattern.parts import EdgeKind, Notch
from toilewright.pattern.piece import Piece

SIDES = (" left", " right")

INSIDE = ("facing", "lining", "interfacing")
"""What lies inside the garment: an edge of these is meant only where it is named in full."""

AT_JOINT = 2.0
"""mm; a mark this near to the end of an edge is the seam itself."""

Named = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Run:
    """A line of edges that something is sewn along.

    Attributes:
        name: as she called it.
        refs: in order along the whole line, each once.
        copies: how often the garment has such a line (2 for sleeve hems).
        closed: does it close into a ring?
        length: as sewn, darts closed (mm).
    """

    name: str
    refs: tuple[EdgeRef, ...]
    copies: int
    closed: bool
    length: float

    @property
    def pieces(self) -> tuple[str, ...]:
        """The pieces that it runs over, each once."""
        return tuple(dict.fromkeys(r.piece for r in self.refs))

    @property
    def edges(self) -> tuple[Named, ...]:
        """Its edges, each once."""
        return tuple(dict.fromkeys((r.piece, r.edge) for r in self.refs))


def find_run(garment: Garment, said: str, option: str = "edge") -> Run:
    """The line that she means.

    Args:
        said: ``piece edge`` or ``piece.edge``; an edge by itself (all pieces of the garment's outside that have it);
            the beginning of the pieces' names and the edge (``skirt hem``); a seam's name; several of these joined by
            ``+``.

    Raises:
        NameUnknown: nothing is called so.
        InputError: it could be several lines.
    """
    groups = [_meant(garment, part) for part in said.split("+")]
    corners = _corners(garment)
    if len(groups) == 1:
        chains = _chains(garment, groups[0], corners)
        chain = chains[0] if len(chains) == 1 else _outermost(garment, chains, said, option)
    else:
        wanted = tuple(dict.fromkeys(e for g in groups for e in g))
        chains = _chains(garment, wanted, corners)
        chain = chains[0] if len(chains) == 1 else [EdgeRef(*e) for e in wanted]
    return _whole(garment, " ".join(said.split()), chain, corners)


def find_edge(garment: Garment, said: str, option: str = "edge") -> tuple[Piece, str]:
    """The one edge that she means, with its piece.

    Raises:
        NameUnknown: nothing is called so.
        InputError: it could be several edges.
    """
    found = _meant(garment, said)
    if len(found) > 1:
        known = ", ".join(f'"{p} {e}"' for p, e in found)
        raise InputError(f'"{option}" says "{said}", which could be {known}; say which of them.')
    piece, edge = found[0]
    return garment.piece(piece), edge


def find_piece(pieces: Sequence[Piece], said: str) -> Piece:
    """The one of these pieces that she names, however its words are set apart (NameUnknown, with the nearest)."""
    wanted = " ".join(said.lower().replace("_", " ").split())
    for piece in pieces:
        if piece.name.lower() == wanted:
            return piece
    raise NameUnknown.among("piece", said.strip(), [p.name for p in pieces], "this garment")


def how_often(piece: Piece) -> int:
    """How often the garment has each edge of a piece."""
    return piece.cut.count * (2 if piece.on_fold else 1)


# -- names ------------------------------------------------------------------------------------------


def _plain(text: str) -> str:
    return " ".join(text.lower().replace(".", " ").replace(":", " ").replace("_", " ").split())


def _sideless(text: str) -> str:
    return next((text.removesuffix(s) for s in SIDES if text.endswith(s)), text)


def _meant(garment: Garment, said: str) -> tuple[Named, ...]:
    wanted = _plain(said)
    edges = [(p.name, e.name) for p in garment.pieces for e in p.edges]
    exact = [(p, e) for p, e in edges if _plain(f"{p} {e}") == wanted]
    exact = exact or [(p, e) for p, e in edges if _plain(f"{_sideless(p)} {_sideless(e)}") == wanted]
    if exact:
        return tuple(exact)
    for seam in garment.seams:
        if _plain(seam.name) == wanted or _plain(seam.name.split(",")[0]) == wanted:
            return tuple(dict.fromkeys((r.piece, r.edge) for s in garment.seams for r in s.a
                                       if s.name.split(",")[0] == seam.name.split(",")[0]))
    loose = [(p, e) for p, e in edges if not any(w in p for w in INSIDE) and _loosely(p, e, wanted)]
    if loose:
        return tuple(loose)
    known = [f"{p} {e}" for p, e in edges] + [s.name for s in garment.seams] + [e for _, e in edges]
    raise NameUnknown.among("edge", said, known, "this garment")


def _loosely(piece: str, edge: str, wanted: str) -> bool:
    edge = _sideless(_plain(edge))
    if wanted == edge:
        return True
    first = wanted.removesuffix(edge).strip()
    return wanted.endswith(f" {edge}") and _plain(piece).startswith(f"{first} ")


def _outermost(garment: Garment, chains: Sequence[Sequence[EdgeRef]], said: str, option: str) -> Sequence[EdgeRef]:
    """Of several lines of one name the one that nothing is sewn to: the hem of a skirt is that of its last tier."""
    sewn = {(r.piece, r.edge) for s in garment.seams for r in (*s.a, *s.b)}
    free = [c for c in chains if not any((r.piece, r.edge) in sewn for r in c)]
    if len(free) != 1:
        names = ", ".join('"' + " + ".join(f"{r.piece} {r.edge}" for r in c) + '"' for c in (free or chains))
        raise InputError(f'"{option}" says "{said}", which could be {names}; write one of these.')
    return free[0]


# -- lines ------------------------------------------------------------------------------------------

Corner = tuple[str, int]


def _corners(garment: Garment) -> dict[Corner, Corner]:
    """For every corner of every piece the one that stands for all that come together with it when sewn."""
    parent: dict[Corner, Corner] = {(p.name, i): (p.name, i) for p in garment.pieces for i in range(len(p.edges))}

    def root(c: Corner) -> Corner:
        while parent[c] != c:
            c = parent[c]
        return c

    for seam in garment.seams:
        sides = [side for side in (seam.a, seam.b) if not any(r.part for r in side)]
        for side in sides:
            for one, other in pairwise(side):
                parent[root(_end(garment, one, last=True))] = root(_end(garment, other, last=False))
        if len(sides) == 2 and not any(_twice(side) for side in sides):
            (first, *_), (second, *_) = sides
            parent[root(_end(garment, first, last=False))] = root(_end(garment, second, last=False))
            parent[root(_end(garment, sides[0][-1], last=True))] = root(_end(garment, sides[1][-1], last=True))
    return {c: root(c) for c in parent}


def _twice(side: Sequence[EdgeRef]) -> bool:
    """Does one edge stand for both her sides, or for front and back? Its two ends are then not one place."""
    return any(r.times > 1 for r in side) or len({(r.piece, r.edge) for r in side}) < len(side)


def _end(garment: Garment, ref: EdgeRef, last: bool) -> Corner:
    piece = garment.piece(ref.piece)
    i = piece.edges.index(piece.edge(ref.edge))
    return piece.name, (i + 1) % len(piece.edges) if last is not ref.reverse else i


def _chains(garment: Garment, names: Iterable[Named], corners: dict[Corner, Corner]) -> list[list[EdgeRef]]:
    """Edges put in order, end to end, as many lines as they make."""
    left = [EdgeRef(*n) for n in names]
    ends = {r: (corners[_end(garment, r, False)], corners[_end(garment, r, True)]) for r in left}
    chains = []
    while left:
        degree: dict[Corner, int] = {}
        for r in left:
            for c in ends[r]:
                degree[c] = degree.get(c, 0) + 1
        first = next((r for r in left if ends[r][0] != ends[r][1] and 1 in (degree[ends[r][0]], degree[ends[r][1]])),
                     left[0])
        reverse = degree[ends[first][0]] != 1 and degree[ends[first][1]] == 1
        chain, at = [replace(first, reverse=reverse)], ends[first][0 if reverse else 1]
        left.remove(first)
        while follower := next((r for r in left if at in ends[r]), None):
            backwards = ends[follower][0] != at
            chain.append(replace(follower, reverse=backwards))
            at = ends[follower][0 if backwards else 1]
            left.remove(follower)
        chains.append(chain)
    return chains


def _whole(garment: Garment, name: str, half: Sequence[EdgeRef], corners: dict[Corner, Corner]) -> Run:
    """The line all round her, from the half that the pieces show."""
    often = min(how_often(garment.piece(r.piece)) for r in half)
    ends = _end(garment, half[0], False), _end(garment, half[-1], True)
    ring = corners[ends[0]] == corners[ends[1]]
    goes_on = [_goes_on(garment, half[0], False), _goes_on(garment, half[-1], True)]
    alone = len({r.piece for r in half}) == 1 and not garment.piece(half[0].piece).on_fold
    if ring or often == 1 or (alone and goes_on == [1, 1]) or goes_on == [0, 0]:
        refs, copies, closed = tuple(half), often, ring or goes_on == [1, 1]
    else:
        back = tuple(replace(r, reverse=not r.reverse) for r in reversed(half))
        there = tuple(half)
        if goes_on[1] < goes_on[0]:
            there, back = back, there
        closed = min(goes_on) > 0
        refs = (*there, *back) * (often // 2 if closed else 1)
        copies = 1 if closed else often // 2
    length = sum(garment.piece(r.piece).sewn_length(r.edge) for r in refs)
    return Run(name, refs, copies, closed, length)


def _goes_on(garment: Garment, ref: EdgeRef, last: bool) -> int:
    """Does a line go on beyond the end of an edge: 2 over a fold, 1 over a seam that is sewn to its own twin, 0 not."""
    piece = garment.piece(ref.piece)
    i = piece.edges.index(piece.edge(ref.edge))
    beside = piece.edges[(i + 1) % len(piece.edges) if last is not ref.reverse else i - 1]
    return {EdgeKind.FOLD: 2, EdgeKind.SEAM: 1}.get(beside.kind, 0)


# -- places on a line -------------------------------------------------------------------------------


def place_on(garment: Garment, run: Run, at: float) -> tuple[Piece, str, float] | None:
    """The piece, edge and arc length from that edge's start (mm) of a place on a line; None at a seam that crosses it.

    Args:
        at: mm from the start of the line, darts closed.
    """
    for ref in run.refs:
        piece = garment.piece(ref.piece)
        length = piece.sewn_length(ref.edge)
        if at <= length + AT_JOINT:
            if at < AT_JOINT or at > length - AT_JOINT:
                return None
            return piece, ref.edge, unsewn(piece, ref.edge, length - at if ref.reverse else at)
        at -= length
    return None


def unsewn(piece: Piece, edge: str, at: float) -> float:
    """An arc length with the darts open, from one with the darts closed (mm)."""
    for dart in piece.darts_on(edge):
        if at <= dart.start:
            break
        at += dart.end - dart.start
    return at


def with_notches(garment: Garment, run: Run, places: Iterable[float], name: str, count: int = 1) -> tuple[Piece, ...]:
    """The pieces along a line with balance marks at places on it (mm from its start); none where a seam crosses it."""
    changed: dict[str, Piece] = {}
    for place in places:
        found = place_on(garment, run, place)
        if found is None:
            continue
        piece, edge, at = found
        piece = changed.get(piece.name, piece)
        if not any(n.name == name and n.edge == edge and abs(n.at - at) < 0.5 for n in piece.notches):
            changed[piece.name] = replace(piece, notches=(*piece.notches, Notch(name, edge, at, count)))
    return tuple(changed.values())


def turning(garment: Garment, run: Run) -> float:
    """By how much a line turns with its darts closed (radians); below 0 where the cloth lies outside the bend, as at a
    neck, above 0 where it lies inside."""
    total = 0.0
    for ref in run.refs:
        piece = garment.piece(ref.piece)
        path = piece.edge(ref.edge).path
        total += turn(path.start_tangent, path.end_tangent)
        for dart in piece.darts_on(ref.edge):
            first, second = piece.feet(dart)
            total -= abs(cmath.phase((second - dart.apex) / (first - dart.apex)))
    return total
