"""Forward neck: the hole for the neck moves forward as a whole; the shoulder seam goes with it at the neck."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import (
    FRONT_AND_BACK,
    Alteration,
    Change,
    Need,
    Options,
    Picture,
    Size,
    too_much,
)
from toilewright.fit.alterations.neck_and_shoulder.halves import (
    halves,
    marks_at,
    needed_centre,
    towards_tip,
)
from toilewright.fit.frame import down
from toilewright.fit.moves.centre import run_centre_on
from toilewright.fit.moves.edges import Redrawn, corner, other_end, redraw_edge, shift_end
from toilewright.fit.result import Card, Order
from toilewright.geometry.affine import Affine
from toilewright.geometry.point import dot, turn, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "forward neck"

MOST = 25.0
"""mm; further the shoulder seam would leave the side of the neck (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Back neck higher and front neck lower by `amount` mm; between them the shoulder seam comes forward at the neck.

    Shoulder seams keep their lengths, shoulder tips and armholes stay; what the front neck loses the back neck gains,
    all but a little. A negative amount moves the neck back.

    Options:
        front, back: names of the pieces, ``bodice front`` and ``bodice back`` unless told otherwise.

    Raises:
        AlterationError: a piece or an edge is missing, or the amount does not fit.
    """
    pieces = halves(garment, NAME, options, "both", "neck", "shoulder")
    pictures, longer = {}, 0.0
    for piece, by in zip(pieces, (-amount, amount), strict=True):
        centre = needed_centre(piece, NAME)
        if abs(amount) > MOST:
            raise too_much(NAME, amount, piece.name, "carries the shoulder seam off the side of the neck",
                           MOST if amount > 0 else -MOST)
        drawn = run_centre_on(_turned(piece, by), centre, "neck", by)
        garment = garment.with_piece(drawn)
        longer += 2 * (drawn.sewn_length("neck") - piece.sewn_length("neck"))
        pictures[piece.name] = _picture(piece, drawn, centre)
    return Change(garment, pictures, {"neck": longer})


def _turned(piece: Piece, by: float) -> Piece:
    """The shoulder turned about its tip until its neck point lies `by` mm higher, square to the seam."""
    neck, tip = corner(piece, "shoulder", "neck"), corner(piece, "shoulder", other_end(piece, "shoulder", "neck"))
    up = 1j if dot(unit(tip - neck) * 1j, -down(piece)) > 0 else -1j
    angle = turn(neck - tip, neck + unit(tip - neck) * up * by - tip)
    path = piece.edge("shoulder").path
    moved = Affine.turn(angle, tip)
    shoulder = Redrawn("shoulder", path.mapped(moved), (0.0, path.length), (0.0, path.length))
    return redraw_edge(piece, shoulder, shift_end(piece, "neck", "shoulder", moved),
                       landmarks=marks_at(piece, neck, moved(neck)))


def _picture(old: Piece, new: Piece, centre: str) -> Picture:
    points = [corner(p, "neck", "shoulder") for p in (old, new)]
    centres = [corner(p, "neck", centre) for p in (old, new)]
    tip, out = corner(old, "shoulder", other_end(old, "shoulder", "neck")), towards_tip(old)
    return Picture(sizes=(Size(*centres, -out), Size(*points, unit(points[0] - tip))),
                   near=(*points, *centres, tip, max(centres, key=lambda p: dot(p, down(old))) + down(old) * 25))


def _card(order: Order, change: Change) -> Card:
    by, forward = f"{{{abs(order.amount.value):.1f} mm}}", order.amount.value > 0
    longer = change.numbers["neck"]
    on, off = tuple(change.pictures)[::1 if forward else -1]
    steps = (
        f"On the {on}, mark {by} below the neck point, square to the shoulder seam, and rule the new seam from there "
        "to the shoulder tip.",
        f"Cut the wedge off and tape it to the {off} shoulder, seam line to seam line, its point at the tip.",
        f"Lower the {on} neck by {by} at the centre and raise the {off} neck there by as much.",
        "Draw both necks anew from the new neck points to the centre, in the shape they had, square to the centre.",
        "Redraw the facings; turn a collar's shoulder marks with the seam.")
    check = (f"The {off} neck is {by} higher and the {on} neck {by} lower at the centre.",
             "The shoulder seams are as long as before; tips and armholes have not moved.",
             f"The whole neck is about {{{abs(longer):.0f} mm}} {'longer' if longer > 0 else 'shorter'}; a collar is "
             f"{'stretched' if longer > 0 else 'eased'} onto it.")
    return Card(f"Neck moved {'forward' if forward else 'back'}", ("paper", "tape", "ruler", "French curve"), steps,
                check, SOURCE)


SOURCE = ("redrawn edges: NMSU Cooperative Extension C-228; neck and shoulder seam together: Liechty and others "
          "(1992), from memory")

NEEDS = ("neck", "shoulder")

ALTERATION = Alteration(
    NAME, ("forward head", "neck forward"), (-12.0, 20.0), SOURCE, 1, apply, _card, options=FRONT_AND_BACK,
    needs=(Need("bodice front", NEEDS), Need("bodice back", NEEDS)),
    instead='where the shoulder seam is missing, "neckline height" raises the back and lowers the front')
