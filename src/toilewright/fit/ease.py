"""Real ease: what the flat pieces measure once sewn, darts, overlaps and allowances left out, minus the body.

Girths are measured across the grain, within the seam lines, half a piece counted twice. The waist is measured along
the waist seam. What a garment has beyond the body is wearing ease and design ease together; ease must not be spent to
hide a missing alteration (Central Washington University, costume text, chapter 17).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from toilewright.body.tape import Body
from toilewright.fit.flat.reading import Flat, flat_at
from toilewright.fit.handbook import RULES, Rule, fit_class
from toilewright.known import Known
from toilewright.pattern.garment import Garment
from toilewright.tolerance import WORTH_DOING
from toilewright.units import show_length

_LENGTHS = {"back length": "back neck point to waist", "front length": "neck shoulder point to waist",
            "shoulder": "shoulder length"}

_ROWS = {name: name for name in ("bust", "waist", "hip", "upper arm")} | {
    "back length": "centre back length", "front length": "front length", "shoulder": "shoulder front",
    "waist, wrap skirt": "waist, wrap skirt", "hip, wrap skirt": "hip, wrap skirt"}
"""By place, the flat length that is held against the body there."""


@dataclass(frozen=True, slots=True)
class Ease:
    """Garment and body at one place.

    Attributes:
        place: ``bust``, ``waist``, ``hip``, ``upper arm``, ``back length``, ``front length``, ``shoulder``; of a wrap
            skirt that comes with the garment ``waist, wrap skirt`` and ``hip, wrap skirt``.
        garment: measured off the pieces (mm).
        body: by tape, or None when it was not taken.
        minimum, usual: what the handbooks ask (mm), None where they say nothing.
        source: which handbooks.
        pieces: names of the pieces that take part.
        verdict: one sentence.
        enough: is it at least the minimum; None when that cannot be said.
    """

    place: str
    garment: Known
    body: Known | None
    minimum: float | None
    usual: tuple[float, float | None] | None
    source: str
    pieces: tuple[str, ...]
    verdict: str
    enough: bool | None

    @property
    def ease(self) -> Known | None:
        """Garment minus body, with the errors of both; None when the body was not measured there."""
        if self.body is None:
            return None
        spread = hypot(self.garment.spread or 0.0, self.body.spread or 0.0)
        return Known(self.garment.value - self.body.value, self.garment.origin, spread,
                     f"{self.garment.reason}, minus the body")


@dataclass(frozen=True, slots=True)
class Girth:
    """A size of the garment at one place, before a body is held against it."""

    place: str
    value: Known
    pieces: tuple[str, ...]


def measure_ease(garment: Garment, body: Body) -> tuple[Ease, ...]:
    """Real ease at every place that the pieces and the handbooks know (rows in the order of a fitting)."""
    depth = body.get("waist to hip")
    return tuple(ease_row(girth, body) for girth in measure_garment(garment, depth and depth.value))


def measure_garment(garment: Garment, hip_depth: float | None = None) -> tuple[Girth, ...]:
    """Girths and lengths of the garment once sewn (mm), at the seam line.

    Args:
        hip_depth: where the hip is on pieces without a hip line (mm below the waist); None when nobody says.
    """
    return girths(flat_at(garment, hip_depth))


def girths(flat: Flat) -> tuple[Girth, ...]:
    """The rows that a body is held against, of a pattern read off its pieces or with a tape."""
    return tuple(Girth(place, flat.lengths[name], flat.pieces.get(name, ()))
                 for place, name in _ROWS.items() if name in flat.lengths)


# -- the body held against it ------------------------------------------------------------------------


def ease_row(girth: Girth, body: Body) -> Ease:
    """One row: the garment's size held against the body and the handbook."""
    base = girth.place.split(",")[0]
    rule = RULES.get(base)
    taken = body.get(rule.measure if rule else _LENGTHS[base])
    if taken is None:
        name = rule.measure if rule else _LENGTHS[base]
        text = f'The tape sheet has no "{name}", so the ease {_at(girth.place)} cannot be told.'
        return _row(girth, None, rule, text, None)
    ease = girth.value.value - taken.value
    if rule is None:
        return _row(girth, taken, None, _length_verdict(girth.place, ease, body.unit), None)
    return _row(girth, taken, rule, _girth_verdict(girth.place, ease, rule, body.unit), ease >= rule.minimum - 0.5)


def _row(girth: Girth, body: Known | None, rule: Rule | None, verdict: str, enough: bool | None) -> Ease:
    return Ease(girth.place, girth.value, body, rule.minimum if rule else None, rule.usual if rule else None,
                rule.source if rule else "", girth.pieces, verdict, enough)


def _girth_verdict(where: str, ease: float, rule: Rule, unit: str) -> str:
    low, high = rule.usual
    said = f"{show_length(ease, unit)} of ease {_at(where)}"
    asked = f"{show_length(low, unit)} to {show_length(high, unit)}" if high else f"{show_length(low, unit)} or more"
    fit = f' An envelope would call it "{fit_class(ease)}".' if where == "bust" else ""
    if "wrap" in where and not low - 0.5 <= ease <= (high or ease) + 0.5:
        fit = " It can be wrapped closer or wider."
    if ease < rule.minimum - 0.5:
        return (f"{said} is {show_length(rule.minimum - ease, unit)} less than the least that the handbooks allow "
                f"({show_length(rule.minimum, unit)}).{fit}")
    if ease < low - 0.5:
        return f"{said} is enough to wear, but closer than usual ({asked}).{fit}"
    if high is None or ease <= high + 0.5:
        return f"{said} is what the handbooks ask ({asked}).{fit}"
    return f"{said} is {show_length(ease - high, unit)} more than the handbooks ask ({asked}): that much is style.{fit}"


def _at(where: str) -> str:
    """A place in a sentence: "at the waist", "at the hip of the wrap skirt", "in the back length"."""
    base, _, skirt = where.partition(", ")
    return f"at the {base} of the {skirt}" if skirt else f"{'in' if base in _LENGTHS else 'at'} the {base}"


def _length_verdict(where: str, ease: float, unit: str) -> str:
    if where == "shoulder":
        off = f"{show_length(abs(ease), unit)} {'longer' if ease > 0 else 'shorter'} than"
        return (f"The shoulder seam is {off if abs(ease) >= 0.5 else 'as long as'} the body's shoulder; a set-in "
                "sleeve's seam ends just before the bone.")
    if ease < -WORTH_DOING:
        return f"The {where} is {show_length(-ease, unit)} shorter than the body."
    if ease <= 3 * WORTH_DOING:
        return f"The {where} is right within {show_length(3 * WORTH_DOING, unit)}."
    return f"The {where} is {show_length(ease, unit)} longer than the body."
