"""Hip in or out at the side seams, tapering to nothing at the waist, and at the hem or not at all below."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import (
    PIECE,
    Alteration,
    Change,
    Need,
    Option,
    Options,
    Picture,
    Size,
    chosen,
)
from toilewright.fit.alterations.waist_and_hip.side_shift import SIDE, girth_out, hip_place, side_out
from toilewright.fit.frame import outward
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "hip in or out"

WAY_OF_HEM = Option("hem", "taper", "follow")


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Hip girth larger by `amount` mm (smaller when negative), evenly at all side edges of the skirts.

    Options:
        piece: only the pieces that belong to this one.
        hem: ``taper``: the hem stays as it is; ``follow``: the side runs parallel from the hip down, the hem grows as
            much, and what is gathered onto it at its ratio.

    Raises:
        AlterationError: the edges are missing, or the amount does not fit.
    """
    follow = chosen(NAME, options, WAY_OF_HEM) == "follow"
    garment, main, each = girth_out(garment, NAME, options, amount, _shorter_part, lambda p, by: side_out(
        p, hip_place(p), outward(p) * by, follow=follow))
    return Change(garment, {p.name: _picture(p, each) for p in main}, {"each": each})


def _picture(piece: Piece, by: float) -> Picture:
    path, out, hip = piece.edge(SIDE).path, outward(piece), hip_place(piece)
    here = path.point_at(hip)
    near = [path.point_at(min(max(hip + s, 0.0), path.length)) for s in (-220.0, 220.0)]
    return Picture(sizes=(Size(here, here + out * by),), near=(here, here - 110 * out, *near))


def _shorter_part(piece: Piece) -> float:
    hip = hip_place(piece)
    return min(hip, piece.edge(SIDE).path.length - hip)


def _card(order: Order, change: Change) -> Card:
    each = f"{{{abs(change.numbers['each']):.1f} mm}}"
    out, follow = order.amount.value > 0, order.options.get("hem") == "follow"
    steps = (f"On every side seam of the skirt, measure {each} {'out' if out else 'in'} at the hip line and mark.",
             "Draw the side seam anew from the waist through the mark, and on to the hem beside the old one, "
             f"{each} from it all the way." if follow else
             "Draw the side seam anew from the waist through the mark to the hem, tapering to nothing at both.",
             *(["Make a tier or frill that is gathered onto the hem wider in proportion."] if follow else []),
             "Walk front against back and true the difference at the hem.")
    check = (f"The whole hip is {{{abs(order.amount.value):.1f} mm}} {'larger' if out else 'smaller'}.",
             "The waist is what it was, and the hem is as much larger as the hip." if follow and out else
             "The waist is what it was, and the hem is as much smaller as the hip." if follow else
             "Waist and hem are what they were; front and back side seams are equal.")
    return Card(f"Hip {'out' if out else 'in'}", ("ruler", "curve"), steps, check, SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; halves: common practice"

ALTERATION = Alteration(
    NAME, ("hip out", "hip in", "let out hip", "take in hip", "hips in or out"),
    (-120.0, 160.0), SOURCE, 5, apply, _card, {"hip in": -1.0, "take in hip": -1.0}, (PIECE, WAY_OF_HEM),
    (Need("", ("side seam", "waist", "hem")),), whole_girth=True,
    instead='a front without a waist seam is widened down to its hem by "full bust dartless"')
