"""Corners and notches of a make, as the cloth step offers them and tells them."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.app.words import say
from toilewright.cutting.allowances import corners_of
from toilewright.make.finishing import own_of
from toilewright.make.outcome import Outcome
from toilewright.pattern.parts import CornerCut, EdgeKind, NotchCut
from toilewright.workroom.documents import CornerRow, MakeDoc

CUTS = tuple(cut.value for cut in CornerCut)
NOTCHES = tuple(cut.value for cut in NotchCut)


@dataclass(frozen=True, slots=True)
class CornerOffer:
    """One corner that can be cut in another way.

    Attributes:
        piece, before, after: its name, and the edges that meet there.
        text: all that, and how it is cut now, in words.
    """

    piece: str
    before: str
    after: str
    text: str


@dataclass(frozen=True, slots=True)
class CornerShown:
    """One corner of which she said how it is cut; `text` in words."""

    id: str
    name: str
    text: str
    on: bool


def corner_offers(outcome: Outcome) -> tuple[CornerOffer, ...]:
    """Every corner of the pattern's own pieces; what lies on a fold has none."""
    found = {}
    for piece in own_of(outcome.whole, outcome.extras).pieces:
        for corner in corners_of(piece):
            kinds = {piece.edge(name).kind for name in (corner.before, corner.after)}
            if corner.before != corner.after and EdgeKind.FOLD not in kinds:
                name = corner_name(piece.name, f"{corner.before}/{corner.after}")
                text = say("extras.corner_now", corner=name, cut=cut_words(corner.cut.value, corner.first))
                found.setdefault((piece.name, frozenset((corner.before, corner.after))),
                                 CornerOffer(piece.name, corner.before, corner.after, text))
    return tuple(found.values())


def corner_rows(make: MakeDoc) -> tuple[CornerShown, ...]:
    """The corners of which she said something, in her order."""
    return tuple(CornerShown(row.id, corner_name(row.piece, row.at), cut_words(row.cut, row.first), row.on)
                 for row in make.corners)


def corner_name(piece: str, at: str) -> str:
    """A corner by its piece and the two edges that meet there."""
    one, _, other = at.partition("/")
    return say("extras.corner_at", piece=piece, one=one.strip(), other=other.strip())


def cut_words(cut: str, first: str = "") -> str:
    """How a corner is cut, and which edge of it comes first where that is said."""
    if cut == CornerCut.MITRED or not first:
        return say(f"extras.cut_{cut}")
    return say(f"extras.first_{cut}", edge=first)


def same_corner(row: CornerRow, piece: str, at: str) -> bool:
    """Is a row about that corner, whichever of its edges is named first?"""
    edges = ({edge.strip().lower() for edge in text.split("/")} for text in (row.at, at))
    return row.piece.lower() == piece.lower() and next(edges) == next(edges)
