"""Single entries about cloth, as people write them: widths in shops' words, parts of a length, outlines, money."""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import isfinite
from typing import Any

from toilewright.errors import InputError
from toilewright.geometry.point import Point, cross
from toilewright.units import MM_PER_INCH, parse_length, show_both

GRAMS_PER_OUNCE = 28.349523125
"""Exact, by definition of 1959."""

OUNCE_PER_SQUARE_YARD = GRAMS_PER_OUNCE / (0.036 * MM_PER_INCH) ** 2
"""grams per square metre in one ounce per square yard, about 33.9."""

_TWO_WIDTHS = re.compile(r"\s*(\d{2,3})\s*[/-]\s*(\d{2,3})\s*([a-z\"]*)\.?\s*", re.IGNORECASE)
_PART = re.compile(r"\s*([+-]?\d+(?:[.,]\d+)?|[+-]?[.,]\d+)\s*(?:%|per cent|percent)?\s*")
_OF = re.compile(r"\s*(.+?)\s+(?:of|from)\s+(.+?)\s*")
_NUMBER = re.compile(r"\s*(\d+(?:[.,]\d+)?|[.,]\d+)\s*")
_WEIGHT = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(g|grams?|oz)?\s*(?:/|per|a)?\s*(?:m2|m²|sqm|sq ?yd|yd2|yd²)?\s*")
_TURN = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(?:deg|degrees?|°)?\s*")


def length_of(value: object, unit: str, place: str, least: float, most: float, such: str) -> float:
    """A length within bounds (mm); InputError with its place otherwise.

    Args:
        place: what is read, for messages: ``"width" of cloth "self"``.
        least, most: mm.
        such: an example of what would do.
    """
    try:
        mm = parse_length(value, unit)
    except InputError as problem:
        raise type(problem)(f"{place}: {problem}") from None
    if not least <= mm <= most:
        raise InputError(f"{place} is {show_both(mm)}; write a length from {show_both(least)} to {show_both(most)}, "
                         f"such as {such}.")
    return mm


def width_of(value: object, unit: str, place: str) -> float:
    """A width as shops name it (mm): "140 cm", "45 in"; of "110/112 cm" and "44-45 in" the smaller one."""
    if isinstance(value, str) and (found := _TWO_WIDTHS.fullmatch(value)) and int(found[1]) < int(found[2]):
        value = f"{found[1]} {found[3]}"
    return length_of(value, unit, place, 200.0, 5000.0, '"140 cm" or "54 in", selvedges included')


def part_of(value: object, unit: str, place: str, least: float, most: float, grows: bool = False) -> float:
    """A part of a length: "3 %", or measured on a square, "97 cm of 100 cm".

    A number alone is per cent. Measured, it is what was lost; where it `grows`, what was gained.

    >>> part_of("3 %", "cm", "", 0, 1), round(part_of("97 cm of 100 cm", "cm", "", 0, 1), 3)
    (0.03, 0.03)
    >>> round(part_of("12 of 10", "cm", "", 0, 1, grows=True), 2)
    0.2
    """
    part = _part(value, unit, place, grows)
    if part is None or not least <= part <= most:
        raise InputError(
            f'{place} should be a part from {100 * least:g} % to {100 * most:g} %, such as "3 %", or what you '
            f'measured, such as "{"120 cm of 100 cm" if grows else "97 cm of 100 cm"}", but is {value!r}.')
    return part


def _part(value: object, unit: str, place: str, grows: bool) -> float | None:
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return value / 100.0
    if not isinstance(value, str):
        return None
    if found := _PART.fullmatch(value):
        return float(found[1].replace(",", ".")) / 100.0
    if not (found := _OF.fullmatch(value)):
        return None
    try:
        after, before = parse_length(found[1], unit), parse_length(found[2], unit)
    except InputError as problem:
        raise type(problem)(f"{place}: {problem}") from None
    if before <= 0.0:
        return None
    return round(after / before - 1.0 if grows else 1.0 - after / before, 6)


def number_of(value: object, place: str, least: float, most: float, such: str) -> float:
    """A plain number, with point or comma, within bounds."""
    number = _plain(value, _NUMBER)
    if number is None or not least <= number <= most:
        raise InputError(f"{place} should be a number from {least:g} to {most:g}, such as {such}, but is {value!r}.")
    return number


def weight_of(value: object, place: str) -> float:
    """Grams per square metre, from "120", "120 g/m2" or "4 oz/yd2"."""
    number = _plain(value, _WEIGHT)
    if number is not None and isinstance(value, str) and "oz" in value.lower():
        number *= OUNCE_PER_SQUARE_YARD
    if number is None or not 5.0 <= number <= 3000.0:
        raise InputError(f"{place} should be what one square metre weighs, from 5 to 3000 grams, such as 120, or "
                         f'"4 oz/yd2", but is {value!r}.')
    return number


def turn_of(value: object, place: str, most: float) -> float:
    """An angle in degrees, from nought to `most`."""
    number = _plain(value, _TURN)
    if number is None or number > most:
        raise InputError(f'{place} should be an angle from 0 to {most:g} degrees, such as "1 deg", but is {value!r}.')
    return number


def _plain(value: object, pattern: re.Pattern[str]) -> float | None:
    if isinstance(value, str):
        found = pattern.fullmatch(value.lower())
        return float(found[1].replace(",", ".")) if found else None
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not isfinite(value) or value < 0:
        return None
    return float(value)


def flag_of(table: Mapping[str, Any], key: str, place: str, default: bool, meaning: str) -> bool:
    """True or false; InputError with what it would mean otherwise."""
    value = table.get(key, default)
    if not isinstance(value, bool):
        raise InputError(f'"{key}" of {place} should be true ({meaning}) or false, but is {value!r}.')
    return value


def words_of(table: Mapping[str, Any], key: str, place: str, such: str) -> tuple[str, ...]:
    """A list of names; one alone needs no brackets."""
    value = table.get(key, [])
    if isinstance(value, str):
        value = [value]
    if not isinstance(value, list) or not all(isinstance(word, str) and word.strip() for word in value):
        raise InputError(f'"{key}" of {place} should be a list of names, such as {such}, but is {value!r}.')
    return tuple(dict.fromkeys(" ".join(word.split()) for word in value))


def outline_of(value: object, unit: str, place: str) -> tuple[Point, ...]:
    """An outline of [x, y] pairs, or a rectangle [x, y, width, height]; counter-clockwise (mm).

    Raises:
        InputError: it is neither, has no area, or crosses itself.
    """
    if isinstance(value, list) and len(value) == 4 and not any(isinstance(v, list) for v in value):
        x, y, wide, high = (_coordinate(v, unit, place) for v in value)
        if wide <= 0.0 or high <= 0.0:
            raise InputError(f"{place} has no area; write x, y, width and height, such as "
                             '["30 cm", "40 cm", "4 cm", "4 cm"].')
        return (complex(x, y), complex(x + wide, y), complex(x + wide, y + high), complex(x, y + high))
    if not isinstance(value, list) or len(value) < 3 or not all(isinstance(v, list) and len(v) == 2 for v in value):
        raise InputError(f'{place} should be x, y, width and height, such as ["30 cm", "40 cm", "4 cm", "4 cm"], or '
                         f'three corners or more, such as [["0", "0"], ["80 cm", "0"], ["60 cm", "90 cm"]].')
    if len(value) > 500:
        raise InputError(f"{place} has {len(value)} corners; 500 are enough for any piece of cloth.")
    points = [complex(*(_coordinate(v, unit, place) for v in pair)) for pair in value]
    return ring_of(points, place)


def ring_of(points: list[Point], place: str) -> tuple[Point, ...]:
    """A simple polygon of these corners, counter-clockwise, each of them once.

    Raises:
        InputError: it has no area, or crosses itself.
    """
    corners = [p for i, p in enumerate(points) if p != points[i - 1]] if len(points) > 1 else points
    area = sum(cross(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)) / 2.0
    if len(corners) < 3 or crosses_itself(corners):
        raise InputError(f"{place} crosses itself or doubles back; write its corners in the order in which you meet "
                         "them going round.")
    if abs(area) < 1.0:
        raise InputError(f"{place} has no area; write its corners in the order in which you meet them going round.")
    return tuple(corners if area > 0 else corners[::-1])


def crosses_itself(corners: list[Point]) -> bool:
    """Do two sides of the polygon meet anywhere but in a shared corner?

    >>> crosses_itself([0j, 10 + 0j, 10 + 10j, 10j]), crosses_itself([0j, 10 + 10j, 10 + 0j, 10j])
    (False, True)
    """
    sides = list(zip(corners, corners[1:] + corners[:1], strict=True))
    for i, (a, b) in enumerate(sides):
        for j in range(i + 1, len(sides)):
            c, d = sides[j]
            if j == i + 1 or (i == 0 and j == len(sides) - 1):
                tip, before, after = (b, a, d) if j == i + 1 else (a, b, c)
                if cross(before - tip, after - tip) == 0.0 and ((before - tip) * (after - tip).conjugate()).real > 0:
                    return True
            elif _meet(a, b, c, d):
                return True
    return False


def _meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Do the closed segments ab and cd share a point?"""
    if max(a.real, b.real) < min(c.real, d.real) or max(c.real, d.real) < min(a.real, b.real):
        return False
    if max(a.imag, b.imag) < min(c.imag, d.imag) or max(c.imag, d.imag) < min(a.imag, b.imag):
        return False
    return (cross(b - a, c - a) * cross(b - a, d - a) <= 0.0) and (cross(d - c, a - c) * cross(d - c, b - c) <= 0.0)


def _coordinate(value: object, unit: str, place: str) -> float:
    return length_of(value, unit, f"A length in {place}", 0.0, 200_000.0, '"30 cm"')
