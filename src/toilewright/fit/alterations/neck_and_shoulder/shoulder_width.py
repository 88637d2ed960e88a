"""Broad or narrow shoulders: cut from the middle of the shoulder to the armhole, and open or lap at the shoulder."""

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
from toilewright.fit.alterations.neck_and_shoulder.halves import at_notch, halves
from toilewright.fit.frame import down
from toilewright.fit.moves.edges import corner, ends_at, free_stretch, other_end
from toilewright.fit.moves.opening import open_cut
from toilewright.fit.moves.ring import Carried, Place, point_of
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "shoulder width"

MOST_SHARE = 0.3
"""Share of the shoulder by which it may grow or shrink before the armhole is misshapen (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Shoulder seam longer by `amount` mm (shorter when negative), front and back alike; the armhole keeps its length.

    Options:
        front, back: names of the pieces, ``bodice front`` and ``bodice back`` unless told otherwise.

    Raises:
        AlterationError: a piece or an edge is missing, or the amount does not fit.
    """
    pictures = {}
    for piece in halves(garment, NAME, options, "both", "shoulder", "armhole"):
        most = MOST_SHARE * piece.sewn_length("shoulder")
        if abs(amount) > most:
            raise too_much(NAME, amount, piece.name, "misshapes the armhole", most if amount > 0 else -most)
        low, high = free_stretch(piece, "shoulder", piece.edge("shoulder").path.length - 1.0
                                 if ends_at(piece, "shoulder", "armhole") else 1.0)
        cut, hinge = Place("shoulder", (low + high) / 2), at_notch(piece)
        drawn, carried, opening = _opened(piece, cut, hinge, amount)
        garment = garment.with_piece(drawn)
        pictures[piece.name] = _picture(piece, drawn, carried, amount, hinge)
    return Change(garment, pictures, {"opening": opening})


def _opened(piece: Piece, cut: Place, hinge: Place, amount: float) -> tuple[Piece, Carried, float]:
    """Opened until the shoulder, ruled anew, has grown by just the amount; and how far the cut then stands open."""
    by = amount
    inner = other_end(piece, "shoulder", "armhole")
    for _ in range(5):
        drawn, carried = open_cut(piece, cut, hinge, by, inner)
        by *= amount / (drawn.sewn_length("shoulder") - piece.sewn_length("shoulder"))
    return drawn, carried, by


def _picture(old: Piece, new: Piece, carried: Carried, amount: float, hinge: Place) -> Picture:
    inner, tip = corner(old, "shoulder", other_end(old, "shoulder", "armhole")), corner(old, "shoulder", "armhole")
    h, size = point_of(old, hinge), Size(tip, tip + unit(tip - inner) * amount, -down(old))
    return Picture(carried.regions, (), (h,), (size,),
                   (inner, tip, corner(new, "shoulder", "armhole"), h, h + down(old) * 25))


def _card(order: Order, change: Change) -> Card:
    by, broad = f"{{{abs(order.amount.value):.1f} mm}}", order.amount.value > 0
    where = " and ".join(change.pictures)
    steps = (
        f"On {where}, rule a line from the middle of the shoulder seam down to the notch of the armhole.",
        "Cut along it from the shoulder to the armhole seam line, not through it; snip the allowance there.",
        f"Swing the part at the armhole {'out' if broad else 'in'} until the shoulder, ruled from neck point to tip, "
        f"is {by} {'longer' if broad else 'shorter'}: the cut {'stands open' if broad else 'laps'} by about "
        f"{{{abs(change.numbers['opening']):.0f} mm}}. Tape{' over paper' if broad else ''}.",
        "Round off the armhole at the hinge.")
    check = (f"Each shoulder seam is {by} {'longer' if broad else 'shorter'}.",
             "The armholes measure what they did: the sleeve fits as before.")
    return Card(f"{'Broad' if broad else 'Narrow'} shoulders", ("paper", "tape", "ruler", "scissors"), steps, check,
                SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372"

ALTERATION = Alteration(
    NAME, ("broad shoulders", "broad shoulder", "narrow shoulders", "narrow shoulder"),
    (-25.0, 25.0), SOURCE, 1, apply, _card, {"narrow shoulders": -1.0, "narrow shoulder": -1.0},
    FRONT_AND_BACK, (Need("", ("shoulder", "armhole")),),
    instead='a raglan or a cut-on sleeve has no shoulder seam to the tip: there "upper arm" alters the sleeve')
