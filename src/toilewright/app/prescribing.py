"""The short list of a make: what its body asks of the pattern, how much, why, and what has to be measured first."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from toilewright.app.choosing import told, ways
from toilewright.app.words import say
from toilewright.body.estimates import next_measures
from toilewright.fit.prescribe import Prescription
from toilewright.known import Known
from toilewright.make.fitting import Fitted
from toilewright.units import MM_PER_INCH, show_length
from toilewright.workroom.documents import MakeDoc

_ROUND = {"cm": 1.0, "in": MM_PER_INCH / 16}
"""mm; to what an amount is taken in, as she would measure it."""


def short_list(fitted: Fitted, make: MakeDoc, unit: str) -> dict[str, Any]:
    """Everything that the list shows, as plain values: what is worth doing, what waits for a measure, what fits."""
    rows = [_row(one, make, unit) for one in fitted.prescriptions]
    return {"rows": rows, "next": _next(fitted)}


def _row(one: Prescription, make: MakeDoc, unit: str) -> dict[str, Any]:
    amount = round(one.amount.value / _ROUND[unit]) * _ROUND[unit]
    key = key_of(one.name, one.options)
    return {
        "key": key, "name": one.name, "options": dict(one.options), "said": told(one.options), "amount": amount,
        "shown": much(one.name, one.amount, unit), "reason": one.reason, "worth": one.worth_doing,
        "least": show_length(one.threshold, unit), "needs": list(one.needs_measure),
        "because": one.because, "aside": key in make.aside}


def key_of(name: str, options: Mapping[str, str]) -> str:
    """By which a prescription is known again when it is worked out anew."""
    return "|".join((name, *(f"{word}={options[word]}" for word in sorted(options))))


def much(name: str, amount: Known, unit: str) -> str:
    """How much, which way, and how sure: ``2.3 cm lower ± 0.5 cm``."""
    way = ways()[name]["plus" if amount.value >= 0 else "minus"]
    sure = say("prescribed.sure", spread=show_length(amount.spread, unit)) if amount.spread else ""
    return say("prescribed.much", amount=show_length(abs(amount.value), unit), way=way, sure=sure).strip()


def _next(fitted: Fitted) -> str:
    """The measure that would tell most of what is not known yet; "" when nothing waits."""
    wanted = {measure for one in fitted.prescriptions for measure in one.needs_measure}
    ranked = next_measures(fitted.sized.body, wanted) if wanted else ()
    return next((row.name for row in ranked if row.name in wanted), "")
