"""The make file: a recipe in a dressmaker's words, from which every result is computed again.

::

    title   = "Concert dress, alto"
    pattern = "concert-dress.pdf"          # PDF, SVG or DXF; all files are looked for beside the make file
    labels  = "concert-dress-labels.toml"  # the confirmed names of its edges, when there are any
    tape    = "alto.toml"
    size    = "auto"                       # or one size, or a table [size] with bust, waist and hip
    unit    = "cm"                         # for lengths without a unit, and for reading; else the tape sheet's

    [ease]                                 # only where she wants another ease than the pattern's
    bust = "8 cm"

    [[alteration]]
    name   = "high round back"
    amount = "auto"                        # or a length, with a sign

    [[toile]]                              # what was seen on the first toile; a second one follows in the same way
    date = "2026-11-25"
    saw  = ["dart ends 2 cm below the bust point"]

    [[alteration]]                         # a reading of it that was accepted; made beside all others
    name   = "bust dart height"
    amount = "-2 cm"
    from   = "toile 1"
    plus_minus = "0.4 cm"

    [print]
    papers = ["a4", "letter", "sheet", "projector"]
    toile  = true                          # the toile's pieces too, with wide allowances and balance lines

Cloth and lay, allowances and corners, and extra pieces have tables of their own (:mod:`.recipe_cloth`,
:mod:`.recipe_allowances`, :mod:`.recipe_extra`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from toilewright.body.sheet import check_keys, read_sheet, rows_of, table_of, text_of, unit_of
from toilewright.body.tape import Body, Wish, day_of, read_wish
from toilewright.errors import FileError, InputError, NameUnknown
from toilewright.fit.toile.observations import Observation
from toilewright.fit.toile.sayings import read_saying
from toilewright.make.cloth_wish import ClothWish, LayWish
from toilewright.make.recipe_allowances import (
    AllowanceWish,
    CornerWish,
    read_allowances,
    read_corners,
    read_notches,
)
from toilewright.make.recipe_cloth import read_cloths, read_lay
from toilewright.make.recipe_extra import ExtraWish, read_extras
from toilewright.pattern.parts import NotchCut
from toilewright.units import parse_length, show_length

Names = Mapping[str, tuple[str, float]]

AUTO = "auto"
PAPERS = ("a4", "letter", "sheet", "projector")
SIZE_PLACES = ("bust", "waist", "hip")
EASE_PLACES = ("bust", "waist", "hip", "upper arm")

_KEYS = ("title", "pattern", "labels", "tape", "size", "unit", "standing", "ease", "alteration", "toile", "print",
         "cloth", "lay", "allowances", "corner", "extra")


@dataclass(frozen=True, slots=True)
class Toile:
    """One toile that was sewn and looked at.

    Attributes:
        date: ISO 8601 day, or "".
    """

    saw: tuple[Observation, ...] = ()
    date: str = ""


@dataclass(frozen=True, slots=True)
class Make:
    """One recipe.

    Attributes:
        pattern, tape: the files; empty where both are at hand already.
        labels: confirmed names of edges and seams, or None.
        size: ``auto``, or the name of one size; "" when `sizes` says it by place.
        sizes: (place, size name), for a blend.
        ease: (place, wanted ease in mm).
        alterations: this pattern's own, as written.
        standing: are the body's own alterations made first?
        papers: which of :data:`PAPERS` are printed.
        unit: in which lengths are read and shown; "" to follow the tape sheet.
        toiles: what was seen on each toile, first one first.
        print_toile: are the toile's pieces printed too?
        cloths: one for each use, the first one the cloth that shows; empty where nothing is said of it.
        lay: how it shall be laid.
        allowances, corners: how it is cut beyond the seam lines, where not as the pattern has it.
        extras: pieces that are cut beside the pattern's.
        notches: how balance marks are cut; None to leave it to the pattern.
    """

    title: str
    pattern: Path = Path()
    tape: Path = Path()
    labels: Path | None = None
    size: str = AUTO
    sizes: tuple[tuple[str, str], ...] = ()
    ease: tuple[tuple[str, float], ...] = ()
    alterations: tuple[Wish, ...] = ()
    standing: bool = True
    papers: tuple[str, ...] = PAPERS
    unit: str = ""
    toiles: tuple[Toile, ...] = ()
    print_toile: bool = False
    cloths: tuple[ClothWish, ...] = ()
    lay: LayWish = field(default_factory=LayWish)
    allowances: tuple[AllowanceWish, ...] = ()
    corners: tuple[CornerWish, ...] = ()
    extras: tuple[ExtraWish, ...] = ()
    notches: NotchCut | None = None


def read_make(path: Path | str, names: Names | None = None) -> Make:
    """The recipe of a make file (TOML).

    Args:
        names: every name and alias of an alteration, with the name it stands for and the sign that it gives to the
            amount (to raise a dart is to lower it by less than nothing); None leaves names as written.

    Raises:
        FileError: the make file, or a file that it names, is not there or cannot be read.
        InputError: an entry that cannot be used, said with its place.
    """
    path = Path(path)
    where = f'make file "{path.name}"'
    sheet = read_sheet(path, "make file")
    check_keys(sheet, _KEYS, where)
    unit = text_of(sheet, "unit", where)
    unit = unit and unit_of(unit, where)
    tape = _file(sheet, "tape", path, where)
    written = unit or _unit_of_tape(tape)
    size, sizes = _size(sheet.get("size", AUTO), where)
    wishes = tuple(read_wish(row, written, where) for row in rows_of(sheet, "alteration", where))
    printed = table_of(sheet, "print", where)
    return Make(
        text_of(sheet, "title", where, path.stem),
        _file(sheet, "pattern", path, where), tape,
        _file(sheet, "labels", path, where) if "labels" in sheet else None, size, sizes,
        _ease(table_of(sheet, "ease", where), written, where),
        tuple(named(w, names, where) for w in wishes), _standing(sheet, where),
        _papers(printed, where), unit, _toiles(rows_of(sheet, "toile", where), written, where),
        _flag(printed, "toile", f'"print" of {where}', "print the toile's pieces too"),
        read_cloths(sheet, written, where), read_lay(sheet, written, where, path.parent),
        read_allowances(sheet, written, where), read_corners(sheet, written, where),
        read_extras(sheet, written, where), read_notches(sheet, where))


def wishes(make: Make, body: Body, names: Names | None = None) -> tuple[Wish, ...]:
    """All alterations asked for: the body's standing ones first, then the pattern's own.

    One of the pattern's own replaces a standing one of the same name on the same piece; what a toile asked for comes
    on top.

    Args:
        names: as in :func:`read_make`.

    Raises:
        NameUnknown: an alteration that is not known.
    """
    if not make.standing:
        return make.alterations
    own = {made_at(w.name, w.options) for w in make.alterations if not w.came_from}
    always = tuple(named(w, names, f"tape sheet of {body.name}") for w in body.alterations)
    kept = tuple(w for w in always if made_at(w.name, w.options) not in own)
    return kept + make.alterations


def toile_name(number: int) -> str:
    """What alterations call the toile that asked for them.

    >>> toile_name(1)
    'toile 1'
    """
    return f"toile {number}"


def made_at(name: str, options: Mapping[str, str]) -> tuple[str, ...]:
    """Which alteration, on which piece, line and side: two that agree in it stand for each other."""
    return (name, *(options.get(word, "") for word in ("piece", "line", "side", "where")))


def named(wish: Wish, names: Names | None, where: str) -> Wish:
    """The wish under its alteration's own name, its amount with that name's sign; as written when `names` is None.

    Raises:
        NameUnknown: there is no such alteration.
    """
    if names is None:
        return wish
    plain = " ".join(wish.name.lower().replace("_", " ").split())
    by_key = {k.lower(): v for k, v in names.items()}
    if plain not in by_key:
        raise NameUnknown.among("alteration", wish.name, names, where, dict.fromkeys(n for n, _ in names.values()))
    name, sign = by_key[plain]
    return replace(wish, name=name, amount=None if wish.amount is None else sign * wish.amount)


def _unit_of_tape(tape: Path) -> str:
    """The unit of the tape sheet: who measures in inches writes her amounts in inches too."""
    where = f'tape sheet "{tape.name}"'
    return unit_of(text_of(read_sheet(tape, "tape sheet"), "unit", where, "cm"), where)


def _file(sheet: Mapping[str, Any], key: str, make_path: Path, where: str) -> Path:
    name = text_of(sheet, key, where)
    if not name:
        raise InputError(f'The {where} does not say which {key} to use; add a line such as  {key} = "{_EXAMPLE[key]}".')
    path = make_path.parent / name
    if not path.is_file():
        raise FileError(f'The {where} names the {key} "{name}", but there is no such file in '
                        f'"{path.parent.resolve()}".')
    return path


_EXAMPLE = {"pattern": "concert-dress.pdf", "tape": "alto.toml", "labels": "concert-dress-labels.toml"}


def _size(value: object, where: str) -> tuple[str, tuple[tuple[str, str], ...]]:
    if isinstance(value, dict):
        check_keys(value, SIZE_PLACES, f'"size" of {where}')
        if not value:
            raise InputError(f'"size" of {where} is empty; write a size for bust, waist or hip, or  size = "auto".')
        return "", tuple((place, _size_name(value[place], where)) for place in SIZE_PLACES if place in value)
    name = _size_name(value, where)
    return (AUTO if name.lower() == AUTO else name), ()


def _size_name(value: object, where: str) -> str:
    if isinstance(value, bool) or not isinstance(value, (str, int, float)) or not str(value).strip():
        raise InputError(f'"size" of {where} should be a size of the pattern, "auto", or a table with bust, waist and '
                         f"hip, but is {value!r}.")
    return str(value).strip()


def _ease(table: Mapping[str, Any], unit: str, where: str) -> tuple[tuple[str, float], ...]:
    place = f'"ease" of {where}'
    rows = []
    table = {key.replace("_", " "): value for key, value in table.items()}
    check_keys(table, EASE_PLACES, place)
    for key, value in table.items():
        try:
            mm = parse_length(value, unit)
        except InputError as problem:
            raise type(problem)(f'"{key}" in {place}: {problem}') from None
        if not -150 <= mm <= 1500:
            raise InputError(f'"{key}" in {place} is {show_length(mm, unit)}; wanted ease is how much larger than the '
                             "body the garment should be, such as 8 cm.")
        rows.append((key, mm))
    return tuple(rows)


def _standing(sheet: Mapping[str, Any], where: str) -> bool:
    value = sheet.get("standing", True)
    if not isinstance(value, bool):
        raise InputError(f'"standing" of {where} should be true (make the alterations of the tape sheet first) or '
                         f"false, but is {value!r}.")
    return value


def _flag(table: Mapping[str, Any], key: str, where: str, meaning: str) -> bool:
    value = table.get(key, False)
    if not isinstance(value, bool):
        raise InputError(f'"{key}" of {where} should be true ({meaning}) or false, but is {value!r}.')
    return value


def _toiles(rows: list[dict[str, Any]], unit: str, where: str) -> tuple[Toile, ...]:
    """The toiles, first one first; a saying that is not understood is told with its toile."""
    toiles = []
    for number, row in enumerate(rows, 1):
        place = f"toile {number} of {where}"
        check_keys(row, ("saw", "date"), place)
        saw = row.get("saw", [])
        if isinstance(saw, str):
            saw = [saw]
        if not isinstance(saw, list) or not all(isinstance(said, str) for said in saw):
            raise InputError(f'"saw" of {place} should be a list of sayings, such as ["dart ends 2 cm below the bust '
                             f'point"], but is {saw!r}.')
        try:
            toiles.append(Toile(tuple(read_saying(said, unit) for said in saw), day_of(row.get("date", ""), place)))
        except InputError as problem:
            raise type(problem)(f"In {place}: {problem}") from None
    return tuple(toiles)


def _papers(table: Mapping[str, Any], where: str) -> tuple[str, ...]:
    place = f'"print" of {where}'
    check_keys(table, ("papers", "toile"), place)
    papers = table.get("papers", list(PAPERS))
    if isinstance(papers, str):
        papers = [papers]
    if not isinstance(papers, list) or not all(isinstance(p, str) for p in papers):
        raise InputError(f'"papers" in {place} should be a list such as ["a4", "sheet"], but is {papers!r}.')
    for paper in papers:
        if paper.lower() not in PAPERS:
            raise NameUnknown.among("paper", paper, PAPERS, place)
    return tuple(p for p in PAPERS if p in {q.lower() for q in papers})
