"""Allowances and corners of a make file: what she wants to be cut beyond the seam lines.

::

    [allowances]
    all                 = "1 cm"     # every edge that is no fold
    hem                 = "4 cm"     # a kind of edge: seams, hem, openings, raw edges
    "side seam"         = "2 cm"     # an edge by its name, or a piece
    "bodice front/neck" = "6 mm"     # one edge of one piece
    notches             = "outward"  # or clipped

    [[corner]]
    piece = "sleeve"
    at    = "hem/underarm front"
    cut   = "square"                 # mitred, folded, square
    first = "underarm front"         # which of the two is sewn or turned back first, where it is not plain
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from toilewright.body.sheet import check_keys, rows_of, table_of, text_of
from toilewright.cutting.allowing import AllowanceWish, CornerWish
from toilewright.errors import InputError, NameUnknown
from toilewright.pattern.parts import CornerCut, NotchCut
from toilewright.units import parse_length

__all__ = ["AllowanceWish", "CornerWish", "read_allowances", "read_corner", "read_corners", "read_notches"]

NOTCHES = "notches"
_CORNER_KEYS = ("piece", "at", "cut", "first")
_CUTS = {"mitred": CornerCut.MITRED, "mitered": CornerCut.MITRED, "mitre": CornerCut.MITRED,
         "folded": CornerCut.FOLDED, "folded back": CornerCut.FOLDED, "square": CornerCut.SQUARE,
         "squared": CornerCut.SQUARE, "squared off": CornerCut.SQUARE}
_NOTCH_CUTS = {"clipped": NotchCut.CLIPPED, "inward": NotchCut.CLIPPED, "outward": NotchCut.OUTWARD}


def read_allowances(sheet: Mapping[str, Any], unit: str, where: str) -> tuple[AllowanceWish, ...]:
    """The table ``[allowances]`` of a make file.

    Args:
        unit: of lengths without one.

    Raises:
        InputError: an amount that cannot be read, said with its place.
    """
    place = f'"allowances" of {where}'
    wishes = []
    for key, value in table_of(sheet, "allowances", where).items():
        if key.strip().lower() == NOTCHES:
            continue
        if isinstance(value, dict):
            raise InputError(f'"{key}" in {place} should be a length such as "1.5 cm"; put an edge of one piece into '
                             f'quotation marks, such as  "{key}/neck" = "1 cm".')
        try:
            wishes.append(AllowanceWish(key.strip(), parse_length(value, unit)))
        except InputError as problem:
            raise type(problem)(f'"{key}" in {place}: {problem}') from None
    return tuple(wishes)


def read_notches(sheet: Mapping[str, Any], where: str) -> NotchCut | None:
    """How balance marks are cut, as ``notches`` of the table ``[allowances]`` says; None when it does not.

    Raises:
        InputError: it is no word that is known.
    """
    place = f'"allowances" of {where}'
    table = table_of(sheet, "allowances", where)
    if NOTCHES not in table:
        return None
    word = text_of(table, NOTCHES, place).strip().lower()
    if word not in _NOTCH_CUTS:
        raise NameUnknown.among("way to cut notches", word, _NOTCH_CUTS, place, [c.value for c in NotchCut])
    return _NOTCH_CUTS[word]


def read_corners(sheet: Mapping[str, Any], unit: str, where: str) -> tuple[CornerWish, ...]:
    """The rows ``[[corner]]`` of a make file.

    Raises:
        InputError: an entry that is missing or cannot be used, said with its place.
    """
    return tuple(read_corner(row, f'corner {number} of {where}')
                 for number, row in enumerate(rows_of(sheet, "corner", where), 1))


def read_corner(row: Mapping[str, Any], place: str) -> CornerWish:
    """One row of them.

    Raises:
        InputError: an entry that is missing or cannot be used, said with its place.
    """
    check_keys(row, _CORNER_KEYS, place)
    piece, at = text_of(row, "piece", place).strip(), text_of(row, "at", place)
    cut = " ".join(text_of(row, "cut", place).lower().split())
    edges = tuple(word.strip() for word in at.split("/"))
    if not piece:
        raise InputError(f'{place[:1].upper()}{place[1:]} does not say on which piece it is; add a line such as  '
                         'piece = "sleeve".')
    if len(edges) != 2 or not all(edges) or edges[0] == edges[1]:
        raise InputError(f'"at" of {place} should name the two edges that meet there, such as  at = "hem/side seam", '
                         f"but is {at!r}.")
    if not cut:
        raise InputError(f"{place[:1].upper()}{place[1:]} does not say how it is cut; "
                         'add a line such as  cut = "square".')
    if cut not in _CUTS:
        raise NameUnknown.among("way to cut a corner", cut, _CUTS, place, [c.value for c in CornerCut])
    return CornerWish(piece, (edges[0], edges[1]), _CUTS[cut], text_of(row, "first", place).strip())
