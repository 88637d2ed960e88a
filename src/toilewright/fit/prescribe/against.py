"""The plain rule: a measure of hers and its ease, less what the flat piece has."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from toilewright.fit.prescribe.case import Case
from toilewright.fit.prescribe.held import HELD
from toilewright.known import Known


@dataclass(frozen=True, slots=True)
class Words:
    """How the reason says it.

    Attributes:
        hers: begins the sentence, e.g. ``across the back you measure``.
        its: e.g. ``this back has``.
        more, less: what to do, e.g. ``widen it``, ``narrow it``.
    """

    hers: str
    its: str
    more: str
    less: str


def against(flat: str, words: Words, usual: float = 0.0, times: float = 1.0,
            both: bool = False) -> Callable[[Case], Known]:
    """The amount that brings a flat length to hers and its ease.

    Args:
        flat: the flat length; the measure it is held against is that of :data:`HELD`.
        usual: ease where neither she nor the pattern's chart says (mm, on the piece).
        times: mm of the alteration for each mm that the piece lacks.
        both: the piece shows half of what she measured, so both are told whole.
    """
    measure, share = HELD[flat]
    whole = 1.0 / share if both else 1.0

    def work(case: Case) -> Known:
        taken, drawn = case.tape(measure), case.read(flat)
        ease = case.ease(flat, usual)
        lacks = share * taken.value + ease - drawn.value
        amount = times * lacks
        wants = said_ease(case, whole * ease)
        reason = (f"{words.hers} {case.show(whole * share * taken.value)}{wants}; {words.its} "
                  f"{case.show(whole * drawn.value)}"
                  + (f"; {words.more if amount > 0 else words.less} {case.show(abs(amount))}." if amount else "."))
        return case.known(amount, reason[0].upper() + reason[1:], share * times * (taken.spread or 0.0),
                          times * (drawn.spread or 0.0))
    return work


def said_ease(case: Case, ease: float) -> str:
    """The ease in a sentence; style that is shorter than the body is said so."""
    if abs(ease) < 0.5:
        return ""
    if ease > 0:
        return f" and want {case.show(ease)} of ease"
    return f", of which the style leaves out {case.show(-ease)}"
