"""How much at the back: its length above the waist, its width across the shoulder blades."""

from __future__ import annotations

from toilewright.fit.prescribe.against import Words, against
from toilewright.fit.prescribe.case import LENGTH_EASE, Case, Rule
from toilewright.known import Known


def _back_length(case: Case) -> Known:
    flat = "back length" if case.taken("neck shoulder point to waist back") else "centre back length"
    start = "the shoulder neck point" if flat == "back length" else "the nape"
    return against(flat, Words(f"from {start} down the back to the waist you measure", "this back measures",
                               "lengthen it at the centre", "shorten it at the centre"), LENGTH_EASE)(case)


RULES = (Rule("back length", ("neck shoulder point to waist back", "back neck point to waist"), _back_length),)
