"""Which of front and back an alteration is made on, and edges that both of them draw anew in the same way."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Option, Options, chosen
from toilewright.fit.frame import centre_of, down, need_edges, needed_piece
from toilewright.fit.moves.edges import corner, ends_at, other_end
from toilewright.fit.moves.ring import Place
from toilewright.geometry.point import Point, dot
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

WAYS = ("front", "back", "both")

HINGE_SHARE = 0.42
"""Of the armhole from the underarm up: where cuts end when it has no notch (lower third to half)."""


def where_it_is(usual: str) -> Option:
    """The option that says on which of front and back."""
    return Option("where", usual, *(w for w in WAYS if w != usual))


def halves(garment: Garment, name: str, options: Options, usual: str, *edges: str) -> tuple[Piece, ...]:
    """Front, back or both, as the option ``where`` says; ``front`` and ``back`` name the pieces.

    Args:
        usual: what is done when the option is not given.
        edges: what each of them must have.

    Raises:
        AlterationError: a piece or an edge is missing.
    """
    where = chosen(name, options, where_it_is(usual))
    found = [needed_piece(garment, name, {"piece": options.get(side, _usual(garment, side, edges))}, "")
             for side in ("front", "back") if where in (side, "both")]
    for piece in found:
        need_edges(piece, name, *edges)
    return tuple(found)


def _usual(garment: Garment, side: str, edges: tuple[str, ...]) -> str:
    """The bodice of that side; with a princess seam, the panel at the side where that one has all the edges."""
    names = (f"bodice {side}", f"bodice side {side}")
    return next((n for n in names if garment.has(n) and all(garment.piece(n).has_edge(e) for e in edges)), names[0])


def needed_centre(piece: Piece, name: str) -> str:
    """The edge at the centre of a piece.

    Raises:
        AlterationError: it has none.
    """
    centre = centre_of(piece)
    if centre is None:
        raise AlterationError(f'"{name}" on "{piece.name}" needs the edge "centre front" or "centre back", which the '
                              "piece does not have; correct the names in the labels file.")
    return centre


def at_notch(piece: Piece) -> Place:
    """The balance mark of the armhole, where cuts end; a little below its middle where none is marked."""
    mark = next((n for n in piece.notches if n.edge == "armhole"), None)
    length = piece.edge("armhole").path.length
    share = 1 - HINGE_SHARE if ends_at(piece, "armhole", other_end(piece, "armhole", "shoulder")) else HINGE_SHARE
    return Place("armhole", share * length if mark is None else mark.at)


def towards_tip(piece: Piece) -> Point:
    """Unit direction across the grain along the shoulder, away from the neck."""
    across = down(piece) * 1j
    inner = "neck" if piece.has_edge("neck") else other_end(piece, "shoulder", "armhole")
    along = corner(piece, "shoulder", other_end(piece, "shoulder", inner)) - corner(piece, "shoulder", inner)
    return across if dot(along, across) > 0 else -across


def marks_at(piece: Piece, here: Point, goal: Point) -> dict[str, Point]:
    """Landmarks that lie at a corner, and where they go with it."""
    return {m.name: goal for m in piece.landmarks if abs(m.at - here) < 1e-3}
