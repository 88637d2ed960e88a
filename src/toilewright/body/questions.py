"""Questions that a tape sheet raises: each can be answered by another number, or by "it is right"; none forbids."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from toilewright.body.estimates import Unlikely, unlikely
from toilewright.body.measures import Measure, all_measures, find_measure
from toilewright.body.proportions import Proportion, proportions
from toilewright.body.slips import Slip, guesses
from toilewright.body.tape import NEVER_LARGER, SELDOM_LARGER, Body, is_larger
from toilewright.units import show_length

WIDER = 0.08
"""share by which a proportion may lie outside what was measured on others before it is doubted: two tapes have their
errors, and bodies differ more than any survey shows (common practice)."""

SIDES_DIFFER = 15.0
"""mm between left and right that are not unusual (common practice)."""

SIDES_DIFFER_DEGREES = 6.0
"""degrees between left and right shoulder that are not unusual (common practice)."""

SELDOM_CHANGE = ("stature", "back neck point to waist", "arm length")
"""Measures that stay the same in a grown body."""

OLD = datetime.timedelta(days=366)
"""After that a sheet should be taken again (common practice)."""

_MOST = 3
"""so many other numbers are offered."""


@dataclass(frozen=True, slots=True)
class Answer:
    """A number she may have meant.

    Attributes:
        words: as on a button.
        measure, side: where it goes; `side` is ``left``, ``right`` or "".
        value: mm (degrees for an angle).
    """

    words: str
    measure: str
    side: str
    value: float


@dataclass(frozen=True, slots=True)
class Question:
    """One doubt.

    Attributes:
        code: what kind of doubt, e.g. ``out-of-range``.
        measures: what it is about, the likeliest culprit first; empty for the sheet as a whole.
        text: one sentence.
        answers: what she may have meant; "it is right" can always be answered too.
        key: the same as long as the numbers stay the same, so that an answer can be remembered.
    """

    code: str
    measures: tuple[str, ...]
    text: str
    answers: tuple[Answer, ...]
    key: str


@dataclass(frozen=True, slots=True)
class _Doubt:
    code: str
    measures: tuple[str, ...]
    text: str
    side: str = ""


def questions(body: Body, last: Body | None = None, today: str = "") -> tuple[Question, ...]:
    """Everything on a tape sheet that deserves a second look.

    Args:
        body: may hold any values, also ones that no body has.
        last: the sheet before this one, when there is one.
        today: ISO 8601 day; "" to ask nothing about the age of the sheet.
    """
    doubts = list(_doubts(body))
    asked = []
    while doubts:
        culprit = _culprit(body, doubts)
        own = [d for d in doubts if culprit in d.measures]
        asked.append(_question(body, own[0], culprit))
        doubts = [d for d in doubts if culprit not in d.measures]
    settled = {m for q in asked for m in q.measures[:1]}
    more = (q for q in (*_sides(body), *_changed(body, last)) if q.measures[0] not in settled)
    return (*asked, *more, *_waist(body), *_age(body, today))


# -- what may be doubted -----------------------------------------------------------------------------


def _doubts(body: Body) -> Iterator[_Doubt]:
    yield from _out_of_range(body)
    for small, large, why in NEVER_LARGER:
        if both := is_larger(body, small, large):
            yield _Doubt("contradiction", (small, large), f'"{small}" ({show_length(both[0], body.unit)}) is more than '
                         f'"{large}" ({show_length(both[1], body.unit)}), but {why}.')
    for small, large, why in SELDOM_LARGER:
        if both := is_larger(body, small, large):
            yield _Doubt("odd", (small, large), f'"{small}" ({show_length(both[0], body.unit)}) is more than "{large}" '
                         f"({show_length(both[1], body.unit)}), which is seldom so: {why}.")
    for one in proportions():
        if doubt := _out_of_proportion(body, one):
            yield doubt
    for found in unlikely(body):
        yield _does_not_fit(body, found)


def _out_of_range(body: Body) -> Iterator[_Doubt]:
    for side, rows in _by_side(body):
        for name, value in rows:
            measure = find_measure(name)
            if not measure.low <= value <= measure.high:
                least, most, taken = (_show(measure, v, body.unit) for v in (measure.low, measure.high, value))
                where = f" ({side})" if side else ""
                yield _Doubt("out-of-range", (name,), f'"{name}"{where} is {taken}, but bodies have {least} to {most}.',
                             side)


def _out_of_proportion(body: Body, one: Proportion) -> _Doubt | None:
    a, b = body.get(one.measure), body.get(one.of)
    if not a or not b:
        return None
    low, high = b.value * one.low * (1 - WIDER), b.value * one.high * (1 + WIDER)
    if low <= a.value <= high:
        return None
    return _Doubt("out-of-proportion", (one.measure, one.of),
                  f'{show_length(a.value, body.unit)} is {"little" if a.value < low else "much"} for "{one.measure}" '
                  f'beside a "{one.of}" of {show_length(b.value, body.unit)}: {show_length(low, body.unit)} to '
                  f"{show_length(high, body.unit)} would be usual.")


def _does_not_fit(body: Body, found: Unlikely) -> _Doubt:
    measure, expected = find_measure(found.name), found.expected
    spread = expected.spread or 0.0
    low, high = (_show(measure, round(v) if measure.is_angle else v, body.unit)
                 for v in (expected.value - spread, expected.value + spread))
    return _Doubt("does-not-fit", (found.name,),
                  f'{_show(measure, found.taken, body.unit)} is {"little" if found.off < 0 else "much"} for '
                  f'"{found.name}" beside all the other measures: going by them, {low} to {high} would be usual.')


def _sides(body: Body) -> Iterator[Question]:
    left, right = dict(body.left), dict(body.right)
    for measure in all_measures():
        if measure.name not in left or measure.name not in right:
            continue
        a, b = left[measure.name], right[measure.name]
        if abs(a - b) > (SIDES_DIFFER_DEGREES if measure.is_angle else SIDES_DIFFER):
            yield _asked(body, _Doubt(
                "sides-differ", (measure.name,), f'"{measure.name}" is {_show(measure, a, body.unit)} on the left and '
                f"{_show(measure, b, body.unit)} on the right, which is more than usual; measure both sides again."))


def _waist(body: Body) -> Iterator[Question]:
    if body.get("waist girth") and not body.waist_place:
        yield _asked(body, _Doubt("which-waist", ("waist girth",), "Which waist is this? The three places differ by "
                                  "several centimetres; choose one below."))


def _changed(body: Body, last: Body | None) -> Iterator[Question]:
    if last is None:
        return
    for name in SELDOM_CHANGE:
        now, was = body.get(name), last.get(name)
        if now and was and abs(now.value - was.value) > (now.spread or 0.0) + (was.spread or 0.0):
            shown = show_length(was.value, body.unit)
            yield _asked(body, _Doubt(
                "changed", (name,), f'"{name}" was {shown} {_day(last)}and is {show_length(now.value, body.unit)} now, '
                "though it seldom changes in a grown body; measure it again."),
                (Answer(f"It is still {shown}", name, "", was.value),))


def _age(body: Body, today: str) -> Iterator[Question]:
    try:
        age = datetime.date.fromisoformat(today) - datetime.date.fromisoformat(body.date)
    except ValueError:
        return
    if age > OLD:
        yield Question("old-sheet", (), f"These measures were taken on {body.date}, more than a year ago; bodies "
                       "change, so measure again.", (), f"old-sheet {body.date}")


# -- who is to blame, and what was meant --------------------------------------------------------------


def _culprit(body: Body, doubts: list[_Doubt]) -> str:
    """The measure that most doubts are about; among equals one that a slip of the pen would explain."""
    count = Counter(m for d in doubts for m in d.measures)
    most = max(count.values())
    worst = [m for m in count if count[m] == most]
    alone = {d.measures[0] for d in doubts if len(d.measures) == 1}
    return next((m for m in worst if m in alone), None) or next((m for m in worst if _meant(body, m, "")), worst[0])


def _question(body: Body, doubt: _Doubt, culprit: str) -> Question:
    ordered = (culprit, *(m for m in doubt.measures if m != culprit))
    answers = [a for m in ordered for a in _meant(body, m, doubt.side)]
    return _asked(body, replace(doubt, measures=ordered), tuple(answers[:_MOST]))


def _asked(body: Body, doubt: _Doubt, answers: tuple[Answer, ...] = ()) -> Question:
    values = [f"{v:g}" for m in doubt.measures for _, rows in _by_side(body) for n, v in rows if n == m]
    return Question(doubt.code, doubt.measures, doubt.text, answers,
                    " ".join((doubt.code, *doubt.measures, doubt.side, *values)).replace("  ", " "))


def _meant(body: Body, name: str, side: str) -> list[Answer]:
    """Other numbers for a measure that nothing on the sheet speaks against."""
    measure = find_measure(name)
    rows = dict(dict(_by_side(body))[side])
    if measure.is_angle or name not in rows:
        return []
    found: dict[float, Answer] = {}
    for guess in guesses(rows[name], body.unit):
        if measure.low <= guess.value <= measure.high and _fits(body, name, side, guess.value):
            found.setdefault(round(guess.value, 1), Answer(_words(guess.value, guess.slip, body.unit), name, side,
                                                           guess.value))
    return list(found.values())


def _fits(body: Body, name: str, side: str, value: float) -> bool:
    """Would this number raise no doubt about its measure?"""
    rows = tuple((n, value if n == name else v) for n, v in dict(_by_side(body))[side])
    changed = replace(body, **{side or "measures": rows})
    return not any(name in d.measures for d in _doubts(changed))


def _words(value: float, slip: Slip, unit: str) -> str:
    if slip is Slip.UNIT:
        inches = unit != "in"
        said = show_length(value, "in" if inches else "cm")
        return f"It is {'inches' if inches else 'centimetres'}: {said} = {show_length(value, unit)}"
    return f"Did you mean {show_length(value, unit)}?"


def _by_side(body: Body) -> tuple[tuple[str, tuple[tuple[str, float], ...]], ...]:
    return ("", body.measures), ("left", body.left), ("right", body.right)


def _day(last: Body) -> str:
    return f"on {last.date} " if last.date else ""


def _show(measure: Measure, value: float, unit: str) -> str:
    return f"{value:g} degrees" if measure.is_angle else show_length(value, unit)
