"""The pieces of a garment laid flat: stood upright once, sorted by what they cover, and a tape put to them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import hypot

from toilewright.fit.levels import (
    Spot,
    bodice_pieces,
    bust_levels,
    bust_point,
    centre_edge,
    fronts_first,
    place,
    skirt_pieces,
    upright,
)
from toilewright.geometry.point import Point
from toilewright.known import Known, Origin
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

LINE_ERROR = 0.3
"""mm; how far a printed line may be off (a wide pen line), for each width measured."""

TOLD_FROM_DART = 5.0
"""mm; how far a bust point told from its dart may be off (darts stop 1 to 2 1/2 in short: Threads no. 181)."""

HIP_DEPTH = 200.0
"""mm below the waist; where the hip is taken when neither the pieces nor the tape sheet say (common practice, no
published source)."""


@dataclass(frozen=True, slots=True)
class Read:
    """One length as it was read, and the names of the pieces it was read off."""

    value: Known
    pieces: tuple[str, ...]


def length(value: float, words: str, *pieces: Piece, error: float = 2 * LINE_ERROR,
           origin: Origin = Origin.READ) -> Read:
    """A length off one piece or several."""
    names = tuple(p.name for p in pieces)
    return Read(Known(value, origin, error, f"{words} of {' and '.join(names)}"), names)


def girth(parts: Sequence[tuple[Piece, float]], words: str, origin: Origin = Origin.READ, spread: float = 0.0,
          count: Callable[[Piece], int] | None = None) -> Read | None:
    """Sum of (piece, width of the drawn shape), each as often as it goes into one girth; None without pieces."""
    if not parts:
        return None
    often = count or times
    total = sum(often(piece) * width for piece, width in parts)
    error = hypot(spread, *(LINE_ERROR * 2 * often(piece) for piece, _ in parts))
    return length(total, words, *(p for p, _ in parts), error=error, origin=origin)


def times(piece: Piece) -> int:
    """How often the drawn shape goes into one girth: a half counts twice.

    >>> from toilewright.blocks.concert import concert_dress
    >>> garment = concert_dress().at("4")
    >>> times(garment.piece("bodice front")), times(garment.piece("sleeve"))
    (2, 1)
    """
    if piece.has_edge("cap"):
        return 1
    half = piece.on_fold or centre_edge(piece) is not None or (piece.cut.mirrored and piece.cut.count >= 2)
    return 2 if half else 1


def level_of(piece: Piece, *names: str) -> float | None:
    """Height of the first of these lines that an upright piece shows, or None."""
    for name in names:
        line = piece.line(name)
        if line is not None:
            return (line.start.imag + line.end.imag) / 2
    return None


@dataclass(frozen=True)
class Laid:
    """A garment laid out to be measured.

    Attributes:
        depth: where the hip is on pieces without a hip line (mm below the waist); None when nobody says.
    """

    garment: Garment
    depth: float | None = None

    @cached_property
    def bodice(self) -> tuple[Piece, ...]:
        """The pieces round the bust, upright, fronts first."""
        return tuple(map(upright, fronts_first(bodice_pieces(self.garment))))

    @cached_property
    def levels(self) -> tuple[dict[str, float], Origin | None]:
        """Heights of the bust on the bodice pieces; see :func:`toilewright.fit.levels.bust_levels`."""
        return bust_levels(self.bodice)

    def half(self, side: str) -> tuple[Piece, ...]:
        """The bodice pieces of the front or of the back, the one with the neck first."""
        return tuple(sorted((p for p in self.bodice if side in p.name), key=lambda p: not p.has_edge("neck")))

    def main(self, side: str) -> Piece | None:
        """The bodice piece with the neck, of the front or of the back; None where there is none."""
        return next((p for p in self.half(side) if p.has_edge("neck") or p.has_edge("shoulder")), None)

    @cached_property
    def bust(self) -> tuple[Piece, Spot] | None:
        """The front that shows the bust point, and where it lies; None where no piece shows it."""
        found = ((p, bust_point(p)) for p in self.bodice)
        return next(((p, spot) for p, spot in found if spot is not None), None)

    @cached_property
    def skirt(self) -> tuple[Piece, ...]:
        """The pieces that hang from the waist (skirt or trousers), upright, without a wrap skirt."""
        return tuple(map(upright, skirt_pieces(self.garment, wrapped=False)))

    @cached_property
    def wrap(self) -> tuple[Piece, ...]:
        """The pieces of a wrap skirt, upright."""
        return tuple(map(upright, skirt_pieces(self.garment, wrapped=True)))

    @cached_property
    def legs(self) -> tuple[Piece, ...]:
        """The pieces of trousers, upright."""
        return tuple(p for p in self.skirt if p.has_edge("inseam"))

    @cached_property
    def sleeve(self) -> Piece | None:
        """The sleeve, upright; None without one."""
        found = next((p for p in self.garment.pieces if p.has_edge("cap")), None)
        return None if found is None else upright(found)


def wrap_centre(piece: Piece) -> Point | None:
    """Where the centre crosses the waist of a piece that wraps beyond it; None for a piece that ends there."""
    if centre_edge(piece) is not None or piece.has_edge("crotch seam"):
        return None
    drawn = piece.landmark("centre waist")
    if drawn is not None:
        return drawn
    notch = next((n for n in piece.notches if n.name == "centre notch" and n.edge == "waist"), None)
    return piece.edge("waist").path.point_at(notch.at) if notch else None


def side_of_centre(piece: Piece) -> tuple[float, float] | None:
    """The part of a wrapping piece from the centre to the side (x from, x to); None for all of it."""
    centre, side = wrap_centre(piece), place(piece, "side waist")
    if centre is None or side is None:
        return None
    return (centre.real, float("inf")) if side.real > centre.real else (float("-inf"), centre.real)


def sewn(pieces: Iterable[Piece], edge: str) -> list[tuple[Piece, float]]:
    """Each piece that has the edge, with its length once darts are closed (mm)."""
    return [(p, p.sewn_length(edge)) for p in pieces if p.has_edge(edge)]
