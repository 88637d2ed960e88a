"""The flat sheet: what a tape says of tissue laid flat, for a pattern of which there is no file.

::

    name       = "Concert dress, out of its envelope"
    garment    = "dress"          # or bodice, skirt, wrap skirt, trousers
    size       = "5"              # printed on the tissue, along whose lines the tape lay
    allowances = "15 mm"          # what the tissue has beyond the seam line; "none" where it ends there
    unit       = "cm"

    [lengths]                     # which, in which order, and where each runs: toilewright tissue dress --out tissue
    "bust front" = 27.1
    "bust back"  = 28.1
    "neck point to dart point" = 27.7

    [chart]                       # the body chart of the envelope, when it has one
    sizes = ["3", "4", "5"]
    bust  = [86, 90, 94.5]
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from pathlib import Path
from typing import Any

from toilewright.body.measures import find_measure
from toilewright.body.sheet import check_keys, read_sheet, table_of, text_of, unit_of
from toilewright.errors import InputError, NameUnknown
from toilewright.fit.flat import flat_of
from toilewright.known import Known, Origin
from toilewright.make.takings import Taking, takings_on
from toilewright.make.tissue_kinds import Kind, find_kind
from toilewright.pattern.garment import Garment
from toilewright.pattern.nest import BodyChart
from toilewright.units import parse_length, show_length

STRAIGHT_ERROR, CURVED_ERROR = 2.0, 3.0
"""mm; how far a tape on flat tissue may be off, along a straight line and along a curve (common practice, no published
source: a third of what two careful measurings of a body may differ)."""

LARGEST_ALLOWANCE = 60.0
"""mm; wider, it is a slip of the pen."""

_KEYS = ("name", "garment", "size", "allowances", "unit", "cloth", "lengths", "chart")
_RANGE = {"bust": (500.0, 2500.0), "waist": (350.0, 2500.0), "hip": (500.0, 3000.0), "upper arm": (150.0, 900.0)}
"""mm; what a garment can have there; beyond it, it is a slip of the pen."""

_ANY = (5.0, 3000.0)


@dataclass(frozen=True)
class Taken:
    """What stands on a flat sheet, as it was read off the tape.

    Attributes:
        allowance: of the tissue beyond the seam line (mm).
        lengths: by the name of the taking, or of the flat length itself (mm; slopes in degrees).
        chart: the envelope's body chart, or None.
    """

    name: str
    kind: Kind
    size: str
    allowance: float
    unit: str
    lengths: Mapping[str, float]
    chart: BodyChart | None = None
    cloth: str = ""


@dataclass(frozen=True)
class FlatSheet:
    """A pattern known by its flat lengths.

    Attributes:
        allowance: of the tissue beyond the seam line (mm).
        lengths: flat lengths at the seam line by name, with the tape's spread (mm; slopes in degrees).
        chart: the envelope's body chart, or None.
    """

    name: str
    kind: Kind
    size: str
    allowance: float
    unit: str
    cloth: str
    lengths: Mapping[str, Known]
    chart: BodyChart | None


def read_flat_sheet(path: Path | str) -> FlatSheet:
    """The flat sheet of a file (TOML).

    Raises:
        FileError: it cannot be read, or breaks the rules of TOML.
        InputError: an entry that cannot be used, said with its name.
    """
    return added_up(read_taken(path), _where(path))


def read_taken(path: Path | str) -> Taken:
    """What stands on the flat sheet of a file (TOML); as :func:`read_flat_sheet`."""
    path, where = Path(path), _where(path)
    sheet = read_sheet(path, "flat sheet")
    check_keys(sheet, _KEYS, where)
    unit = unit_of(text_of(sheet, "unit", where, "cm"), where)
    said = text_of(sheet, "garment", where)
    if not said:
        raise InputError(f'The {where} does not say what it is of; write a line such as  garment = "dress".')
    kind = find_kind(said, where)
    allowance = _allowance(sheet.get("allowances", "none"), unit, where)
    size = _size(sheet, where)
    lengths = {_plain(k): _length(k, v, unit, where) for k, v in table_of(sheet, "lengths", where).items()}
    return Taken(text_of(sheet, "name", where, path.stem), kind, size, allowance, unit, lengths,
                 _chart(sheet, size, unit, where), text_of(sheet, "cloth", where))


def added_up(taken: Taken, where: str) -> FlatSheet:
    """The flat lengths that the takings make.

    Args:
        where: what the sheet is called, for sentences.

    Raises:
        InputError: an entry that cannot be used, or one that is lacking, said with its name.
    """
    lengths = flat_lengths(taken, where)
    kind = taken.kind
    if missing := [t.name for t in takings_on(kind.block()) if t.must and t.makes not in lengths]:
        raise InputError(f'The {where} lacks "{missing[0]}", without which nothing can be said of a {kind.name}; '
                         f'`toilewright tissue "{kind.name}" --out FOLDER` draws where the tape runs.')
    return FlatSheet(taken.name, kind, taken.size, taken.allowance, taken.unit, taken.cloth, lengths, taken.chart)


def _where(path: Path | str) -> str:
    return f'flat sheet "{Path(path).name}"'


def _allowance(value: Any, unit: str, where: str) -> float:
    if isinstance(value, str) and value.strip().lower() in ("none", "no", "not included"):
        return 0.0
    try:
        mm = parse_length(value, unit)
    except InputError as problem:
        raise type(problem)(f'"allowances" of {where}: {str(problem).rstrip(".")}, or "none".') from None
    if not 0 <= mm <= LARGEST_ALLOWANCE:
        raise InputError(f'"allowances" of {where} is {show_length(mm, unit)}; tissue has 0 to '
                         f'{show_length(LARGEST_ALLOWANCE, unit)} beyond its seam lines, so write such as  '
                         'allowances = "15 mm".')
    return mm


def _size(sheet: Mapping[str, Any], where: str) -> str:
    value = sheet.get("size", "")
    if isinstance(value, bool) or not isinstance(value, (str, int, float)) or str(value).strip() in ("", "?"):
        raise InputError(f'The {where} does not say along the lines of which size the tape lay; write a line such as  '
                         'size = "14".')
    return str(value).strip()


# -- the lengths -------------------------------------------------------------------------------------


def flat_lengths(sheet: Taken, where: str) -> dict[str, Known]:
    """The flat lengths that can be told, whether all that is needed is there or not; as :func:`added_up`."""
    kind, taken = sheet.kind, sheet.lengths
    block = kind.block()
    takings = takings_on(block)
    known = {t.name: t for t in takings}
    drawn = tuple(flat_of(block).lengths)
    for name in taken:
        if name not in known and name not in drawn:
            raise NameUnknown.among("length", name, dict.fromkeys((*known, *drawn)), f"{where} of a {kind.name}",
                                    list(known))
    lengths = {n: Known(mm, Origin.READ, CURVED_ERROR, f"{n} of the tissue, by tape") for n, mm in taken.items()
               if n not in known}
    for makes in dict.fromkeys(t.makes for t in takings):
        parts = [t for t in takings if t.makes == makes]
        if any(t.name in taken for t in parts):
            if makes in lengths:
                raise InputError(f'The {where} gives "{makes}" and also "{parts[0].name}"; keep one of them.')
            lengths[makes] = _added(parts, taken, block, sheet.allowance, where)
    for name, found in lengths.items():
        _believed(name, found.value, sheet.unit, where)
    return lengths


def _added(parts: list[Taking], taken: Mapping[str, float], block: Garment, allowance: float, where: str) -> Known:
    """What several takings make together, allowances taken off."""
    for part in parts:
        if part.name not in taken:
            other = next(p.name for p in parts if p.name in taken)
            raise InputError(f'The {where} has "{other}" but not "{part.name}"; "{part.makes}" needs both.')
    total = sum(t.times * (taken[t.name] - t.cut_edges(block) * allowance) for t in parts)
    error = hypot(*(t.times * _error(t) * len(t.on(block)) ** 0.5 for t in parts))
    less = ", allowances taken off" if allowance and any(t.crosses for t in parts) else ""
    return Known(total, Origin.READ, error, f"{parts[0].makes} of the tissue, by tape{less}")


def _error(taking: Taking) -> float:
    return CURVED_ERROR if taking.run.split()[0] in ("sewn", "edge", "inside") else STRAIGHT_ERROR


def _length(name: str, value: Any, unit: str, where: str) -> float:
    if _plain(name).startswith("shoulder slope"):
        return _degrees(name, value, where)
    try:
        return parse_length(value, unit)
    except InputError as problem:
        raise type(problem)(f'"{name}" of {where}: {problem}') from None


def _degrees(name: str, value: object, where: str) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0 <= value <= 45:
        raise InputError(f'"{name}" of {where} should be degrees, 0 to 45, but is {value!r}; in doubt leave it '
                         "out.")
    return float(value)


def _believed(name: str, mm: float, unit: str, where: str) -> None:
    low, high = (0.0, 45.0) if name.startswith("shoulder slope") else _RANGE.get(name.split(",")[0], _ANY)
    if not low <= mm <= high:
        raise InputError(f'"{name}" of {where} comes to {show_length(mm, unit)}, but a garment has '
                         f"{show_length(low, unit)} to {show_length(high, unit)} there; lay the tape again, and write "
                         "the unit beside the number.")


def _plain(name: str) -> str:
    return " ".join(name.lower().replace("_", " ").split())


# -- the chart ---------------------------------------------------------------------------------------


def _chart(sheet: Mapping[str, Any], size: str, unit: str, where: str) -> BodyChart | None:
    table = table_of(sheet, "chart", where)
    if not table:
        return None
    place = f'"chart" of {where}'
    sizes = table.get("sizes")
    if not isinstance(sizes, list) or not sizes or not all(isinstance(s, (str, int)) for s in sizes):
        raise InputError(f'{place} should begin with its sizes, smallest first, such as  sizes = ["12", "14", "16"].')
    names = tuple(str(s).strip() for s in sizes)
    if size not in names:
        raise InputError(f'{place} has the sizes {", ".join(names)}, but the tape lay on size {size}; add that size, '
                         "or leave the chart out.")
    if len(set(names)) < len(names):
        raise InputError(f"{place} names a size twice; write each once.")
    return BodyChart(names, tuple(_row(k, v, len(names), unit, place) for k, v in table.items() if k != "sizes"))


def _row(key: str, values: object, count: int, unit: str, place: str) -> tuple[str, tuple[float, ...]]:
    measure = find_measure(key, place)
    if not isinstance(values, list) or len(values) != count:
        raise InputError(f'"{key}" in {place} should be a list with one value for each of the {count} sizes.')
    try:
        row = tuple(float(v) if measure.is_angle else parse_length(v, unit) for v in values)
    except (InputError, TypeError, ValueError) as problem:
        raise InputError(f'"{key}" in {place}: {str(problem).rstrip(".")}.') from None
    for mm in row:
        if not measure.low <= mm <= measure.high:
            raise InputError(f'"{key}" in {place} has {show_length(mm, unit)}, which no body has; write the unit '
                             "beside each number, or check the line.")
    if any(b < a for a, b in pairwise(row)):
        raise InputError(f'"{key}" in {place} falls from one size to the next; write the smallest size first.')
    return measure.name, row
