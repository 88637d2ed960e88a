"""How much on trousers: crotch, thigh, calf."""

from __future__ import annotations

from toilewright.fit.handbook import sitting_ease
from toilewright.fit.prescribe.against import Words, against
from toilewright.fit.prescribe.case import Case, Rule
from toilewright.fit.prescribe.waist_and_hip import girth
from toilewright.known import Known

CROTCH_EASE = 15.0
"""mm by which the crotch seam is longer than the body (common practice, no published source)."""

# The seat angle, not the crotch point: the point would widen the thigh, which has a measure and a rule of its own.


def _crotch_depth(case: Case) -> Known:
    hip = case.taken("hip girth")
    usual = sitting_ease(hip.value) if hip else sitting_ease(0.0)
    return against("crotch depth", Words("sitting, from the waist down to the chair you measure",
                                         "these trousers measure down to the crotch", "deepen them", "take them up"),
                   usual)(case)


DEPTH = (Rule("crotch depth", ("crotch depth", "hip girth"), _crotch_depth, by_side=True),)

RULES = (
    Rule("crotch length back", ("total crotch length",),
         against("crotch length", Words("between the legs from waist to waist you measure",
                                        "the crotch seams of these trousers", "give the back more seat angle for",
                                        "give the back less seat angle for"), CROTCH_EASE),
         lambda case: ({"way": "seat"},)),
    Rule("thigh", ("thigh girth",), girth("thigh", "One leg measures at the thigh"), by_side=True),
    Rule("calf", ("calf girth",), girth("calf", "One leg measures at the calf"), by_side=True),
)
