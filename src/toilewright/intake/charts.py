"""The envelope's body chart, read from a table of words on the sheet."""

from __future__ import annotations

import cmath
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from toilewright.body.measures import find_measure
from toilewright.errors import NameUnknown
from toilewright.intake.captions import LETTER
from toilewright.intake.drawing import Word
from toilewright.intake.raw import RawPattern
from toilewright.pattern.nest import BodyChart

_OTHER_WORDS: tuple[tuple[str, str], ...] = (
    ("bust girth", r"brustumfang|brustweite|oberweite|(?:tour de )?poitrine"),
    ("waist girth", r"taillenumfang|taillenweite|taille|(?:tour de )?taille"),
    ("hip girth", r"hüftumfang|hüftweite|hüfte|gesäßweite|(?:tour de )?hanches|(?:tour de )?bassin"),
    ("stature", r"körper(?:größe|höhe)|(?:stature|hauteur totale)"),
    ("back neck point to waist", r"rückenlänge|longueur (?:du )?dos"),
    ("shoulder length", r"schulterbreite|(?:longueur d')?épaule"),
    ("upper arm girth", r"oberarm(?:umfang|weite)|tour de bras"),
    ("arm length", r"(?:arm|ärmel)länge|longueur (?:de )?(?:bras|manche)"),
)
"""Row titles in German and French."""

_BESIDE = re.compile(r"\([^)]*\)|\bin (?:cm|mm|inch(?:es)?)\b|\b(?:cm|mm|inch(?:es)?)\b|[:*\"″°]|\bbody\b", re.I)
_NUMBER = re.compile(r"^(\d+)(?:[.,](\d+))?(?:\s+(\d+)/(\d+))?\s*(cm|mm|in|\"|″)?$", re.I)
_AMOUNT = re.compile(r"\d+(?:[.,]\d+)?(?:\s+\d+/\d+)?(?:/\d+)?\s*(?:cm|mm|in\b|\"|″)?", re.I)
_UNITS = ((10.0, re.compile(r"\bcm\b|centimet", re.I)), (1.0, re.compile(r"\bmm\b|millimet", re.I)),
          (25.4, re.compile(r"\binch|\bin\b|[\"″]", re.I)))
FAR_APART = 12.0
"""Letter heights; words farther apart than this on one baseline do not belong together."""

_INCHES_TO = 66.0
"""A bust chart that stays below this number is in inches, above it in cm: no adult bust is 66 cm or 66 in."""

_CHILD = 45.0
"""A girth chart that starts above this number is of children and in cm: no chart starts at a bust of 45 in."""

_CM_FROM = 90.0
"""Heights above this number are not in inches."""


@dataclass(frozen=True, slots=True)
class _Row:
    """Words on one baseline: what stands before the last numbers, and those numbers."""

    title: str
    values: tuple[str, ...]


def measure_name(text: str) -> str | None:
    """The ISO 8559-1 measure that a row's title stands for, or None.

    >>> measure_name("Bust (cm)"), measure_name("Back waist length"), measure_name("Price")
    ('bust girth', 'back neck point to waist', None)
    """
    plain = " ".join(_BESIDE.sub(" ", text).lower().split())
    try:
        return find_measure(plain).name
    except NameUnknown:
        return next((name for name, pattern in _OTHER_WORDS if re.fullmatch(pattern, plain)), None)


def read_chart(raw: RawPattern) -> BodyChart | None:
    """The body chart among the words that belong to no piece; None when there is none.

    A row is a measure's name followed by one number for each size. Values in mm (the shoulder slope in degrees).
    """
    count = len(raw.sizes)
    rows: dict[str, tuple[str, tuple[str, ...]]] = {}
    lines = list(_rows(raw.words))
    for row in lines:
        name = measure_name(row.title)
        if name and len(row.values) == count and name not in rows and count > 0:
            rows[name] = (row.title, row.values)
    if not rows:
        return None
    general = next((u for row in lines if re.search(r"\bsizes?\b|chart|measure|tabelle|maße", row.title, re.I)
                    and (u := _unit(row.title))), None)
    default = general or _by_size(rows)
    out = []
    for name, (title, values) in rows.items():
        factor = 1.0 if name == "shoulder slope" else _unit(title) or default
        numbers = tuple(round(_value(v) * (_own_unit(v) or factor), 3) for v in values)
        out.append((name, numbers))
    return BodyChart(raw.sizes, tuple(out))


def _rows(words: Iterable[Word]) -> list[_Row]:
    """Words in rows by their baseline, from left to right, taken apart into titles and numbers."""
    rows: list[tuple[float, float, list[tuple[float, float, str]]]] = []
    for word in words:
        spot = word.at * cmath.rect(1, -word.angle)
        row = next((r for r in rows
                    if abs(r[0] - spot.imag) < 0.4 * word.height and abs(r[1] - word.angle) < 0.02), None)
        if row is None:
            row = (spot.imag, word.angle, [])
            rows.append(row)
        row[2].append((spot.real, word.height, word.text.strip()))
    return [made for _, _, cells in rows for made in _parted(sorted(cells))]


def _parted(cells: Sequence[tuple[float, float, str]]) -> Iterator[_Row]:
    """Titles and the numbers behind them; other words on the baseline, far to the left, are a row of their own."""
    title, values, reached = "", [], None
    for x, height, text in cells:
        words, numbers = _split(text)
        far = reached is not None and x - reached > FAR_APART * height
        if words and (values or far):
            yield _Row(title, tuple(values))
            title, values = "", []
        title = f"{title} {words}".strip()
        # A fraction written apart belongs to the whole number before it.
        for number in numbers:
            if "/" in number and " " not in number and values and "/" not in values[-1]:
                values[-1] = f"{values[-1]} {number}"
            else:
                values.append(number)
        reached = x + LETTER * height * len(text)
    yield _Row(title, tuple(values))


def _split(text: str) -> tuple[str, list[str]]:
    """The words at the start of a cell, and the numbers behind them."""
    first = re.search(r"(?:^|(?<=\s))\d", text)
    head, tail = (text[:first.start()], text[first.start():]) if first else (text, "")
    return head.strip(), [t.strip() for t in _AMOUNT.findall(tail)]


def _value(text: str) -> float:
    found = _NUMBER.match(text)
    if not found:
        return 0.0
    whole = float(f"{found[1]}.{found[2] or 0}")
    return whole + (float(found[3]) / float(found[4]) if found[3] and float(found[4]) else 0.0)


def _unit(title: str) -> float | None:
    return next((factor for factor, pattern in _UNITS if pattern.search(title)), None)


def _own_unit(value: str) -> float | None:
    found = _NUMBER.match(value)
    return _unit(found[5]) if found and found[5] else None


def _by_size(rows: dict[str, tuple[str, Sequence[str]]]) -> float:
    """The unit of a chart that names none, by its row of heights, else of bust, hip or waist."""
    if "stature" in rows and max(map(_value, rows["stature"][1])) > _CM_FROM:
        return 10.0 if max(map(_value, rows["stature"][1])) < 300 else 1.0
    for name in ("bust girth", "hip girth", "waist girth"):
        if name in rows:
            values = [_value(v) for v in rows[name][1]]
            if max(values) < _INCHES_TO and min(values) < _CHILD:
                return 25.4
            return 10.0 if max(values) < 300 else 1.0
    return 10.0
