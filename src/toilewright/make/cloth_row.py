"""One row ``[[cloth]]`` of a make file, entry by entry; what they mean stands in :mod:`.recipe_cloth`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import inf
from typing import Any

from toilewright.body.sheet import check_keys
from toilewright.cutting.cloth import Cloth, Fold, Repeat
from toilewright.cutting.requirement import (
    LEAST_SHRINKAGE,
    MOST_SHRINKAGE,
    SELVEDGE,
    SQUARING,
    SoldBy,
    usable_width,
)
from toilewright.errors import InputError, NameUnknown
from toilewright.geometry.point import Point
from toilewright.make.cloth_entries import (
    flag_of,
    length_of,
    number_of,
    outline_of,
    part_of,
    turn_of,
    weight_of,
    width_of,
    words_of,
)
from toilewright.make.cloth_wish import USUAL_WIDTH, ClothWish, price_at
from toilewright.units import show_both

KEYS = ("use", "width", "selvedge", "length", "washed", "shrinkage", "stretch", "weight", "one_way", "sided", "repeat",
        "match", "border", "flaws", "outline", "price", "prices", "sold_by", "envelope", "fold", "grain_tolerance",
        "squaring", "margin", "pieces", "overhang")

MOST_STRETCH = 3.0
"""Part of its length; the most elastic cloth gives about twice its length (our own bound)."""

MOST_TURN = 5.0
"""degrees that the grain may be turned to save cloth; beyond a few a piece hangs askew (our own bound)."""

LEAST_REPEAT, MOST_REPEAT = 5.0, 2000.0
"""mm; what repeats more closely is a texture, and what repeats less often a panel (our own bounds)."""

_SUCH = {"prices": "12.5", "envelope": '"3.2 m"'}


def read_row(row: Mapping[str, Any], unit: str, place: str, use: str) -> ClothWish:
    """The cloth of one row.

    Args:
        place: ``cloth "lining" of make file "dress.toml"``, for messages.
        use: what it is for.

    Raises:
        InputError: an entry that cannot be used, said with its place.
    """
    check_keys(row, KEYS, place)
    return _Row(row, unit, place, use).wish()


class _Row:
    """One row being read, entry by entry."""

    def __init__(self, row: Mapping[str, Any], unit: str, place: str, use: str) -> None:
        self.row, self.unit, self.place, self.use = row, unit, place, use

    def wish(self) -> ClothWish:
        """Everything it says."""
        washed = flag_of(self.row, "washed", self.place, False, "it is washed already")
        shrinks = (0.0, 0.0) if washed else self._both_ways("shrinkage", LEAST_SHRINKAGE, MOST_SHRINKAGE, False)
        outline = self._outline()
        sold = width_of(self.row["width"], self.unit, self._of("width")) if "width" in self.row else None
        selvedge = self._length("selvedge", SELVEDGE if outline is None else 0.0, 0.0, 50.0, '"1 cm"')
        squaring = self._length("squaring", SQUARING if outline is None else 0.0, 0.0, 300.0, '"2.5 cm"')
        there = self._length("length", 0.0, 50.0, 200_000.0, '"3 m"') if "length" in self.row else None
        width = usable_width(USUAL_WIDTH if sold is None else sold, shrinks[1], selvedge)
        length = None if there is None else self._left(there, shrinks[0], squaring)
        if outline is not None:
            width, length = self._bounds(outline, None if sold is None else width, length)
        sold_by = self._sold_by()
        fold, depth = self._fold(width)
        wish = ClothWish(
            self._cloth(width, length, shrinks, outline, fold or Fold.OPEN, depth), sold, there, selvedge, squaring,
            washed, words_of(self.row, "match", self.place, '["centre front", "side seam"]'), self._prices(sold_by),
            self._envelope(), words_of(self.row, "pieces", self.place, '["sleeve frill"]'), fold,
            self._length("margin", 0.0, 0.0, 3000.0, '"20 cm"'), sold_by,
            self._length("overhang", 0.0, 5.0, 500.0, '"7 cm"') if "overhang" in self.row else None)
        price = price_at(wish, USUAL_WIDTH if sold is None else sold)
        return replace(wish, cloth=replace(wish.cloth, price=price))

    def _cloth(self, width: float, length: float | None, shrinks: tuple[float, float],
               outline: tuple[Point, ...] | None, fold: Fold, depth: float) -> Cloth:
        return Cloth(
            self.use, width, length, *shrinks, *self._both_ways("stretch", 0.0, MOST_STRETCH, True),
            weight_of(self.row["weight"], self._of("weight")) if "weight" in self.row else None,
            flag_of(self.row, "one_way", self.place, False, "nap, pile, or a print with a head and a foot"),
            flag_of(self.row, "sided", self.place, True, "its right and wrong side differ"),
            self._repeat(), self._length("border", 0.0, 0.0, width, '"20 cm"'), self._flaws(width, length), outline,
            None, fold, depth,
            turn_of(self.row["grain_tolerance"], self._of("grain_tolerance"), MOST_TURN)
            if "grain_tolerance" in self.row else 0.0)

    # -- lengths ------------------------------------------------------------------------------

    def _of(self, key: str) -> str:
        return f'"{key}" of {self.place}'

    def _length(self, key: str, default: float, least: float, most: float, such: str) -> float:
        if key not in self.row:
            return default
        return length_of(self.row[key], self.unit, self._of(key), least, most, such)

    def _left(self, there: float, shrinks: float, squaring: float) -> float:
        """What can be cut from of a length that is there."""
        left = there * (1.0 - shrinks) - 2 * squaring
        if left < 50.0:
            raise InputError(f"Of the {self.place} nothing is left after washing and squaring its ends; give the "
                             'length that is there, such as  length = "3 m".')
        return left

    def _both_ways(self, key: str, least: float, most: float, grows: bool) -> tuple[float, float]:
        value = self.row.get(key, [0, 0])
        if not isinstance(value, list) or len(value) != 2:
            raise InputError(f'{self._of(key)} should be two entries, lengthways and across, such as ["3 %", "1 %"], '
                             f"but is {value!r}.")
        along, across = (part_of(v, self.unit, self._of(key), least, most, grows) for v in value)
        return along, across

    # -- outlines -----------------------------------------------------------------------------

    def _outline(self) -> tuple[Point, ...] | None:
        if "outline" not in self.row:
            return None
        return outline_of(self.row["outline"], self.unit, self._of("outline"))

    def _bounds(self, outline: tuple[Point, ...], width: float | None, length: float | None) -> tuple[float, float]:
        """Width and length of a remnant; what was said of them must hold it."""
        high, long = max(p.imag for p in outline), max(p.real for p in outline)
        for key, said, found in (("width", width, high), ("length", length, long)):
            if said is not None and found > said + 1.0:
                raise InputError(f'The outline of the {self.place} is {show_both(found)} in {key}, but its "{key}" '
                                 f"leaves {show_both(said)} to cut from; put one of them right.")
        return (high if width is None else width), long

    def _flaws(self, width: float, length: float | None) -> tuple[tuple[Point, ...], ...]:
        value = self.row.get("flaws", [])
        if not isinstance(value, list):
            raise InputError(f'{self._of("flaws")} should be a list of places to keep clear of, such as '
                             f'[["30 cm", "40 cm", "4 cm", "4 cm"]], but is {value!r}.')
        flaws = []
        for number, one in enumerate(value, 1):
            place = f"Flaw {number} of {self.place}"
            flaw = outline_of(one, self.unit, place)
            long = inf if length is None else length
            if min(p.imag for p in flaw) >= width or min(p.real for p in flaw) >= long:
                end = "" if length is None else f" and {show_both(length)} long"
                raise InputError(f"{place} lies outside the cloth, of which {show_both(width)} in width{end} can be "
                                 "cut from; x runs along the selvedge from the cut end, y across from it.")
            flaws.append(flaw)
        return tuple(flaws)

    # -- what repeats, how it lies ------------------------------------------------------------

    def _repeat(self) -> Repeat:
        value = self.row.get("repeat", {})
        place = self._of("repeat")
        if not isinstance(value, dict):
            raise InputError(f'{place} should be a table, such as {{ along = "8 cm", across = "8 cm" }}, but is '
                             f"{value!r}.")
        check_keys(value, ("along", "across", "first_along", "first_across"), place)
        found: dict[str, float] = {}
        for way in ("along", "across"):
            first = f"first_{way}"
            pitch = length_of(value.get(way, 0), self.unit, f'"{way}" in {place}', 0.0, MOST_REPEAT, '"8 cm"')
            if 0.0 < pitch < LEAST_REPEAT:
                raise InputError(f'"{way}" in {place} is {show_both(pitch)}; a repeat as small as that need not be '
                                 "matched, leave it out.")
            if first in value and pitch == 0.0:
                raise InputError(f'"{first}" in {place} says where the first line lies, but not how far it is to the '
                                 f'next; add  {way} = "8 cm".')
            start = length_of(value.get(first, 0), self.unit, f'"{first}" in {place}', 0.0, 200_000.0, '"2 cm"')
            found[way], found[first] = pitch, start % pitch if pitch else 0.0
        return Repeat(**found)

    def _fold(self, width: float) -> tuple[Fold | None, float]:
        """How it shall lie, and how deep it is folded (mm)."""
        value = self.row.get("fold")
        if value is None:
            return None, 0.0
        if isinstance(value, str) and not any(sign.isdigit() for sign in value):
            word = value.strip().lower()
            known = [fold.value for fold in Fold if fold is not Fold.DEPTH]
            if word not in known:
                raise NameUnknown.among("way to fold", value, [*known, "30 cm"], self.place)
            return Fold(word), 0.0
        depth = length_of(value, self.unit, self._of("fold"), 50.0, 2500.0,
                          '"30 cm", or "open", "lengthwise" or "part"')
        if 2 * depth > width + 1.0:
            raise InputError(f"{self._of('fold')} is {show_both(depth)} deep, but of the cloth {show_both(width)} can "
                             'be cut from; fold it less than half of that, or write  fold = "lengthwise".')
        return (Fold.LENGTHWISE, 0.0) if 2 * depth > width - 1.0 else (Fold.DEPTH, depth)

    # -- shop and envelope --------------------------------------------------------------------

    def _sold_by(self) -> SoldBy:
        value = self.row.get("sold_by", SoldBy.YARD.value if self.unit == "in" else SoldBy.METRE.value)
        if value not in [by.value for by in SoldBy]:
            raise NameUnknown.among("way to sell cloth", str(value), [by.value for by in SoldBy], self._of("sold_by"))
        return SoldBy(value)

    def _prices(self, sold_by: SoldBy) -> tuple[tuple[float, float], ...]:
        """(width as sold, price of one metre), 0 for any width."""
        rows = []
        for width, value in ((None, self.row.get("price")), *self._by_width("prices")):
            if value is not None:
                place = self._of("price" if width is None else "prices")
                price = number_of(value, place, 0.0, 100_000.0, f"12.5, of one {sold_by.value}")
                rows.append((width or 0.0, price * 1000.0 / sold_by.whole))
        return tuple(rows)

    def _envelope(self) -> tuple[tuple[float, float], ...]:
        return tuple((width, length_of(value, self.unit, self._of("envelope"), 50.0, 100_000.0, '"3.2 m"'))
                     for width, value in self._by_width("envelope"))

    def _by_width(self, key: str) -> list[tuple[float, object]]:
        """A table by width as sold, narrowest first."""
        value = self.row.get(key, {})
        if not isinstance(value, dict):
            raise InputError(f'{self._of(key)} should be a table by width, such as {{ "140 cm" = {_SUCH[key]} }}, but '
                             f"is {value!r}.")
        rows = [(width_of(width, self.unit, f"A width in {self._of(key)}"), entry) for width, entry in value.items()]
        if len({width for width, _ in rows}) < len(rows):
            raise InputError(f"{self._of(key)} names one width twice; take one of them out.")
        return sorted(rows, key=lambda row: row[0])
