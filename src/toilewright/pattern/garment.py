"""All pieces of a pattern in one size, and how they are sewn together."""

from __future__ import annotations

from dataclasses import dataclass, replace

from toilewright.errors import NameUnknown
from toilewright.pattern.piece import Piece


@dataclass(frozen=True, slots=True)
class EdgeRef:
    """One edge as part of a seam.

    Attributes:
        reverse: walked from its end to its start.
        times: how often it takes part (a skirt front cut as a pair, seen from a whole waistband: 2).
        part: of a seam that takes a stretch of the edge alone (a pocket in a side seam), where that begins and ends:
            arc lengths from the edge's start (mm); None for all of it.
    """

    piece: str
    edge: str
    reverse: bool = False
    times: int = 1
    part: tuple[float, float] | None = None

    def place(self, piece: Piece) -> tuple[float, float]:
        """Where its stretch begins and ends on the edge as sewn, darts closed (mm from the edge's start)."""
        if self.part is None:
            return 0.0, piece.sewn_length(self.edge)
        first, last = self.part
        return piece.sewn_at(self.edge, first), piece.sewn_at(self.edge, last)

    def length(self, piece: Piece) -> float:
        """How long its stretch is as sewn, once (mm)."""
        if self.part is None:
            return piece.sewn_length(self.edge)
        first, last = self.place(piece)
        return last - first


@dataclass(frozen=True, slots=True)
class Seam:
    """Two runs of edges that are sewn to each other.

    Attributes:
        name: e.g. ``side seam``.
        a, b: the edges of the two sides, in order along the seam, both walked in the same direction.
        ease: least and most that side b may be longer than side a and still be sewn, eased in (mm).
        ratio: side b gathered onto side a: length of b over length of a; None when not gathered.
        upon: does side b lie upon side a, as a facing or a lining does, instead of going on from it? Its ends then ask
            for no smooth run.
    """

    name: str
    a: tuple[EdgeRef, ...]
    b: tuple[EdgeRef, ...]
    ease: tuple[float, float] = (0.0, 0.0)
    ratio: float | None = None
    upon: bool = False


@dataclass(frozen=True)
class Garment:
    """One size of a pattern.

    Attributes:
        taken: of a stand-in for tissue that was measured with a tape, the flat lengths that were taken, by how much
            each is more than on the stand-in, and how far the tape may be off (mm); of drawn pieces None, as
            everything can be read off them.
    """

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...] = ()
    taken: tuple[tuple[str, float, float], ...] | None = None

    def piece(self, name: str) -> Piece:
        """The piece of that name.

        Raises:
            NameUnknown: there is none (the nearest name is offered).
        """
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise NameUnknown.among("piece", name, [p.name for p in self.pieces])

    def has(self, name: str) -> bool:
        """Is there a piece of that name?"""
        return any(p.name == name for p in self.pieces)

    def with_piece(self, piece: Piece) -> Garment:
        """The same garment with one piece (found by name) exchanged."""
        return replace(self, pieces=tuple(piece if p.name == piece.name else p for p in self.pieces))
