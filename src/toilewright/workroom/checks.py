"""Documents to JSON and back, every value checked before it is kept."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

import msgspec

from toilewright.body.sheet import check_signs
from toilewright.errors import InputError
from toilewright.workroom.documents import DOCUMENTS, Document, FileRef, Kind

LONGEST_TEXT = 20_000
"""characters of one text; some ten pages."""

LONGEST_KEY = 200
MOST_ROWS = 5_000
LARGEST_NUMBER = 1e9
"""either way; no length, amount or count comes near it."""


def encoded(document: Document) -> str:
    """The JSON of a document."""
    return msgspec.json.encode(document).decode()


def decoded(kind: Kind, text: str) -> Document:
    """The document of JSON that is kept here."""
    return msgspec.json.decode(text, type=DOCUMENTS[kind])


def plain(text: str) -> Any:
    """The JSON of a document as plain values."""
    return msgspec.json.decode(text)


def checked(kind: Kind, values: Any) -> Document:
    """The document of plain values.

    Raises:
        InputError: a value of the wrong kind, or one too large to keep, said with its place.
    """
    check_values(values, kind)
    try:
        document = msgspec.convert(values, DOCUMENTS[kind])
        kept = plain(encoded(document))
    except (msgspec.ValidationError, UnicodeEncodeError) as problem:
        raise InputError(f"This {kind} cannot be saved like that: {_in_words(str(problem))}.") from None
    if lost := _lost(values, kept, ()):
        raise InputError(f'This {kind} cannot be saved like that: there is no entry "{", ".join(lost)}" in it.')
    return document


def check_values(values: Any, kind: Kind) -> None:
    """Raise InputError for a text, number or list that is too large, signs that no page shows, or rows of one id."""
    where = f"This {kind} cannot be saved like that: it"
    for path, value in _walk(values, ()):
        place = ", ".join(path)
        if isinstance(value, str):
            if len(value) > LONGEST_TEXT:
                raise InputError(f'{where} has a text of {len(value)} letters at "{place}", and {LONGEST_TEXT} are the '
                                 "most; shorten it.")
            check_signs(value, where)
        elif isinstance(value, (int, float)) and not -LARGEST_NUMBER <= value <= LARGEST_NUMBER:
            raise InputError(f'{where} has a number at "{place}" that is no length of anything; correct it.')
        elif isinstance(value, (list, tuple, dict)):
            _check_rows(value, place, where)


def files_of(part: object) -> Iterator[FileRef]:
    """Every file that a document names."""
    if isinstance(part, FileRef):
        yield part
    elif isinstance(part, tuple):
        for row in part:
            yield from files_of(row)
    elif is_dataclass(part):
        for one in fields(part):
            yield from files_of(getattr(part, one.name))


def _check_rows(rows: Any, place: str, where: str) -> None:
    if len(rows) > MOST_ROWS:
        raise InputError(f'{where} has {len(rows)} rows at "{place}", and {MOST_ROWS} are the most; take some out.')
    if isinstance(rows, dict):
        if any(not isinstance(key, str) or len(key) > LONGEST_KEY for key in rows):
            raise InputError(f'{where} has a name at "{place}" that is too long; shorten it.')
        check_signs(list(rows), where)
        return
    ids = [row["id"] for row in rows if isinstance(row, dict) and isinstance(row.get("id"), str)]
    if len(set(ids)) < len(ids):
        raise InputError(f'{where} has two rows of the same id at "{place}"; give each its own.')


def _walk(value: Any, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Any]]:
    if len(path) > 20:
        raise InputError("This cannot be saved: it is nested too deeply to be a document of a sewing room.")
    yield path, value
    if isinstance(value, dict):
        for key, one in value.items():
            yield from _walk(one, (*path, str(key)))
    elif isinstance(value, (list, tuple)):
        for number, one in enumerate(value, 1):
            yield from _walk(one, (*path, str(number)))


def _lost(given: Any, kept: Any, path: tuple[str, ...]) -> tuple[str, ...] | None:
    """The first entry that was given and not kept, because there is no such field."""
    if isinstance(given, dict) and isinstance(kept, dict):
        for key, value in given.items():
            if key not in kept:
                return (*path, key)
            if lost := _lost(value, kept[key], (*path, key)):
                return lost
    elif isinstance(given, (list, tuple)) and isinstance(kept, list):
        for number, (one, other) in enumerate(zip(given, kept, strict=False), 1):
            if lost := _lost(one, other, (*path, str(number))):
                return lost
    return None


_PLACE = re.compile(r" - at `(?:key in )?\$\.?(.*)`$")


def _in_words(problem: str) -> str:
    """A message of the decoder, its place in words."""
    found = _PLACE.search(problem)
    said = _PLACE.sub("", problem).replace("`", '"')
    said = (said[0].lower() + said[1:]).replace("object missing required field", "this is missing:")
    if not found or not found[1]:
        return said
    place = re.sub(r"\[(\d+)\]", lambda m: f", {int(m[1]) + 1}", found[1]).replace("[...]", "").replace(".", ", ")
    return f'"{place}": {said}'
