"""How much at the back: its length above the waist, its width across the shoulder blades."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from toilewright.fit.prescribe.against import Words, against
from toilewright.fit.prescribe.case import LENGTH_EASE, Case, Rule
from toilewright.known import Known

BACK_EASE = 7.0
"""mm on each half across the back (our own block's; common practice, no published source)."""


def _back_length(case: Case) -> Known:
    flat = "back length" if case.taken("neck shoulder point to waist back") else "centre back length"
    start = "the shoulder neck point" if flat == "back length" else "the nape"
    return against(flat, Words(f"from {start} down the back to the waist you measure", "this back measures",
                               "lengthen it at the centre", "shorten it at the centre"), LENGTH_EASE)(case)


def _sway_back(case: Case) -> Known:
    """What a back that bends in at the waist has too much; her sheet has to say that it does."""
    amount = _back_length(case)
    return case.known(max(-amount.value, 0.0), f"{amount.reason} Your sheet notes a sway back: fold it out at the "
                                               "small of the back.", amount.spread)


def _if_swayed(case: Case) -> Sequence[Mapping[str, str]]:
    return ({},) if any("sway" in note.lower() for note in case.body.posture) else ()


RULES = (
    Rule("sway back", ("neck shoulder point to waist back", "back neck point to waist"), _sway_back, _if_swayed),
    Rule("back length", ("neck shoulder point to waist back", "back neck point to waist"), _back_length),
    Rule("back width", ("across back width",), against(
        "across back", Words("across the back you measure", "this back has", "widen it on each half",
                             "narrow it on each half"), BACK_EASE, both=True)),
)
