"""One hip higher: waist and side seam raised above the hip, tapering to nothing at the hip line and at the centre."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration, Change, Need, Options, Picture, Size, too_much
from toilewright.fit.alterations.waist_and_hip.side_shift import (
    SIDE,
    hip_place,
    rounds,
    shift_group,
    waist_out,
)
from toilewright.fit.frame import down, outward
from toilewright.fit.moves.edges import corner, ends_at, towards
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "hip higher"

MOST_SHARE = 0.2
"""Of the side seam from waist to hip that it may gain or lose (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """The side seam of skirt or trousers longer by `amount` mm above the hip (shorter when negative); the waist stays.

    Asked with the option ``side``, for the hip that is higher, it is made on that side only.

    Options:
        piece: only the pieces that belong to this one.

    Raises:
        AlterationError: the edges are missing, or the amount does not fit.
    """
    groups = rounds(garment, NAME, options, "waist", "hem")
    most, least = min((MOST_SHARE * _to_hip(p), p.name) for g in groups for p in g)
    if abs(amount) > most:
        raise too_much(NAME, amount, least, "tilts the waist too steeply at the side", most if amount > 0 else -most)
    altered = garment
    for group in groups:
        altered = shift_group(altered, group, lambda p: waist_out(p, 0.0, amount))
    main = next((g for g in groups if not g[0].name.startswith("wrap")), groups[0])
    return Change(altered, {p.name: _picture(p, altered.piece(p.name)) for p in main})


def _to_hip(piece: Piece) -> float:
    hip = hip_place(piece)
    return piece.edge(SIDE).path.length - hip if ends_at(piece, SIDE, "waist") else hip


def _picture(old: Piece, new: Piece) -> Picture:
    a, b = (corner(p, "waist", SIDE) for p in (old, new))
    waist = towards(old, "waist", SIDE)
    return Picture(sizes=(Size(a, b, outward(old)),), near=(
        a, b, waist.start, old.edge(SIDE).path.point_at(hip_place(old)) + down(old) * 20))


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by, up = f"{{{abs(amount):.1f} mm}}", amount > 0
    steps = (f"On {' and '.join(change.pictures)}, measure {by} {'up' if up else 'down'} from the waist along the line "
             "of the side seam and mark.",
             "Draw the side seam anew from the mark to the hip line, tapering to nothing; follow the old curve.",
             "Draw the waist anew from the mark to the centre, tapering to nothing; a dart moves along with it.",
             "Where only one hip is higher, cut this side of her from a copy of the piece.")
    check = (f"Above the hip line the side seam is {by} {'longer' if up else 'shorter'}, front and back alike.",
             "The waist, the hip and everything below it measure what they did.")
    return Card(f"Hip {'higher' if up else 'lower'}", ("paper", "tape", "ruler", "curve"), steps, check, SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; USDA Home Economics Research Report 32 (1966, contents list)"

ALTERATION = Alteration(
    NAME, ("one hip higher", "high hip one side", "hip lower"),
    (-15.0, 30.0), SOURCE, 5, apply, _card, {"hip lower": -1.0}, needs=(Need("", (SIDE, "waist", "hem")),),
    instead='on a dress without a waist seam level the hem with "hem level"')
