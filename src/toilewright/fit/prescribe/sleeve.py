"""How much at the sleeve and the armhole."""

from __future__ import annotations

from toilewright.fit.prescribe.against import Words, against
from toilewright.fit.prescribe.case import LENGTH_EASE, Case, Rule
from toilewright.fit.prescribe.waist_and_hip import girth
from toilewright.known import Known

ARMHOLE_EASE = 16.0
"""mm by which an armhole lies below the arm (our own block's; common practice, no published source)."""

CHEST_EASE = 4.0
"""mm on each half across the chest (our own block's; common practice, no published source)."""


def _armhole_depth(case: Case) -> Known:
    taken, drawn = case.tape("armscye depth"), case.read("armhole depth")
    lower = taken.value + case.ease("armhole depth", ARMHOLE_EASE) - drawn.value
    hump = _length_above(case)
    words = (f"From the nape down to the level of your underarm you measure {case.show(taken.value)}, and this back "
             f"down to its own {case.show(drawn.value)}")
    also = f", of which {case.show(abs(hump))} lies at the nape" if abs(hump) >= 0.5 else ""
    amount = lower - hump
    return case.known(amount, f"{words}{also}; {'lower' if amount >= 0 else 'raise'} the armhole "
                              f"{case.show(abs(amount))}.", taken.spread, drawn.spread)


def _length_above(case: Case) -> float:
    """What the centre back alone lacks: a hump is no deep armhole (mm)."""
    lacks = []
    for flat, measure in (("centre back length", "back neck point to waist"),
                          ("back length", "neck shoulder point to waist back")):
        taken, drawn = case.taken(measure), case.flat.get(flat)
        if taken is None or drawn is None:
            return 0.0
        lacks.append(taken.value + case.ease(flat, LENGTH_EASE) - drawn.value)
    return lacks[0] - lacks[1]


RULES = (
    Rule("armhole in or out", ("across front width",),
         against("across chest", Words("across the chest you measure", "this front has", "set its armhole out on each "
                                       "half", "set its armhole in on each half"), CHEST_EASE, both=True),
         lambda case: ({"where": "front"},)),
    Rule("armhole depth", ("armscye depth", "back neck point to waist", "neck shoulder point to waist back"),
         _armhole_depth),
    Rule("upper arm", ("upper arm girth",), girth("upper arm", "The sleeve measures at the upper arm"), by_side=True),
)
