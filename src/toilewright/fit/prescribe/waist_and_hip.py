"""How much in or out at waist and hip: the girth and its ease, less what the pieces measure."""

from __future__ import annotations

from collections.abc import Callable

from toilewright.fit.handbook import RULES as HANDBOOK
from toilewright.fit.prescribe.case import Case, Rule
from toilewright.fit.sides import SIDES
from toilewright.known import Known, Origin

LARGE = 10.0
"""mm; a girth that differs by less is within the tape's own error of 9 mm (ISO 20685-1, from memory)."""


def girth(where: str, words: str = "") -> Callable[[Case], Known]:
    """The amount for a whole girth: to the ease wanted or drafted, else up to what the handbooks ask."""
    rule = HANDBOOK[where]

    def work(case: Case) -> Known:
        taken, drawn = case.tape(rule.measure), case.read(where)
        ease = drawn.value - taken.value
        said = (f"{words or f'The pieces measure at the {where}'} {case.show(drawn.value)} and you "
                f"{case.show(taken.value)}: {case.show(ease)} of ease")
        low, high = rule.minimum, case.ease_range(where)[1]
        if case.said(where):
            whose = "you want" if where in case.wanted else "the pattern was drafted for"
            do = "" if abs(high - ease) < 0.05 else (
                f"; {'let out' if high > ease else 'take in'} {case.show(abs(high - ease))}")
            return case.known(high - ease, f"{said}; {whose} {case.show(high)}{do}.", taken.spread, drawn.spread)
        if ease < low:
            return case.known(high - ease, f"{said}; the handbooks ask {case.show(low)} to {case.show(high)}; let out "
                                           f"{case.show(high - ease)}.", taken.spread, drawn.spread,
                              origin=Origin.HANDBOOK)
        more = f" (to bring it in, write the ease you want at the {where})" if ease > high else ""
        return case.known(0.0, f"{said}, and the handbooks' least is {case.show(low)}: enough{more}.", taken.spread,
                          drawn.spread)
    return work


def _hip_higher(case: Case) -> Known:
    """On the side of the higher hip, by how much it lies higher."""
    both = [case.body.on_side("waist to hip", side) for side in SIDES]
    if not case.side or None in both:
        raise case.cannot("the tape sheet has one side alone", 'write "waist to hip" for left and right')
    here, there = (k.value for k in (both if case.side == "left" else both[::-1]) if k is not None)
    amount = max(here - there, 0.0)
    return case.known(amount, f"From the waist to the hip you measure {case.show(here)} on your {case.side} and "
                              f"{case.show(there)} on the other side; raise the side seam there {case.show(amount)}.",
                      both[0] and both[0].spread, both[1] and both[1].spread)


RULES = (
    Rule("waist in or out", ("waist girth",), girth("waist"), threshold=LARGE),
    Rule("hip in or out", ("hip girth", "waist to hip"), girth("hip"), threshold=LARGE),
    Rule("high hip in or out", ("high hip girth", "waist to hip"), girth("high hip"), threshold=LARGE),
    Rule("hip higher", ("waist to hip",), _hip_higher, by_side=True),
)
