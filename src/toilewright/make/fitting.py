"""What a make's body asks of its pattern: prescriptions with their amounts, and the estimates that were looked at."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.body.estimates import Estimate, NextMeasure, estimates, next_measures
from toilewright.body.measures import find_measure
from toilewright.body.tape import Wish
from toilewright.fit.alterations import ALTERATIONS
from toilewright.fit.alterations.kinds import Alteration
from toilewright.fit.prescribe import Prescription, prescribe
from toilewright.make.outcome import NAMES, Sized, must_be_settled
from toilewright.make.recipe import named
from toilewright.units import show_length

Plain = dict[str, object]

@dataclass(frozen=True, slots=True)
class Fitted:
    """A recipe with what its body asks of the pattern as bought.

    Attributes:
        prescriptions: those worth doing first.
        estimates: measures that were asked for and not taken, as far as the others tell them.
    """

    sized: Sized
    prescriptions: tuple[Prescription, ...]
    estimates: tuple[Estimate, ...]


def fit_make(sized: Sized) -> Fitted:
    """The prescriptions for a recipe up to its choice of size; its own alterations are not looked at.

    Raises:
        InputError: the pattern sheet has to be put right first.
    """
    must_be_settled(sized.reading)
    found = prescribe(sized.before, sized.body, dict(sized.make.ease), standing_of(sized), sized.cup,
                      drafted=sized.drafted)
    asked = {name for p in found for name in p.needs_measure}
    return Fitted(sized, found, tuple(e for e in estimates(sized.body) if e.name in asked))


def standing_of(sized: Sized) -> tuple[Wish, ...]:
    """What the body always needs, by the alterations' own names; nothing where the recipe leaves it out."""
    where = f"tape sheet of {sized.body.name}"
    return tuple(named(w, NAMES, where) for w in sized.body.alterations) if sized.make.standing else ()


# -- as plain values ----------------------------------------------------------------------------------


def fit_result(fitted: Fitted) -> Plain:
    """The prescriptions and the estimates for a machine; lengths in mm."""
    sized = fitted.sized
    return {
        "title": sized.make.title, "body": sized.body.name, "sizes": dict(sized.sizes),
        "prescriptions": [prescription_result(p) for p in fitted.prescriptions],
        "estimates": [{"name": e.name, "value_mm": round(e.known.value, 1),
                       "plus_minus_mm": round(e.known.spread or 0.0, 1), "low_mm": round(e.low, 1),
                       "high_mm": round(e.high, 1), "may_cut": e.may_cut, "reason": e.known.reason}
                      for e in fitted.estimates],
        "next_measures": [{"name": n.name, "narrows_mm": round(n.narrows, 1), "most": n.most}
                          for n in measures_next(fitted)]}


def measures_next(fitted: Fitted) -> tuple[NextMeasure, ...]:
    """Which measure to take next, the one first that would narrow most of what is still open."""
    wanted = {m for p in fitted.prescriptions for m in p.needs_measure}
    return next_measures(fitted.sized.body, wanted) if wanted else ()


def prescription_result(one: Prescription) -> Plain:
    """One prescription for a machine."""
    return {"name": one.name, "amount_mm": round(one.amount.value, 1),
            "plus_minus_mm": round(one.amount.spread or 0.0, 1), "reason": one.reason, "worth_doing": one.worth_doing,
            "options": dict(one.options), "threshold_mm": one.threshold, "needs_measure": list(one.needs_measure),
            "because": one.because, "origin": one.amount.origin.value}


def alterations_result() -> list[Plain]:
    """Every alteration for a machine."""
    return [{"name": a.name, "group": a.group, "source": a.source, "min_mm": a.sane[0], "max_mm": a.sane[1],
             "needs": needs_of(a), "aliases": list(a.aliases), "options": [*a.options, "side"]} for a in ALTERATIONS]


def needs_of(one: Alteration) -> list[str]:
    """What an alteration needs of a pattern, in words."""
    return [str(need) for need in one.needs]


# -- in words -----------------------------------------------------------------------------------------


def fit_lines(fitted: Fitted) -> list[str]:
    """A short list: what, how much, why; what is not worth doing in one line each, then what to measure."""
    unit = fitted.sized.unit
    doing = [p for p in fitted.prescriptions if p.worth_doing]
    lines = [f"{fitted.sized.body.name} on {fitted.sized.make.title}, size {fitted.sized.size_name}:"]
    lines += [f"{i}. {_what(p)}: {_much(p, unit)}. {p.reason}" for i, p in enumerate(doing, 1)]
    short = [e.verdict for e in fitted.sized.ease if e.enough is False and e.place.endswith("wrap skirt")]
    lines += short  # no alteration stands for wrapping wider
    if not doing and not short:
        lines.append("Nothing is worth altering before the toile.")
    not_doing = [p for p in fitted.prescriptions if not p.worth_doing and not p.needs_measure]
    lines += [f"Asked for, but not possible here: {_what(p)}, {_much(p, unit)}. {p.reason}" for p in not_doing
              if abs(p.amount.value) >= p.threshold]
    fits = [p for p in not_doing if abs(p.amount.value) < p.threshold]
    if fits:
        lines.append("Fits already, or too little to show: " + ", ".join(
            f"{_what(p)} ({show_length(p.amount.value, unit)})" for p in fits) + ".")
    lines += [f"Not known: {_what(p)}. {p.reason}" for p in fitted.prescriptions if p.needs_measure]
    if ranked := measures_next(fitted):
        lines.append(f'Measure next: "{ranked[0].name}", {find_measure(ranked[0].name).way}')
    return lines


def _what(one: Prescription) -> str:
    more = [one.options[k] for k in ("piece", "side") if k in one.options]
    return f"{one.name} ({', '.join(more)})" if more else one.name


def _much(one: Prescription, unit: str) -> str:
    spread = f" give or take {show_length(one.amount.spread, unit)}" if one.amount.spread else ""
    return f"{show_length(one.amount.value, unit)}{spread}"


def alteration_lines(unit: str = "cm") -> list[str]:
    """Every alteration by its group, with its usual range."""
    lines: list[str] = []
    for group in dict.fromkeys(a.group for a in ALTERATIONS):
        lines.append(f"{group[0].upper()}{group[1:]}")
        lines += [f"  {a.name}: {show_length(a.sane[0], unit)} to {show_length(a.sane[1], unit)}; needs "
                  f"{' and '.join(needs_of(a)) or 'any piece'}" for a in ALTERATIONS if a.group == group]
    return lines
