"""Waist in or out at the side seams; what is sewn to the waist follows."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration, Change, Need, Options, Picture, Size, too_much
from toilewright.fit.alterations.waist_and_hip.side_shift import SIDE, rounds, shift_group, side_edges, waist_out
from toilewright.fit.frame import down
from toilewright.fit.moves.edges import corner, towards
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "waist in or out"

MOST_SHARE = 0.2
"""Share of its waist that one piece may give or take at its side before the seam is misshapen (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Waist girth larger by `amount` mm (smaller when negative), evenly at all side edges.

    On a bodice the shift tapers to nothing at the underarm, on a skirt at the hip; a waistband follows.

    Options:
        piece: only the pieces that belong to this one (and what is sewn to their waist).

    Raises:
        AlterationError: the edges are missing, or the amount does not fit.
    """
    grown = {}
    groups = rounds(garment, NAME, options, "waist")
    most, least = min((MOST_SHARE * p.sewn_length("waist") * side_edges(g), p.name) for g in groups for p in g)
    if abs(amount) > most:
        raise too_much(NAME, amount, least, "takes more than the side of the piece can give",
                       most if amount > 0 else -most)
    for group in groups:
        by = amount / side_edges(group)
        garment = shift_group(garment, group, lambda p, by=by: waist_out(p, by))
        grown |= {piece.name: by for piece in group}
    shown = [group[0] for group in groups] if len(groups) > 1 else groups[0]
    # The bodice tells most, then the skirt; a wrap skirt that comes with a dress looks like it.
    shown = sorted(shown, key=lambda p: (p.name.startswith("wrap"), p.has_edge("hem")))
    return Change(garment, {p.name: _picture(p, garment.piece(p.name)) for p in shown},
                  {"each": grown[shown[0].name]})


def _picture(old: Piece, new: Piece) -> Picture:
    a, b = (corner(p, "waist", SIDE) for p in (old, new))
    way = down(old) if not old.has_edge("hem") else -down(old)
    seam, waist = towards(old, SIDE, "waist"), towards(old, "waist", SIDE)
    near = [seam.point_at(max(seam.length - 230.0, 0.0)), waist.point_at(max(waist.length - 90.0, 0.0))]
    return Picture(sizes=(Size(a, b, way),), near=(a, b, *near))


def _card(order: Order, change: Change) -> Card:
    each = f"{{{abs(change.numbers['each']):.1f} mm}}"
    out = order.amount.value > 0
    steps = (f"At the side of every waist edge, measure {each} {'out' if out else 'in'} along the seam line and mark.",
             "Close darts in the side seam. Rule from the mark to the underarm on a bodice, to the hip line on a "
             "skirt, so that the change tapers to nothing; follow the old curve.",
             f"{'Lengthen' if out else 'Shorten'} a waistband by the same amount at each of its side marks.")
    check = (f"The whole waist is {{{abs(order.amount.value):.1f} mm}} {'larger' if out else 'smaller'}.",
             "Front and back side seams are equal.")
    return Card(f"Waist {'out' if out else 'in'}", ("ruler", "curve", "paper", "tape"), steps, check, SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; halves: common practice"

ALTERATION = Alteration(
    NAME, ("waist out", "waist in", "let out waist", "take in waist"),
    (-120.0, 160.0), SOURCE, 5, apply, _card, {"waist in": -1.0, "take in waist": -1.0},
    needs=(Need("", ("side seam", "waist")),),
    instead='a front without a waist seam is widened down to its hem by "full bust dartless"',
    whole_girth=True)
