"""Pattern files as they come in: kept, read beside the pages, and shown small."""

from __future__ import annotations

import mimetypes
from dataclasses import replace
from pathlib import PurePath
from typing import Any

import msgspec

from toilewright.app.long_work import Progress
from toilewright.app.reader import read_file
from toilewright.app.small_pictures import drawn_once, small_pieces
from toilewright.app.table import Table
from toilewright.app.words import say
from toilewright.errors import InputError, ToilewrightError
from toilewright.intake.label_types import Labels
from toilewright.make.keeping import labels_from, pack_reading, plain_labels, unpack_reading
from toilewright.make.reading import Reading
from toilewright.workroom.documents import Kind, PatternDoc
from toilewright.workroom.recipes import reading_key
from toilewright.workroom.store import Thing

_UNNAMED = "Pattern"
"""What the reader calls a pattern whose sheet says no name."""


def bring(table: Table, data: bytes, name: str, make_id: str = "", by: str = "") -> Thing:
    """Keep a pattern file as it came, and lay it under a make where one is given.

    The same file twice is the same pattern; its names are not lost.

    Raises:
        InputError: there is nothing in it.
    """
    name = PurePath(name.replace("\\", "/")).name or say("pattern.file")
    if not data:
        raise InputError(say("pattern.empty_file", name=name))
    kind = mimetypes.guess_type(name)[0] or "application/octet-stream"
    ref = table.room.add_file(data, name, kind)
    thing = next((t for t in table.room.things(Kind.PATTERN) if t.document.file and t.document.file.sha == ref.sha),
                 None)
    if thing is None:
        doc = PatternDoc(PurePath(name).stem, ref)
        thing = table.room.add(Kind.PATTERN, doc, say("pattern.did_bring", name=name), by=by)
    if make_id:
        lay_under(table, make_id, thing, by)
    return thing


def lay_under(table: Table, make_id: str, pattern: Thing, by: str = "") -> None:
    """Make a make from this pattern."""
    make = table.make(make_id)
    if make.document.pattern != pattern.id:
        words = say("pattern.did_choose", name=pattern.document.name)
        table.room.change(make_id, make.revision, [(("pattern",), pattern.id)], words, by=by)


def is_read(table: Table, doc: PatternDoc) -> bool:
    """Does the reading under its present names lie here? Of tissue: has the tape told enough?"""
    if doc.tissue is not None:
        return stop_of(table, doc) == ""
    return doc.file is not None and table.room.kept(reading_key(doc)) is not None


def stop_of(table: Table, doc: PatternDoc) -> str:
    """What keeps tissue from being read, in a sentence; "" where nothing does."""
    try:
        table.reading_of(doc)
    except ToilewrightError as problem:
        return str(problem)
    return ""


def start_reading(table: Table, thing: Thing, by: str = "") -> str:
    """Begin to read a pattern under its present names; the job's id, or "" where there is nothing to be done.

    Raises:
        InputError: it has no file, or too much is being done already.
    """
    doc = thing.document
    if doc.tissue is not None:
        table.reading_of(doc)
    key = reading_key(doc)
    if is_read(table, doc) or _read_as_guessed(table, doc):
        return ""

    def work(progress: Progress) -> dict[str, str]:
        data = read_file(table.room.file(doc.file.sha), doc.file.name, doc.labels, progress)
        table.room.keep(key, data)
        reading = unpack_reading(data)
        _take_name(table, thing.id, reading, by)
        if reading.by_tape:
            _take_tissue(table, thing.id, by)
        return {"pattern": thing.id}

    return table.work.start(say("pattern.reading", name=doc.name), work)


def labels_of(table: Table, doc: PatternDoc) -> Labels:
    """The names of a pattern as they are now: hers, or the guesses.

    Raises:
        NotReadYet: nothing has been guessed yet.
    """
    return table.reading_of(doc).labels if doc.labels is None else labels_from(doc.labels)


def start_taking(table: Table, thing: Thing, labels: dict[str, Any], name: str, by: str = "") -> str:
    """Begin to read a pattern under the names of a labels file, which are kept only when they fit; the job's id.

    Raises:
        InputError: the pattern has no file, or too much is being done already.
    """
    doc = replace(thing.document, labels=labels)
    key = reading_key(doc)

    def work(progress: Progress) -> dict[str, str]:
        table.room.keep(key, read_file(table.room.file(doc.file.sha), doc.file.name, labels, progress))
        table.room.change(thing.id, thing.revision, [(("labels",), labels)], say("pattern.did_labels", name=name),
                          by=by)
        return {}

    return table.work.start(say("pattern.reading", name=doc.name), work)


def _read_as_guessed(table: Table, doc: PatternDoc) -> bool:
    """Are its names the guesses, now settled? Then the reading stands as it is."""
    guessed = replace(doc, labels=None)
    if doc.labels is None or not is_read(table, guessed):
        return False
    reading = table.reading_of(guessed)
    if plain_labels(reading.labels) != doc.labels:
        return False
    table.room.keep(reading_key(doc), pack_reading(replace(reading, confirmed=True)))
    return True


def _take_name(table: Table, pattern_id: str, reading: Reading, by: str) -> None:
    """The name on the sheet, where she has given none herself yet."""
    now = table.room.get(pattern_id, kind=Kind.PATTERN)
    said = reading.labels.name.strip()
    unnamed = now.document.name == PurePath(now.document.file.name).stem
    if unnamed and said and said not in (_UNNAMED, now.document.name):
        table.room.change(pattern_id, now.revision, [(("name",), said)], say("pattern.did_name", name=said), by=by)


def _take_tissue(table: Table, pattern_id: str, by: str) -> None:
    """The lengths of a flat sheet, to be gone on with on the page."""
    from toilewright.workroom.tissue import tissue_in

    now = table.room.get(pattern_id, kind=Kind.PATTERN)
    file = now.document.file
    if now.document.tissue is None and file:
        tissue = msgspec.to_builtins(tissue_in(table.room.file(file.sha), file.name))
        table.room.change(pattern_id, now.revision, [(("tissue",), tissue)], say("tissue.did_sheet", name=file.name),
                          by=by)


def small_picture(table: Table, thing: Thing) -> str:
    """The pieces in the middle size; nothing where the pattern is not read yet."""
    doc = thing.document
    if not is_read(table, doc):
        return ""
    return drawn_once(table.room, reading_key(doc), lambda: _drawn(table.reading_of(doc)))


def _drawn(reading: Reading) -> str:
    pieces = reading.pattern.garments[len(reading.pattern.sizes) // 2].pieces
    return small_pieces(pieces, say("pattern.picture", n=len(pieces)))
