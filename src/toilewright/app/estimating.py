"""What the measures that were taken say about those that were not, and which of these to take next, in words."""

from __future__ import annotations

from collections.abc import Iterable

from toilewright.app.words import say
from toilewright.body.estimates import Estimate, estimates, next_measures
from toilewright.body.measures import find_measure
from toilewright.body.tape import Body
from toilewright.units import show_length


def guesses(body: Body, unit: str) -> dict[str, str]:
    """By measure that was not taken, what the others make of it."""
    return {one.name: _guess(one, unit) for one in estimates(body)}


def take_next(body: Body, wanted: Iterable[str]) -> str:
    """The measure that would settle most of what is wanted and not taken; "" when nothing is."""
    asked = {name for name in wanted if body.get(name) is None}
    ranked = next_measures(body, asked) if asked else ()
    return next((row.name for row in ranked if row.name in asked), "")


def _guess(one: Estimate, unit: str) -> str:
    words = say("measure.guess", value=_shown(one.name, one.known.value, unit), low=_shown(one.name, one.low, unit),
                high=_shown(one.name, one.high, unit))
    return f"{words} {say('measure.guess_stands_in' if one.may_cut else 'measure.guess_never_cut')}"


def _shown(name: str, value: float, unit: str) -> str:
    return f"{value:.0f} {say('measure.degrees')}" if find_measure(name).is_angle else show_length(value, unit)
