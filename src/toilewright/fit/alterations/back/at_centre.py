"""What the alterations of the back's length share: a cut from the centre to a hinge at the side, the waist kept."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Change, Picture, Size, too_much
from toilewright.fit.frame import down, outward
from toilewright.fit.moves.centre import open_at_centre, run_centre_on
from toilewright.fit.moves.darts import widen_dart
from toilewright.fit.moves.edges import corner
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
    if not piece.darts_on("waist"):
        return _redrawn(garment, piece, cut, hinge, by)
    opened = open_at_centre(piece, cut, hinge, by, "waist")
    altered, way = opened.piece, down(piece)
    dart = min(altered.darts_on("waist"), key=lambda d: abs(sum(altered.feet(d)) / 2 - a))
    if dart.end - dart.start + opened.gained > LEAST_DART:
        altered = widen_dart(altered, dart.name, opened.gained)
    toward = -way if piece.has_edge("hem") else way
    size = Size(a, a + toward * by, -outward(piece, hinge.edge))
    picture = Picture(opened.carried.regions, (), (h,), (size,))
    return Change(garment.with_piece(altered), {piece.name: picture},
                  {"gained": opened.gained, "side": float(SIDES.index(hinge.edge))})


def _redrawn(garment: Garment, piece: Piece, cut: Place, hinge: Place, by: float) -> Change:
    """Without a dart that could take up what a swung waist gains, the waist alone is drawn anew."""
    drawn = run_centre_on(piece, cut.edge, "waist", by)
    here, goal = (corner(p, cut.edge, "waist") for p in (piece, drawn))
    far = corner(piece, "waist", hinge.edge)
    picture = Picture(sizes=(Size(here, goal, -outward(piece, hinge.edge)),),
                      near=(here, goal, far, point_of(piece, cut), point_of(piece, hinge)))
    return Change(garment.with_piece(drawn), {piece.name: picture}, {"side": float(SIDES.index(hinge.edge))})


def side_of_change(change: Change) -> str:
    """The seam at which a change comes to nothing, for its card."""
    return SIDES[int(change.numbers["side"])]


def redrawn_steps(change: Change, by: str, way: str) -> tuple[str, ...]:
    """What the card says where there is no dart: the waist drawn anew.

    Args:
        way: ``below`` or ``above``.
    """
    return (f"On the {next(iter(change.pictures))}, mark {by} {way} the waist on the centre line.",
            "Draw the waist from the mark, square to the centre, in its old curve to nothing at the "
            f"{side_of_change(change)}.")


def waist_taken(change: Change) -> str:
    """What the card says of the waist, which the dart keeps as long as it was."""
    gained = change.numbers["gained"]
    by = f"{{{abs(gained):.1f} mm}}"
    how = f"Take the {by} by which the waist is longer up in" if gained > 0 else (
        f"Give the {by} by which the waist is shorter out of")
    return f"{how} the waist dart, and true its legs."
