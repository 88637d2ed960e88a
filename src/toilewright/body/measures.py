"""The tape measures: their names, what people call them, how sure a tape is, what a body can have."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from toilewright.errors import InputError, NameUnknown
from toilewright.units import parse_length, show_length, unit_name

TAPE_ERROR = {"height": 4.0, "segment": 5.0, "large girth": 9.0, "small girth": 4.0, "breadth": 4.0, "depth": 5.0,
              "angle": 2.0}
"""Largest allowed difference between two careful measurings in mm (ISO 20685-1, from memory); the angle in degrees is
our own guess. A home tape is no better."""


@dataclass(frozen=True, slots=True)
class Measure:
    """One tape measure.

    Attributes:
        name: as in ISO 8559-1 (from memory).
        aliases: everyday names.
        kind: key of :data:`TAPE_ERROR`.
        low, high: what a body can have (mm; degrees for an angle).
        how: one sentence on how to take it.
    """

    name: str
    aliases: tuple[str, ...]
    kind: str
    low: float
    high: float
    how: str

    @property
    def spread(self) -> float:
        """How far two careful measurings may differ (mm; degrees for an angle)."""
        return TAPE_ERROR[self.kind]

    @property
    def way(self) -> str:
        """How to take it, to end a sentence with."""
        return self.how[0].lower() + self.how[1:]

    @property
    def is_angle(self) -> bool:
        """Is it an angle in degrees instead of a length?"""
        return self.kind == "angle"


@lru_cache(maxsize=1)
def all_measures() -> tuple[Measure, ...]:
    """Every tape measure known here, in the order in which they are taken."""
    rows = tomllib.loads(Path(__file__).with_name("measures.toml").read_text(encoding="utf-8"))["measure"]
    return tuple(Measure(r["name"], tuple(r["aliases"]), r["kind"], *map(float, r["range"]), r["how"]) for r in rows)


def find_measure(name: str, where: str = "") -> Measure:
    """The measure of that name or alias; capitals, hyphens and underscores do not matter.

    Raises:
        NameUnknown: no such measure (the nearest name is offered).

    >>> find_measure("Nape_to_Waist").name
    'back neck point to waist'
    """
    found = _by_key().get(_key(name))
    if found is None:
        every = [n for m in all_measures() for n in (m.name, *m.aliases)]
        raise NameUnknown.among("measure", name, every, where, [m.name for m in all_measures()])
    return found


def is_measure(name: str) -> bool:
    """Is there a measure of that name or alias?"""
    return _key(name) in _by_key()


def read_measure(measure: Measure, value: object, unit: str, where: str) -> float:
    """What the sheet says, in mm (degrees for an angle).

    Args:
        unit: taken when the value names none.
        where: the sheet, for messages.

    Raises:
        UnitError: it is not a length.
        InputError: no body has that; the unit that would make sense is offered.
    """
    try:
        amount = _degrees(value) if measure.is_angle else parse_length(value, unit)  # type: ignore[arg-type]
    except InputError as problem:
        raise type(problem)(f'"{measure.name}" of {where}: {problem}') from None
    if measure.low <= amount <= measure.high:
        return amount
    raise InputError(_impossible(measure, value, amount, unit, where))


def _key(name: str) -> str:
    return " ".join(name.lower().replace("_", " ").replace("-", " ").split())


@lru_cache(maxsize=1)
def _by_key() -> dict[str, Measure]:
    return {_key(n): m for m in all_measures() for n in (m.name, *m.aliases)}


def _degrees(value: object) -> float:
    if isinstance(value, str):
        value = value.lower().replace("°", "").replace("degrees", "").replace("deg", "").replace(",", ".").strip()
    try:
        return float(value)  # type: ignore[arg-type]
    except (TypeError, ValueError, OverflowError):
        raise InputError(f'"{str(value)[:30]}" is not an angle; write degrees, such as 21.') from None


def _impossible(measure: Measure, value: object, amount: float, unit: str, where: str) -> str:
    """The sentence for a value that no body has, with the unit that would make sense."""
    if measure.is_angle:
        return (f'"{measure.name}" of {where} is {amount:g} degrees, but shoulders fall by {measure.low:g} to '
                f"{measure.high:g}; measure it again.")
    said = str(value).strip()
    shown = said if any(c.isalpha() or c in "\"'″′" for c in said) else f"{said} {unit_name(unit)}"
    for guess in ("cm", "mm", "in"):
        number = said.rstrip("\"'″′ abcdefghijklmnopqrstuvwxyz.")
        try:
            mm = parse_length(number, guess)
        except InputError:
            break
        if measure.low <= mm <= measure.high:
            other = "in" if guess == "in" else "cm"
            same = "" if guess == "cm" else f" = {show_length(mm, 'cm' if other == 'in' else other)}"
            return (f'"{measure.name}" of {where} is {shown}, which no body has: probably {number} {guess}{same}? '
                    "Write it with its unit.")
    usual = f"{show_length(measure.low, unit)} to {show_length(measure.high, unit)}"
    return f'"{measure.name}" of {where} is {shown}, but bodies have {usual}; measure it again, {measure.way}'
