"""Lengths as people write them, and as they like to read them; millimetres inside."""

from __future__ import annotations

import re

from toilewright.errors import UnitError

MM_PER_INCH = 25.4
"""mm in one inch (exact, by definition of 1959)."""

LONGEST = 1e9
"""A number larger than this, in whatever unit, is no length in a sewing room."""

LONGEST_TEXT = 60
"""characters; nobody writes a length with more."""

_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_INCH, "ft": 12 * MM_PER_INCH, "yd": 36 * MM_PER_INCH}

_WORDS = {
    "millimetre": "mm", "millimeter": "mm", "centimetre": "cm", "centimeter": "cm", "metre": "m", "meter": "m",
    "inch": "in", "inches": "in", "ins": "in", "foot": "ft", "feet": "ft", "yard": "yd", "yds": "yd",
    '"': "in", "″": "in", "”": "in", "“": "in", "''": "in", "'": "ft", "′": "ft", "’": "ft",
}

_PARTS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3"}

_NUMBER = r"(?:\d+\s+\d+\s*/\s*\d+|\d+\s*/\s*\d+|\d+(?:[.,]\d+)?|[.,]\d+)"
_HYPHENED = re.compile(r"(?<=\d)-(?=\d+\s*/)")  # 34-1/2, as envelopes print it
_TERM = re.compile(rf"\s*({_NUMBER})\s*([a-z]+|''|[\"″”“'′’])?\.?\s*")


def parse_length(value: str | float, default: str = "cm") -> float:
    """A length in mm from what somebody wrote.

    Whole numbers, decimals with point or comma, common fractions ("34 1/2", "34-1/2", "3/8", "34½"), a sign in front,
    and sums in falling units ("5 ft 4 in"). A number without a unit is taken in the default unit.

    Args:
        default: ``mm``, ``cm``, ``m``, ``in``, ``ft`` or ``yd``.

    Raises:
        UnitError: it is not a length, or its unit is unknown.

    >>> parse_length("87,5 cm"), round(parse_length("34 1/2 in"), 4), parse_length("875 mm")
    (875.0, 876.3, 875.0)
    """
    base = unit_name(default)
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        if not -LONGEST <= value <= LONGEST:
            raise UnitError("That number is not a length in a sewing room; write one such as 87.5.")
        return value * _MM[base]
    if not isinstance(value, str):
        raise UnitError(f'A length was expected but {value!r} was given; write one such as "87.5 cm".')
    if len(value) > LONGEST_TEXT:
        raise UnitError(f'"{_short(value)}" is too long to be a length; write it like "87.5 cm" or "34 1/2 in".')
    return _parse_text(value, base)


def _short(text: str) -> str:
    return text if len(text) <= 30 else text[:27] + "..."


def unit_name(unit: str) -> str:
    """The short name of a unit: "inches" and '"' are ``in``.

    Raises:
        UnitError: no such unit.
    """
    key = unit.strip().lower().rstrip(".")
    short = _WORDS.get(key) or (_WORDS.get(key[:-1]) if key.endswith("s") else None) or key
    if short not in _MM:
        raise UnitError(f'"{unit}" is not a unit of length known here; use cm, mm, m, in, ft or yd.')
    return short


def show_length(mm: float, unit: str = "cm") -> str:
    """A length for reading: centimetres with one decimal, inches to the nearest eighth, millimetres whole.

    >>> show_length(876.3, "in"), show_length(875), show_length(-9.5, "in")
    ('34 1/2 in', '87.5 cm', '-3/8 in')
    """
    short = unit_name(unit)
    if short == "in":
        return f"{_eighths(mm)} in"
    decimals = {"mm": 0, "cm": 1}.get(short, 2)
    text = f"{mm / _MM[short]:.{decimals}f}"
    # Nobody wants to read "-0.0 cm".
    return f"{text.lstrip('-') if float(text) == 0 else text} {short}"


def show_both(mm: float) -> str:
    """A length in cm and inches, for sentences that do not know in which she thinks.

    >>> show_both(42.0)
    '4.2 cm (1 5/8 in)'
    """
    return f"{show_length(mm)} ({show_length(mm, 'in')})"


def _eighths(mm: float) -> str:
    total = round(abs(mm) / MM_PER_INCH * 8)
    whole, part = divmod(total, 8)
    below = 8
    while part and part % 2 == 0:
        part, below = part // 2, below // 2
    words = [str(whole)] if whole or not part else []
    if part:
        words.append(f"{part}/{below}")
    return ("-" if mm < 0 and total else "") + " ".join(words)


def _parse_text(text: str, base: str) -> float:
    plain = text.strip().lower().replace("−", "-").replace("–", "-").replace("\u00a0", " ").replace("⁄", "/")
    for sign, words in _PARTS.items():
        plain = plain.replace(sign, f" {words}")
    plain = _HYPHENED.sub(" ", plain.strip())
    minus = plain.startswith("-")
    body = plain.lstrip("+-").strip() if plain[:1] in ("+", "-") and plain[1:2] not in ("+", "-") else plain
    terms, at = [], 0
    while at < len(body):
        found = _TERM.match(body, at)
        if not found:
            break
        terms.append((found[1], found[2]))
        at = found.end()
    if not terms or at < len(body):
        raise UnitError(f'"{text}" cannot be read as a length; write it like "87.5 cm" or "34 1/2 in".')
    total = _sum_of(terms, base, text)
    return -total if minus else total


def _sum_of(terms: list[tuple[str, str | None]], base: str, text: str) -> float:
    """Terms in falling units, mm; only a single term may leave its unit out."""
    total, last = 0.0, float("inf")
    for number, unit in terms:
        if unit is None and len(terms) > 1:
            raise UnitError(f'"{text}" has a number without a unit in it; write it like "5 ft 4 in" or "162.5 cm".')
        size = _MM[unit_name(unit) if unit else base]
        if size >= last:
            raise UnitError(f'"{text}" names its units in a mixed order; write the larger unit first, "5 ft 4 in".')
        total, last = total + _amount(number, text) * size, size
    return total


def _amount(number: str, text: str) -> float:
    words = number.replace(",", ".").replace("/", " / ").split()
    if "/" not in words:
        return float(words[0])
    *whole, above, _, below = words
    if int(below) == 0:
        raise UnitError(f'"{text}" divides by nought; write the fraction like "1/2".')
    return (int(whole[0]) if whole else 0) + int(above) / int(below)
