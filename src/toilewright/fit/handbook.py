"""Wearing ease as the handbooks give it, with their disagreements."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.units import MM_PER_INCH


@dataclass(frozen=True, slots=True)
class Rule:
    """Wearing ease at one place.

    Attributes:
        measure: the body's measure, by ISO 8559-1 name.
        minimum: the least that any source allows (mm).
        usual: the range in which the sources lie (mm); the upper end None when open.
        source: who says so.
    """

    measure: str
    minimum: float
    usual: tuple[float, float | None]
    source: str


def _inches(least: float, low: float, high: float | None) -> tuple[float, tuple[float, float | None]]:
    return least * MM_PER_INCH, (low * MM_PER_INCH, high * MM_PER_INCH if high is not None else None)


RULES = {
    "bust": Rule("bust girth", *_inches(2, 3, 4),
                 "3 to 4 in: New Mexico State University, Cooperative Extension C-228; other extension leaflets "
                 "2 1/2 in, or 2 in as a minimum"),
    "waist": Rule("waist girth", *_inches(0.5, 0.5, 1), "1 in: C-228; other extension leaflets 1/2 to 1 in"),
    "hip": Rule("hip girth", *_inches(2, 2, 3), "3 in: C-228; other extension leaflets 2 in"),
    "upper arm": Rule("upper arm girth", *_inches(2, 2, None),
                      "2 in or more at the biceps line: Threads magazine, 27 September 2021, on set-in sleeves"),
    "high hip": Rule("high hip girth", *_inches(0.5, 0.5, 2), "abdomen of trousers up to 2 in: New Mexico State "
                     "University, Cooperative Extension C-209; the least: as at the waist"),
    "thigh": Rule("thigh girth", *_inches(1, 1, 2), "1 to 2 in: C-209"),
    "knee": Rule("knee girth", *_inches(1, 1, None), "1 in or more: C-209"),
    "calf": Rule("calf girth", *_inches(1, 1, None), "as at the knee (1 in or more: C-209); common practice"),
}

SITTING = ((36.0, 0.5), (38.0, 0.75), (float("inf"), 1.0))
"""Hip up to so many inches, and the inches of ease that a crotch depth then has for sitting (C-209)."""


def sitting_ease(hip: float) -> float:
    """Ease of the crotch depth for a hip girth (mm), C-209.

    >>> sitting_ease(900), round(sitting_ease(940), 2), sitting_ease(1000)
    (12.7, 19.05, 25.4)
    """
    return next(ease for most, ease in SITTING if hip < most * MM_PER_INCH + 0.5) * MM_PER_INCH


DRAFTED_CUP = 2 * MM_PER_INCH
"""mm; full minus upper bust for which patterns usually are drafted (2 in; common practice, no published source)."""

FIT_CLASSES = ((0.0, "smaller than the body"), (3.0, "close"), (4.0, "fitted"), (5.0, "semi-fitted"), (8.0, "loose"))
"""Upper bounds in inches of ease at the bust of a dress, and the word (printed on many envelopes; from memory)."""


def fit_class(bust_ease: float) -> str:
    """The envelope's word for so much ease at the bust of a dress (mm).

    >>> fit_class(90)
    'fitted'
    """
    return next((word for bound, word in FIT_CLASSES if bust_ease < bound * MM_PER_INCH), "very loose")
