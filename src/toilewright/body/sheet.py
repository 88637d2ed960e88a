"""A written sheet: a TOML file that people edit, read with one clear sentence for each slip."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from toilewright.errors import FileError, InputError, NameUnknown, UnitError
from toilewright.units import unit_name

_UNSEEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ufffe\uffff]")

LARGEST = 1_000_000
"""bytes; a sheet somebody wrote by hand is a few thousand."""


def read_sheet(path: Path | str, what: str) -> dict[str, Any]:
    """The tables of a TOML file.

    Args:
        what: what it is, for messages ("tape sheet").

    Raises:
        FileError: it is missing, not text, too large, or breaks the rules of TOML (the line is named).
    """
    path = Path(path)
    try:
        if path.exists() and not path.is_file():
            raise FileError(f'The {what} "{path}" is no file that can be read; name the sheet itself.')
        if path.stat().st_size > LARGEST:
            raise FileError(f'The {what} "{path.name}" is larger than one megabyte; a sheet written by hand is small, '
                            "so this must be another file.")
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise FileError(f'The {what} "{path.name}" is not plain text; save it as text (UTF-8).') from None
    except FileNotFoundError:
        raise FileError(f'There is no {what} "{path}"; check the name and the folder.') from None
    except OSError as problem:
        raise FileError(f'The {what} "{path}" cannot be read: {problem.strerror}.') from None
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as problem:
        raise FileError(_syntax(str(problem), text, what, path)) from None
    except ValueError:
        raise FileError(f'The {what} "{path.name}" has a number in it that is far too long.') from None
    except RecursionError:
        raise FileError(f'The {what} "{path.name}" is nested too deeply to be a sheet written by hand.') from None
    check_signs(found, f'The {what} "{path.name}"')
    return found


def check_signs(value: object, where: str) -> None:
    """Raise FileError where a text holds signs that no page can show; `where` begins the sentence."""
    if isinstance(value, dict):
        value = [*value, *value.values()]
    if isinstance(value, list):
        for item in value:
            check_signs(item, where)
    elif isinstance(value, str) and (found := _UNSEEN.search(value)):
        shown = (value[:found.start()] + "..." + value[found.end():])[:60]
        raise FileError(f'{where} has an invisible sign in the words "{shown}" (where the dots are); take it out.')


def unit_of(name: str, where: str) -> str:
    """The unit that a sheet names, short; UnitError with the place when there is no such unit."""
    try:
        return unit_name(name)
    except UnitError as problem:
        raise UnitError(f'"unit" of {where}: {problem}') from None


def text_of(table: Mapping[str, Any], key: str, where: str, default: str = "") -> str:
    """A text value; InputError when something else stands there."""
    value = table.get(key, default)
    if not isinstance(value, str):
        raise InputError(f'"{key}" of {where} should be words in quotation marks, but is {value!r}.')
    return value


def table_of(table: Mapping[str, Any], key: str, where: str) -> dict[str, Any]:
    """A table, empty when it is not there; InputError when something else stands there."""
    value = table.get(key, {})
    if not isinstance(value, dict):
        raise InputError(f'"{key}" of {where} should be a table; start it with a line [{key}].')
    return value


def rows_of(table: Mapping[str, Any], key: str, where: str) -> list[dict[str, Any]]:
    """Repeated tables; InputError when something else stands there."""
    value = table.get(key, [])
    if not isinstance(value, list) or not all(isinstance(row, dict) for row in value):
        raise InputError(f'"{key}" of {where} should be repeated; start each with a line [[{key}]].')
    return value


def check_keys(table: Mapping[str, Any], known: Iterable[str], where: str) -> None:
    """Raise NameUnknown for the first key that is not known, offering the nearest."""
    known = list(known)
    for key in table:
        if key not in known:
            raise NameUnknown.among("entry", key, known, where)


_IN_HER_WORDS = {
    "Cannot overwrite a value": "this entry stands there twice",
    "Cannot declare": "this table stands there twice",
    "Expected newline or end of document": "something follows that does not belong there",
    "Illegal character '\\n'": "a quotation mark is missing at its end",
    "Unterminated string": "a quotation mark is missing at its end",
    "Invalid value": "there is nothing that can be read behind the equals sign",
}


def _syntax(problem: str, text: str, what: str, path: Path) -> str:
    """Where the rules of TOML are broken, with the line itself."""
    line = next((int(word.rstrip(",")) for before, word in zip(problem.split(), problem.split()[1:], strict=False)
                 if before == "line" and word.rstrip(",").isdigit()), None)
    if line is None:
        line = max(len(text.splitlines()), 1)
    lines = text.splitlines() or [""]
    shown = lines[min(line, len(lines)) - 1].strip()[:60]
    said = problem.split(" (at ")[0]
    said = next((words for start, words in _IN_HER_WORDS.items() if said.startswith(start)), said.lower())
    return (f'The {what} "{path.name}" cannot be read at line {line} ({shown}): {said}; '
            'entries look like  waist = "72 cm"  and texts need quotation marks.')
