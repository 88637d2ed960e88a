"""Allowances and corners as she wants them, put on the altered pieces. Seam lines never move."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from toilewright.cutting.allowances import corners_of
from toilewright.cutting.corners import partner_of, put, shared_reach, spot_at, square, with_corners
from toilewright.cutting.notching import with_counts
from toilewright.errors import InputError, NameUnknown
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Corner, CornerCut, Edge, EdgeKind, NotchCut
from toilewright.pattern.piece import Piece
from toilewright.units import show_length

ALL = "all"
"""Every edge that is no fold."""

KINDS = {"seam": EdgeKind.SEAM, "seams": EdgeKind.SEAM, "hem": EdgeKind.HEM, "hems": EdgeKind.HEM,
         "opening": EdgeKind.OPENING, "openings": EdgeKind.OPENING, "raw edge": EdgeKind.FREE,
         "raw edges": EdgeKind.FREE}
"""Words for all edges of one kind."""

LEAST = 3.0
"""mm; less cannot be sewn (common practice, no published source); 0 is for an edge that is bound or left raw."""

MOST = 100.0
"""mm; more beyond a seam line is a slip of the pen."""

MOST_TURNED = 300.0
"""mm; the same for what is turned back: a hem, a facing grown on at an opening."""

_SIDES = (" left", " right")


@dataclass(frozen=True, slots=True)
class AllowanceWish:
    """One allowance asked for.

    Attributes:
        at: ``all``, a kind of edge (``seams``, ``hem``, ``openings``, ``raw edges``), the name of an edge on whatever
            piece, the name of a piece, or a piece and its edge, such as ``bodice front/neck``.
        amount: mm.
    """

    at: str
    amount: float


@dataclass(frozen=True, slots=True)
class CornerWish:
    """How one corner is to be cut.

    Attributes:
        edges: the two that meet there.
        first: of the two, the seam that is sewn first, or the edge that is turned back; "" to leave it to the trade.
    """

    piece: str
    edges: tuple[str, str]
    cut: CornerCut
    first: str = ""


def with_allowances(garment: Garment, wishes: Sequence[AllowanceWish] = (), corners: Sequence[CornerWish] = (),
                    notches: NotchCut | None = None, unit: str = "cm") -> Garment:
    """The garment cut as she wants it: allowances, corners, balance marks. No seam line moves.

    What is said more closely counts: an edge of one piece before a piece, a piece before an edge's name, that before
    a kind of edge, that before ``all``. Corners of which nothing is said are cut as the trade cuts them
    (:func:`toilewright.cutting.corners.with_corners`).

    Args:
        notches: how balance marks are cut; None to leave them as they are.
        unit: in which amounts are told.

    Raises:
        NameUnknown: an edge or piece that is not there (the nearest name is offered).
        InputError: an amount that cannot be meant, or a corner that is none.
    """
    for wish in sorted(wishes, key=lambda w: _closeness(garment, w)):
        garment = _allowed(garment, wish, unit)
    garment = _cornered(garment, corners)
    garment = with_counts(with_corners(garment))
    if notches is None:
        return garment
    return replace(garment, pieces=tuple(
        replace(p, notches=tuple(replace(n, cut=notches) for n in p.notches)) for p in garment.pieces))


# -- allowances -------------------------------------------------------------------------------------


def _closeness(garment: Garment, wish: AllowanceWish) -> int:
    if "/" in wish.at:
        return 4
    at = _plain(wish.at)
    return 0 if at == ALL else 3 if garment.has(at) else 1 if at in KINDS else 2


def _plain(words: str) -> str:
    return " ".join(words.replace("_", " ").split()).lower()


def _allowed(garment: Garment, wish: AllowanceWish, unit: str) -> Garment:
    found = places(garment, wish.at)
    for piece, edge in found:
        _check(wish, garment.piece(piece).edge(edge), piece, unit)
    for piece in garment.pieces:
        names = {edge for name, edge in found if name == piece.name}
        if names:
            garment = garment.with_piece(replace(piece, edges=tuple(
                replace(e, allowance=wish.amount) if e.name in names else e for e in piece.edges)))
    return garment


def places(garment: Garment, at: str) -> tuple[tuple[str, str], ...]:
    """(piece, edge) of every edge that the words mean; folds only where one is named with its piece.

    Raises:
        NameUnknown: they mean none.
    """
    if "/" in at:
        first, _, last = at.partition("/")
        piece = garment.piece(_known(first, [p.name for p in garment.pieces]))
        return tuple((piece.name, name) for name in _edges_of(piece, last))
    word = _plain(at)
    edges = [(p.name, e) for p in garment.pieces for e in p.edges if e.kind is not EdgeKind.FOLD]
    if word == ALL:
        return tuple((p, e.name) for p, e in edges)
    by_kind = tuple((p, e.name) for p, e in edges if word in KINDS and e.kind is KINDS[word])
    by_piece = tuple((p, e.name) for p, e in edges if p.lower() == word)
    by_name = tuple((p, e.name) for p, e in edges if _named(e.name, word))
    found = by_piece or by_kind or by_name
    if not found and word in KINDS:
        raise InputError(f'An allowance is wanted for "{at}", but no piece has such an edge; leave it out.')
    if not found:
        known = [ALL, *dict.fromkeys(KINDS), *dict.fromkeys(e.name for _, e in edges),
                 *(p.name for p in garment.pieces)]
        listed = dict.fromkeys(e.name for _, e in edges)
        raise NameUnknown.among("edge", at, known, "the allowances", listed)
    return found


def _named(name: str, word: str) -> bool:
    plain = name.lower()
    return plain == word or any(plain == word + side for side in _SIDES)


def _known(word: str, names: Sequence[str]) -> str:
    """The name as it is written on the pattern, where only capitals or spaces differ."""
    return next((n for n in names if n.lower() == _plain(word)), word.strip())


def _edges_of(piece: Piece, word: str) -> tuple[str, ...]:
    found = tuple(e.name for e in piece.edges if _named(e.name, _plain(word)))
    return found or (piece.edge(word.strip()).name,)


def _check(wish: AllowanceWish, edge: Edge, piece: str, unit: str) -> None:
    """Raise for an amount that cannot be meant on an edge."""
    said, where = show_length(wish.amount, unit), f'"{edge.name}" of "{piece}"'
    most = MOST_TURNED if edge.kind in (EdgeKind.HEM, EdgeKind.OPENING) else MOST
    if edge.kind is EdgeKind.FOLD and wish.amount != 0:
        raise InputError(f"An allowance of {said} is wanted at {where}, which lies on the fold of the cloth and takes "
                         "none; leave it out.")
    if wish.amount < 0:
        raise InputError(f'The allowance "{wish.at}" is {said}; cloth beyond the seam line is counted from 0 upwards.')
    if 0 < wish.amount < LEAST:
        raise InputError(f'The allowance "{wish.at}" is {said}, too little to be sewn at {where}; give at least '
                         f"{show_length(LEAST, unit)}, or 0 for an edge that is bound or left raw.")
    if wish.amount > most:
        raise InputError(f'The allowance "{wish.at}" is {said}, more than can be meant at {where}; give at most '
                         f"{show_length(most, unit)}.")


# -- corners ----------------------------------------------------------------------------------------


def _cornered(garment: Garment, wishes: Sequence[CornerWish]) -> Garment:
    """Corners as asked for; the partner of a square or folded corner is cut alike where nothing is said of it."""
    asked: dict[tuple[str, int], tuple[CornerWish, str]] = {}
    for wish in wishes:
        piece = garment.piece(_known(wish.piece, [p.name for p in garment.pieces]))
        names = tuple(_edges_of(piece, e)[0] for e in wish.edges)
        index = _corner(piece, names)
        asked[piece.name, index] = wish, _first(garment, piece, index, wish)
    corners: dict[tuple[str, int], Corner] = {}
    for (name, index), (wish, first) in asked.items():
        piece = garment.piece(name)
        before, after = piece.edges[index].name, piece.edges[(index + 1) % len(piece.edges)].name
        corners[name, index] = Corner(before, after, wish.cut, first)
        spot = spot_at(piece, index, first)
        partner = partner_of(garment, spot)
        if wish.cut is not CornerCut.SQUARE or partner is None:
            continue
        reach = shared_reach(garment, spot, partner)
        other = asked.get((partner.piece, partner.index))
        if other is None or other[0].cut is CornerCut.SQUARE:
            corners[name, index] = square(piece, spot, reach)
            corners[partner.piece, partner.index] = square(garment.piece(partner.piece), partner, reach)
    return put(garment, corners, over=True)


def _corner(piece: Piece, names: tuple[str, str]) -> int:
    """The number of the edge that arrives at the corner of two edges."""
    n = len(piece.edges)
    for i in range(n):
        if {piece.edges[i].name, piece.edges[(i + 1) % n].name} == set(names):
            return i
    i = [e.name for e in piece.edges].index(names[0])
    raise InputError(f'"{names[0]}" and "{names[1]}" of "{piece.name}" do not meet in a corner; next to "{names[0]}" '
                     f'are "{piece.edges[i - 1].name}" and "{piece.edges[(i + 1) % n].name}".')


def _first(garment: Garment, piece: Piece, index: int, wish: CornerWish) -> str:
    """Which of the two edges is sewn or turned back first."""
    usual = corners_of(piece)[index]
    pair = (usual.before, usual.after)
    if wish.cut is CornerCut.MITRED:
        return ""
    if wish.first:
        first = _edges_of(piece, wish.first)[0]
        if first not in pair:
            raise InputError(f'"{wish.first}" is no edge of the corner of "{pair[0]}" and "{pair[1]}" of '
                             f'"{piece.name}"; write one of the two.')
        return first
    kinds = {name: piece.edge(name).kind for name in pair}
    turned = [n for n in pair if kinds[n] is EdgeKind.HEM] or [n for n in pair if kinds[n] is EdgeKind.OPENING]
    if wish.cut is CornerCut.FOLDED and len(turned) == 1:
        return turned[0]
    seams = [n for n in pair if partner_of(garment, spot_at(piece, index, n)) is not None]
    left = seams or [n for n in pair if kinds[n] is EdgeKind.SEAM and n not in turned]
    return left[0] if left else _plain_or(wish.edges[0], pair)


def _plain_or(word: str, pair: tuple[str, str]) -> str:
    return next((n for n in pair if _named(n, _plain(word))), pair[0])
