"""How much at the neck and the shoulder."""

from __future__ import annotations

from math import radians

from toilewright.fit.prescribe.against import Words, against
from toilewright.fit.prescribe.case import LENGTH_EASE, Case, Rule
from toilewright.known import Known


def _high_round_back(case: Case) -> Known:
    """By how much the centre back has to be longer than the way beside it asks; an erect back asks for less."""
    taken, centre = case.tape("back neck point to waist"), case.read("centre back length")
    longer = taken.value + case.ease("centre back length", LENGTH_EASE) - centre.value
    side = case.taken("neck shoulder point to waist back")
    if side is None:
        words = (f"From nape to waist your back measures {case.show(taken.value)}, and this centre back "
                 f'{case.show(centre.value)}; measure "neck shoulder point to waist back" too: it tells a round back '
                 "from a long one.")
        return case.known(longer, words, taken.spread, 5.0)
    beside = case.read("back length")
    words = (f"From nape to waist your back measures {case.show(taken.value)} and this centre back "
             f"{case.show(centre.value)}, from the neck point to the waist {case.show(side.value)} and "
             f"{case.show(beside.value)}: the difference is what the centre alone needs.")
    return case.known(longer - (side.value + case.ease("back length", LENGTH_EASE) - beside.value), words,
                      taken.spread, side.spread)


def _slope(case: Case) -> Known:
    taken, length = case.tape("shoulder slope"), case.read("shoulder front")
    falls = [case.read(f"shoulder slope {side}").value - case.ease(f"shoulder slope {side}", 0.0)
             for side in ("front", "back")]
    fall = sum(falls) / 2
    amount = length.value * radians(fall - taken.value)
    return case.known(amount, f"Your shoulder falls by {taken.value:.0f} degrees, that of the pattern by {fall:.0f}; "
                              f"{'raise' if amount > 0 else 'lower'} the shoulder tip {case.show(abs(amount))}.",
                      length.value * radians(taken.spread or 0.0))


def _seam_forward(case: Case) -> float:
    """How far forward the shoulder seam of the piece lies already, beyond how it was drafted (mm at the tip)."""
    slopes, length = case.flat.lengths, case.flat.get("shoulder front")
    names = ("shoulder slope front", "shoulder slope back")
    if length is None or not all(n in slopes and n in case.drafted.ease for n in names):
        return 0.0
    front, back = (slopes[n].value - case.drafted.ease[n] for n in names)
    return length.value * radians(front - back) / 2


def _forward_shoulder(case: Case) -> Known:
    taken = case.taken("forward shoulder")
    if taken is None:
        raise case.cannot(
            "a tape does not tell how far forward a shoulder lies",
            "on a toile or a well-fitting garment measure how far the shoulder bone lies in front of the seam, and "
            'write it in the tape sheet as "forward shoulder" or as the amount')
    already = _seam_forward(case)
    amount = taken.value - already
    here = f"; here the seam lies {case.show(already)} forward already" if abs(already) >= 0.5 else ""
    return case.known(amount, f"Your shoulder bone lies {case.show(taken.value)} in front of the seam of a garment "
                              f"that sits well at the neck{here}; bring the seam "
                              f"{'forward' if amount >= 0 else 'back'} {case.show(abs(amount))}.", taken.spread)


RULES = (
    Rule("high round back", ("back neck point to waist", "neck shoulder point to waist back"), _high_round_back,
         opposite="erect back", settles=False),
    Rule("shoulder slope", ("shoulder slope",), _slope, by_side=True),
    Rule("shoulder width", ("shoulder length",), against(
        "shoulder front", Words("your shoulder measures", "the shoulder seam", "lengthen it at the tip",
                                "shorten it at the tip")), by_side=True),
    Rule("forward shoulder", ("forward shoulder",), _forward_shoulder, by_side=True),
)
