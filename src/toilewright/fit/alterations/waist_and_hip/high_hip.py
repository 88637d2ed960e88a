"""High hip in or out at the side seams, tapering to nothing at the waist and at the hip."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration, Change, Need, Options, Picture, Size
from toilewright.fit.alterations.waist_and_hip.side_shift import SIDE, girth_out, half_way_place, hip_place, side_out
from toilewright.fit.frame import outward
from toilewright.fit.moves.edges import ends_at
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME, LINE = "high hip in or out", "high hip line"


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """High hip girth larger by `amount` mm (smaller when negative), evenly at all side edges of skirt or trousers.

    Options:
        piece: only the pieces that belong to this one.

    Raises:
        AlterationError: the edges are missing, or the amount does not fit.
    """
    garment, main, each = girth_out(garment, NAME, options, amount, _nearest_level, lambda p, by: side_out(
        p, _place(p), outward(p) * by, _span(p)))
    return Change(garment, {p.name: _picture(p, each) for p in main}, {"each": each})


def _place(piece: Piece) -> float:
    """Arc length from the start of the side seam to the high hip."""
    line, path = piece.line(LINE), piece.edge(SIDE).path
    if line is None:
        return half_way_place(piece)
    return min((path.nearest(p) for p in (line.start, line.end)), key=lambda found: found[1])[0]


def _span(piece: Piece) -> tuple[float, float]:
    """From the waist to the hip."""
    hip = hip_place(piece)
    return (hip, piece.edge(SIDE).path.length) if ends_at(piece, SIDE, "waist") else (0.0, hip)


def _nearest_level(piece: Piece) -> float:
    return min(abs(_place(piece) - s) for s in _span(piece))


def _picture(piece: Piece, by: float) -> Picture:
    path, out = piece.edge(SIDE).path, outward(piece)
    here = path.point_at(_place(piece))
    return Picture(sizes=(Size(here, here + out * by),),
                   near=(here, here - 110 * out, *(path.point_at(s) for s in _span(piece))))


def _card(order: Order, change: Change) -> Card:
    each = f"{{{abs(change.numbers['each']):.1f} mm}}"
    way = "out" if order.amount.value > 0 else "in"
    steps = (f"On every side seam, half way between waist and hip line, measure {each} {way} and mark.",
             "Draw the side seam anew from the waist through the mark to the hip line, tapering to nothing at both; "
             "follow the old curve.")
    check = (f"The whole high hip is {{{abs(order.amount.value):.1f} mm}} {'larger' if way == 'out' else 'smaller'}.",
             "Waist and hip are what they were; front and back side seams are equal.")
    return Card(f"High hip {way}", ("ruler", "curve"), steps, check, SOURCE)


SOURCE = "Texas AgriLife Extension E-372; halves and the level: common practice"

ALTERATION = Alteration(
    NAME, ("high hip out", "high hip in", "let out high hip", "take in high hip"),
    (-60.0, 80.0), SOURCE, 5, apply, _card, {"high hip in": -1.0, "take in high hip": -1.0},
    needs=(Need("", (SIDE, "waist", "hem")),),
    instead='a front without a waist seam is widened down to its hem by "full bust dartless"', whole_girth=True)
