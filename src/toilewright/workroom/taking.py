"""Written sheets and pattern files taken into the workroom: tape sheets, patterns with their names, make files.

What is there already is not taken twice: the same sheet of the same person, the same file with the same names.
"""

from __future__ import annotations

import mimetypes
import os
import tempfile
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from toilewright.body.tape import Body, Wish, read_tape
from toilewright.make.flat_sheet import read_taken
from toilewright.make.keeping import labels_from, pack_reading, plain_labels, unpack_reading
from toilewright.make.outcome import NAMES
from toilewright.make.reading import Reading, read_pattern
from toilewright.make.recipe import Make, Toile, named, read_make, toile_name
from toilewright.workroom.documents import (
    BodyDoc,
    Kind,
    MakeDoc,
    PatternDoc,
    SeenRow,
    TapeSheet,
    ToileRow,
    WishRow,
    new_id,
)
from toilewright.workroom.recipes import reading_key
from toilewright.workroom.store import Thing, Workroom
from toilewright.workroom.taking_cut import cloth_rows, cutting_rows
from toilewright.workroom.tissue import read_tissue, tissue_of


def take_tape(room: Workroom, path: str | os.PathLike[str]) -> Thing:
    """Take in a tape sheet (TOML): a new person, or a further sheet of somebody of that name.

    Raises:
        InputError: the sheet cannot be used, said with its place.
    """
    body = read_tape(Path(path))
    sheet = _sheet(body, room.today())
    same = next((t for t in room.things(Kind.BODY) if t.document.name == body.name), None)
    if same is None:
        alterations = tuple(_rows(body.alterations, f'tape sheet "{Path(path).name}"'))
        return room.add(Kind.BODY, BodyDoc(body.name, body.unit, body.posture, (sheet,), alterations),
                        f"taken from {Path(path).name}")
    if any(_is_same(sheet, s, dated=bool(body.date)) for s in same.document.sheets):
        return same
    return room.change(same.id, same.revision, [(("sheets", "+"), _plain_sheet(sheet))],
                       f"tape sheet taken from {Path(path).name}")


def take_pattern(room: Workroom, path: str | os.PathLike[str], labels: str | os.PathLike[str] | None = None) -> Thing:
    """Take in a pattern file, with its confirmed names where there are any, and read it.

    Raises:
        InputError: the file or its labels cannot be used.
    """
    path = Path(path)
    reading = read_pattern(path, labels)
    kind = mimetypes.guess_type(path.name)[0] or "application/octet-stream"
    file = room.add_file(path.read_bytes(), path.name, kind)
    if reading.by_tape:
        doc = PatternDoc(reading.labels.name, file, tissue=tissue_of(read_taken(path)))
    else:
        doc = PatternDoc(reading.labels.name, file, plain_labels(reading.labels) if labels else None,
                         labels is not None)
        room.keep(reading_key(doc), pack_reading(reading))
    same = next((t for t in room.things(Kind.PATTERN) if (t.document.file, t.document.labels, t.document.tissue)
                 == (doc.file, doc.labels, doc.tissue)), None)
    return same or room.add(Kind.PATTERN, doc, f"taken from {path.name}")


def take_make(room: Workroom, path: str | os.PathLike[str]) -> Thing:
    """Take in a make file, with the tape sheet, the pattern and the cloths that it names, and the makes that are cut in
    the same lay.

    Raises:
        InputError: one of them cannot be used, said with its place.
    """
    path = Path(path)
    make = read_make(path, NAMES)
    along = tuple(_take(room, other, read_make(other, NAMES)).id for other in make.lay.others)
    return _take(room, path, make, along)


def _take(room: Workroom, path: Path, make: Make, along: tuple[str, ...] = ()) -> Thing:
    body, pattern = take_tape(room, make.tape), take_pattern(room, make.pattern, make.labels)
    toiles = tuple(_toile(toile, room.today()) for toile in make.toiles)
    rows = tuple(_rows(make.alterations, f'make file "{path.name}"', toiles))
    doc = MakeDoc(make.title, body.id, pattern=pattern.id, size=make.size, sizes=dict(make.sizes), ease=dict(make.ease),
                  standing=make.standing, alterations=rows, papers=make.papers, toiles=toiles,
                  print_toile=make.print_toile, lay_with=along, **cutting_rows(make), **cloth_rows(room, make))
    return room.add(Kind.MAKE, doc, f"taken from {path.name}")


def reading_of(room: Workroom, doc: PatternDoc) -> Reading:
    """The reading of a pattern that is kept, made now if that was not done yet.

    Raises:
        InputError: the file or its names cannot be used.
    """
    if doc.tissue is not None:
        return read_tissue(doc)
    key = reading_key(doc)
    kept = room.kept(key)
    if kept is not None:
        return unpack_reading(kept)
    labels = None if doc.labels is None else labels_from(doc.labels)
    with tempfile.TemporaryDirectory(prefix="toilewright-") as folder:
        path = Path(folder) / Path(doc.file.name).name
        path.write_bytes(room.file(doc.file.sha))
        reading = read_pattern(path, labels)
    room.keep(key, pack_reading(reading))
    return reading


def _sheet(body: Body, today: str) -> TapeSheet:
    return TapeSheet(new_id(), body.date or today, dict(body.measures), dict(body.left), dict(body.right),
                     body.waist_place)


def _is_same(sheet: TapeSheet, kept: TapeSheet, dated: bool) -> bool:
    """Is it the sheet that is kept, whatever she wrote and answered on it since?

    Args:
        dated: does the written sheet say its day?
    """
    return replace(sheet, id=kept.id, note=kept.note, sure=kept.sure, date=sheet.date if dated else kept.date) == kept


def _plain_sheet(sheet: TapeSheet) -> dict[str, object]:
    return {name: getattr(sheet, name) for name in TapeSheet.__slots__}


def _rows(wishes: Iterable[Wish], where: str, toiles: Sequence[ToileRow] = ()) -> Iterable[WishRow]:
    ids = {toile_name(number): toile.id for number, toile in enumerate(toiles, 1)}
    for wish in wishes:
        one = named(wish, NAMES, where)
        yield WishRow(new_id(), one.name, one.amount, dict(one.options),
                      came_from=ids.get(one.came_from, one.came_from), spread=one.spread, makes=one.makes)


def _toile(toile: Toile, today: str) -> ToileRow:
    return ToileRow(new_id(), toile.date or today,
                    tuple(SeenRow(new_id(), seen.sign, seen.amount, seen.side) for seen in toile.saw))
