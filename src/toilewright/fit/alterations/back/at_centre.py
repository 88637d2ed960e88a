"""What the alterations of the back's length share: a cut from the centre to a hinge at the side, the waist kept."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Change, Picture, Size, too_much
from toilewright.fit.frame import down, outward
from toilewright.fit.moves.centre import open_at_centre
from toilewright.fit.moves.darts import widen_dart
from toilewright.fit.moves.ring import Place, crossing, point_of
from toilewright.geometry.point import Point
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

LEAST_DART = 6.0
"""mm; a dart that would become narrower is left as it is (common practice)."""

STEEPEST = 0.2
"""How far the centre may open for each mm of the cut's length before the piece is misshapen (our own choice)."""

SIDES = ("side seam", "princess seam")


def side_of(piece: Piece, name: str) -> str:
    """The seam across from the centre.

    Raises:
        AlterationError: the piece has none.
    """
    side = next((s for s in SIDES if piece.has_edge(s)), None)
    if side is None:
        raise AlterationError(f'"{name}" on "{piece.name}" needs the edge "side seam", which the piece does not have; '
                              "correct the names in the labels file.")
    return side


def cut_across(piece: Piece, name: str, centre: str, side: str, through: Point) -> tuple[Place, Place]:
    """Where a line square to the grain through a point meets the centre and the side.

    Raises:
        AlterationError: it does not meet both.
    """
    way = down(piece) * 1j
    cut, hinge = crossing(piece, centre, through, way), crossing(piece, side, through, way)
    if cut is None or hinge is None:
        raise AlterationError(f'"{name}" on "{piece.name}" cuts from "{centre}" across to "{side}", but the cut does '
                              "not reach both; compare the names of the edges in the labels file.")
    return cut, hinge


def change_at_centre(garment: Garment, name: str, piece: Piece, cut: Place, hinge: Place, by: float,
                     asked: float) -> Change:
    """The centre longer by `by` mm at the cut (negative: shorter), nothing at the hinge; the waist's part swings.

    What the waist gains or loses by the straight centre goes into the dart next to it, so that it is sewn as before.

    Args:
        asked: the amount as the alteration signs it.

    Raises:
        AlterationError: the amount does not fit.
    """
    a, h = point_of(piece, cut), point_of(piece, hinge)
    most = STEEPEST * abs(h - a)
    if abs(by) > most:
        raise too_much(name, asked, piece.name, "tilts the waist further than the piece lies flat",
                       most if asked > 0 else -most)
    opened = open_at_centre(piece, cut, hinge, by, "waist")
    altered, way = opened.piece, down(piece)
    takes = 0.0
    darts = sorted(altered.darts_on("waist"), key=lambda d: abs(sum(altered.feet(d)) / 2 - a))
    if darts and darts[0].end - darts[0].start + opened.gained > LEAST_DART:
        altered, takes = widen_dart(altered, darts[0].name, opened.gained), 1.0
    toward = -way if piece.has_edge("hem") else way
    size = Size(a, a + toward * by, -outward(piece, hinge.edge))
    picture = Picture(opened.carried.regions, (), (h,), (size,))
    return Change(garment.with_piece(altered), {piece.name: picture},
                  {"gained": opened.gained, "dart": takes, "side": float(SIDES.index(hinge.edge))})


def side_and_waist(change: Change) -> tuple[str, str, str]:
    """For the card: the seam at which the cut ends, what becomes of the waist, and how the waist then measures."""
    n = change.numbers
    side, longer, by = SIDES[int(n["side"])], n["gained"] > 0, f"{{{abs(n['gained']):.1f} mm}}"
    if n["dart"]:
        how = f"Take the {by} by which the waist is longer up in" if longer else (
            f"Give the {by} by which the waist is shorter out of")
        return (side, f"{how} the waist dart, and true its legs.",
                f"The {side} and the waist, its dart closed, measure what they did.")
    return (side, f"The waist is {by} {'longer' if longer else 'shorter'} on this half: make the waist sewn to it "
            f"{'larger' if longer else 'smaller'} at the side by as much.", f"The {side} measures what it did.")
