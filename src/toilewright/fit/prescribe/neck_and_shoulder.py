"""How much at the neck and the shoulder."""

from __future__ import annotations

from toilewright.fit.prescribe.case import LENGTH_EASE, Case, Rule
from toilewright.known import Known


def _high_round_back(case: Case) -> Known:
    taken, centre = case.tape("back neck point to waist"), case.read("centre back length")
    longer = taken.value + case.ease("centre back length", LENGTH_EASE) - centre.value
    side = case.taken("neck shoulder point to waist back")
    if side is None:
        words = (f"From nape to waist your back measures {case.show(taken.value)}, and this centre back "
                 f'{case.show(centre.value)}; measure "neck shoulder point to waist back" too: it tells a round back '
                 "from a long one.")
        return _only_more(case, longer, words, taken.spread, 5.0)
    beside = case.read("back length")
    words = (f"From nape to waist your back measures {case.show(taken.value)} and this centre back "
             f"{case.show(centre.value)}, from the neck point to the waist {case.show(side.value)} and "
             f"{case.show(beside.value)}: the difference is what the centre alone needs.")
    return _only_more(case, longer - (side.value + case.ease("back length", LENGTH_EASE) - beside.value), words,
                      taken.spread, side.spread)


def _only_more(case: Case, amount: float, words: str, *spreads: float | None) -> Known:
    """A hump is added, never taken away."""
    if amount < 0:
        return case.known(0.0, f"{words} The piece is long enough there.", *spreads)
    return case.known(amount, words, *spreads)


def _forward_shoulder(case: Case) -> Known:
    taken = case.taken("forward shoulder")
    if taken is None:
        raise case.cannot(
            "a tape does not tell how far forward a shoulder lies",
            "on a toile or a well-fitting garment measure how far the shoulder bone lies in front of the seam, and "
            'write it in the tape sheet as "forward shoulder" or as the amount')
    return case.known(taken.value, f"Your shoulder bone lies {case.show(taken.value)} in front of the seam of a "
                                   "garment that sits well at the neck; bring the seam forward by as much.",
                      taken.spread)


RULES = (
    Rule("high round back", ("back neck point to waist", "neck shoulder point to waist back"), _high_round_back),
    Rule("forward shoulder", ("forward shoulder",), _forward_shoulder, by_side=True),
)
