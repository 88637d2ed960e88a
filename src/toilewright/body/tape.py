"""The tape sheet of one body: what was measured, when, and what is known about how she stands."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from toilewright.body.measures import find_measure, is_measure, read_measure
from toilewright.body.sheet import check_keys, read_sheet, rows_of, table_of, text_of, unit_of
from toilewright.errors import Finding, InputError, Severity
from toilewright.known import Known, Origin
from toilewright.units import parse_length, show_length

WAISTS = {
    "natural": "where the body bends, the narrowest place",
    "half-way": "half-way between lowest rib and hip bone",
    "navel": "at the navel",
}
"""The three places called waist. On 2208 women of the US Army survey of 1988 the navel girth was 6.6 cm larger than
the natural one on average (standard deviation 4.0 cm): never to be converted silently."""

_KEYS = ("name", "date", "unit", "waist_place", "measures", "left", "right", "posture", "alteration")


@dataclass(frozen=True, slots=True)
class Wish:
    """An alteration as somebody wrote it down, before its amount is settled.

    Attributes:
        name: as written.
        amount: mm, signed; None for "auto": taken from the body against the piece.
        options: further words, e.g. ``{"piece": "bodice back"}``.
        came_from: the toile that asked for it, e.g. ``toile 1``, or "". Such a one is made beside all others.
        spread: how far the amount may be off (mm), where a toile or several makes told it.
        makes: number of makes it was learned from, 0 for none.
    """

    name: str
    amount: float | None = None
    options: Mapping[str, str] = field(default_factory=dict)
    came_from: str = ""
    spread: float | None = None
    makes: int = 0


@dataclass(frozen=True, slots=True)
class Body:
    """One body as measured.

    Attributes:
        measures, left, right: (ISO 8559-1 name, mm; degrees for the shoulder slope).
        unit: in which she likes to read lengths.
        waist_place: key of :data:`WAISTS`, or "" when the sheet does not say.
        posture: notes in her own words.
        alterations: the ones she always needs.
        findings: what deserves a second look.
    """

    name: str
    measures: tuple[tuple[str, float], ...]
    left: tuple[tuple[str, float], ...] = ()
    right: tuple[tuple[str, float], ...] = ()
    date: str = ""
    unit: str = "cm"
    waist_place: str = ""
    posture: tuple[str, ...] = ()
    alterations: tuple[Wish, ...] = ()
    findings: tuple[Finding, ...] = ()

    def get(self, name: str) -> Known | None:
        """One measure with the tape's spread, or None when it was not taken (nothing is estimated).

        Where only left and right were taken, their mean.

        Raises:
            NameUnknown: there is no such measure.
        """
        measure = find_measure(name)
        value = dict(self.measures).get(measure.name)
        if value is not None:
            return Known(value, Origin.MEASURED, measure.spread, f"{measure.name} by tape")
        sides = [dict(side).get(measure.name) for side in (self.left, self.right)]
        taken = [v for v in sides if v is not None]
        if not taken:
            return None
        words = "mean of left and right by tape" if len(taken) == 2 else "one side by tape"
        return Known(sum(taken) / len(taken), Origin.MEASURED, measure.spread, f"{measure.name}, {words}")

    def on_side(self, name: str, side: str) -> Known | None:
        """One measure on the ``left`` or ``right`` side: what was taken there, else what was taken for both."""
        measure = find_measure(name)
        value = dict(self.left if side == "left" else self.right).get(measure.name)
        if value is None:
            return self.get(name)
        return Known(value, Origin.MEASURED, measure.spread, f"{measure.name}, {side}, by tape")


def body_of(name: str, measures: Mapping[str, float], **more: Any) -> Body:
    """A body from measures in mm (degrees for the shoulder slope), by name or alias.

    Raises:
        InputError: a value that no body has, or values that contradict each other.
    """
    rows = _measured({k: (v if find_measure(k).is_angle else f"{v} mm") for k, v in measures.items()}, "mm", name)
    return _checked(Body(name, rows, **more))


def read_tape(path: Path | str) -> Body:
    """The body of a tape sheet (TOML).

    Entries: ``name``, ``date``, ``unit`` (cm), ``waist_place`` (natural, half-way, navel), the table ``[measures]`` by
    name or everyday alias, ``[left]`` and ``[right]`` where the sides differ, ``posture`` (a list of notes), and a row
    ``[[alteration]]`` with ``name`` and ``amount`` for each one she always needs.

    Raises:
        FileError: the file cannot be read, or breaks the rules of TOML.
        InputError: an entry that cannot be used, said with its name.
    """
    path = Path(path)
    where = f'tape sheet "{path.name}"'
    sheet = read_sheet(path, "tape sheet")
    _check_strays(sheet, where)
    check_keys(sheet, _KEYS, where)
    unit = unit_of(text_of(sheet, "unit", where, "cm"), where)
    body = Body(
        text_of(sheet, "name", where, path.stem), _measured(table_of(sheet, "measures", where), unit, where),
        _measured(table_of(sheet, "left", where), unit, f"{where}, left"),
        _measured(table_of(sheet, "right", where), unit, f"{where}, right"),
        day_of(sheet.get("date", ""), where), unit, _waist_place(text_of(sheet, "waist_place", where), where),
        _notes(sheet.get("posture", []), where),
        tuple(read_wish(row, unit, where) for row in rows_of(sheet, "alteration", where)))
    if not (body.measures or body.left or body.right):
        raise InputError(f'The {where} has no measures; write them under a line [measures], such as  bust = "92 cm".')
    return _checked(body)


def read_wish(row: Mapping[str, Any], unit: str, where: str) -> Wish:
    """One ``[[alteration]]`` row: its name, its amount ("auto" when left out) and its further words.

    ``from``, ``plus_minus`` and ``makes`` tell where it comes from and how sure its amount is.

    Raises:
        InputError: no name, or an amount or option that cannot be read.
    """
    name = text_of(row, "name", f"an alteration of {where}")
    if not name:
        raise InputError(f'An alteration of {where} has no name; write one, such as  name = "high round back".')
    place = f'alteration "{name}" of {where}'
    amount = row.get("amount", "auto")
    try:
        mm = None if isinstance(amount, str) and amount.strip().lower() == "auto" else parse_length(amount, unit)
    except InputError as problem:
        raise type(problem)(f'The amount of {place}: {str(problem).rstrip(".")}, or "auto".') from None
    options = {}
    for key, value in row.items():
        if key in _NO_OPTIONS:
            continue
        if not isinstance(value, (str, int, float)):
            raise InputError(f'"{key}" of {place} should be words or a number, but is {value!r}.')
        options[key.replace("_", " ")] = str(value)
    return Wish(name, mm, options, text_of(row, "from", place), *_how_sure(row, unit, place))


_NO_OPTIONS = ("name", "amount", "from", "plus_minus", "makes")


def _how_sure(row: Mapping[str, Any], unit: str, place: str) -> tuple[float | None, int]:
    """How far the amount may be off (mm), and from how many makes it is known."""
    makes = row.get("makes", 0)
    if isinstance(makes, bool) or not isinstance(makes, int) or not 0 <= makes < 1000:
        raise InputError(f'"makes" of {place} should be how many makes it was learned from, but is {makes!r}.')
    if "plus_minus" not in row:
        return None, makes
    try:
        return abs(parse_length(row["plus_minus"], unit)), makes
    except InputError as problem:
        raise type(problem)(f'"plus_minus" of {place}: {problem}') from None


# -- reading ------------------------------------------------------------------------------------------


def _measured(table: Mapping[str, Any], unit: str, where: str) -> tuple[tuple[str, float], ...]:
    rows: dict[str, float] = {}
    said: dict[str, str] = {}
    for key, value in table.items():
        measure = find_measure(key, where)
        if measure.name in rows:
            raise InputError(f'{where} gives "{measure.name}" twice, as "{said[measure.name]}" and as "{key}"; '
                             "keep one of them.")
        rows[measure.name] = read_measure(measure, value, unit, where)
        said[measure.name] = key
    return tuple(rows.items())


def _check_strays(sheet: Mapping[str, Any], where: str) -> None:
    """Raise InputError for a measure that stands outside the table of measures."""
    for key in sheet:
        if key not in _KEYS and is_measure(key):
            raise InputError(f'"{key}" stands outside the measures of {where}; write it below the line [measures].')


def day_of(value: object, where: str) -> str:
    """A day that a sheet gives, as text; InputError when it is none."""
    if isinstance(value, (datetime.date, datetime.datetime)):
        return value.isoformat()[:10]
    if isinstance(value, str):
        return value
    raise InputError(f'"date" of {where} should be a day such as 2025-03-01, but is {value!r}.')


def _notes(value: object, where: str) -> tuple[str, ...]:
    if isinstance(value, str):
        return (value,)
    if isinstance(value, list) and all(isinstance(v, str) for v in value):
        return tuple(value)
    raise InputError(f'"posture" of {where} should be a list of notes, such as ["rounded upper back"].')


def _waist_place(value: str, where: str) -> str:
    place = value.strip().lower().replace("halfway", "half-way").replace("_", "-")
    if place and place not in WAISTS:
        listed = ", ".join(f'"{k}" ({v})' for k, v in WAISTS.items())
        raise InputError(f'"waist_place" of {where} is "{value}"; the three waists are {listed}.')
    return place


# -- does it make sense? ------------------------------------------------------------------------------


def _checked(body: Body) -> Body:
    """The body with its findings; contradictions raise InputError."""
    for small, large, why in NEVER_LARGER:
        if both := is_larger(body, small, large):
            a, b = both
            raise InputError(
                f'The "{small}" of {body.name} is {show_length(a, body.unit)} and the "{large}" only '
                f"{show_length(b, body.unit)}, but {why}; measure both again.")
    findings = [_waist_question(body)] if body.get("waist girth") and not body.waist_place else []
    for small, large, why in SELDOM_LARGER:
        if both := is_larger(body, small, large):
            a, b = both
            findings.append(Finding(
                "measures-odd", f'The "{small}" of {body.name} ({show_length(a, body.unit)}) is more than the '
                f'"{large}" ({show_length(b, body.unit)}), which is seldom so: {why}.', Severity.LOOK))
    return replace(body, findings=(*body.findings, *findings))


def is_larger(body: Body, small: str, large: str) -> tuple[float, float] | None:
    """Both values (mm) where the one that should be smaller is larger by more than the tape's error, else None."""
    a, b = body.get(small), body.get(large)
    if a and b and a.value > b.value + max(a.spread or 0.0, b.spread or 0.0):
        return a.value, b.value
    return None


NEVER_LARGER = (
    ("under-bust girth", "bust girth", "the tape over the fullest part cannot be shorter than the one under it"),
    ("neck shoulder point to bust point", "neck shoulder point to waist", "the bust lies above the waist"),
    ("armscye depth", "back neck point to waist", "the underarm lies above the waist"),
    ("waist height", "stature", "the waist lies below the top of the head"),
    ("bust point width", "bust girth", "the one is a part of the other"),
    ("wrist girth", "upper arm girth", "a wrist is the thinner of the two"),
)
"""(the smaller measure, the larger one, why it cannot be otherwise)."""

SELDOM_LARGER = (
    ("upper bust girth", "bust girth", "take the upper bust close under the arms"),
    ("waist girth", "bust girth", "check both, and that they did not change places"),
    ("waist girth", "hip girth", "check both, and where the hip is fullest"),
    ("high hip girth", "hip girth", "take the hip where it is fullest"),
)
"""(the usually smaller measure, the usually larger one, what to look at when it is not so)."""


def _waist_question(body: Body) -> Finding:
    places = ", ".join(f'"{k}" ({v})' for k, v in WAISTS.items())
    return Finding(
        "which-waist", f"The tape sheet of {body.name} does not say where the waist was taken; the places differ by "
        f"several centimetres, so write waist_place = {places}.", Severity.LOOK)


def missing(body: Body, name: str) -> str:
    """Words that ask for a measure, with how to take it, to end a sentence with.

    Raises:
        NameUnknown: there is no such measure.
    """
    measure = find_measure(name)
    return f'the tape sheet of {body.name} has no "{measure.name}"; take it {measure.way}'
