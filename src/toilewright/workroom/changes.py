"""Changes by path on plain documents, and when two of them do not go together."""

from __future__ import annotations

import copy
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from toilewright.errors import InputError, ToilewrightError
from toilewright.workroom.documents import new_id

if TYPE_CHECKING:
    from toilewright.workroom.store import Thing

Path = tuple[str, ...]
Change = tuple[Path, Any]

APPEND = "+"
"""Last step of a path that adds a row to a list."""

_ABSENT = object()


class ConflictError(ToilewrightError):
    """Two changed the same entry; nothing was saved of the second change.

    Attributes:
        path: the entry; empty when the whole thing is meant.
        mine: the value that was to be saved.
        theirs: the value that is there now; None when it is gone.
        thing: as it is now.
    """

    def __init__(self, text: str, path: Path, mine: Any, theirs: Any, thing: Thing) -> None:
        """The two values and the thing."""
        super().__init__(text)
        self.path, self.mine, self.theirs, self.thing = path, mine, theirs, thing


def check_conflicts(changes: Sequence[Change], base: Any, newest: Any, thing: Thing) -> None:
    """See that every entry to be changed is still what it was when she last saw it.

    Args:
        base, newest: the plain document as she saw it, and as it is now.

    Raises:
        ConflictError: somebody else changed one of them to another value meanwhile.
    """
    for path, mine in changes:
        if path[-1:] == (APPEND,):
            path = path[:-1]
            if _found(base, path) is _ABSENT or _found(newest, path) is not _ABSENT:
                continue
            theirs: Any = _ABSENT
        else:
            theirs = _found(newest, path)
            if theirs == _found(base, path) or theirs == mine or (mine is None and theirs is _ABSENT):
                continue
        raise ConflictError(
            f'"{spoken(path)}" was changed elsewhere since this page was opened, so your change was not saved; look '
            "at both and take one.", path, mine, None if theirs is _ABSENT else theirs, thing)


def applied(changes: Sequence[Change], document: Any) -> Any:
    """A plain document after changes, made one after the other; the given one stays as it is.

    Raises:
        InputError: a path that leads nowhere.
    """
    changed = copy.deepcopy(document)
    for path, value in changes:
        _set(changed, path, value)
    return changed


def spoken(path: Sequence[str]) -> str:
    """A path for a sentence.

    >>> spoken(("sheets", "a1", "measures", "bust girth"))
    'sheets, a1, measures, bust girth'
    """
    return ", ".join(str(step) for step in path)


def _set(document: Any, path: Path, value: Any) -> None:
    if not path:
        raise InputError("A change does not say which entry it is about; name one.")
    place = _found(document, path[:-1])
    if path[0] != "labels":
        value = _with_ids(value, inside=path[-1] == APPEND)
    last = path[-1]
    if isinstance(place, list):
        _set_row(place, path, value)
    elif isinstance(place, dict) and last != APPEND:
        if value is None:
            place.pop(last, None)
        else:
            place[last] = value
    else:
        raise InputError(f'There is no entry "{spoken(path)}" here, so it cannot be changed; load the page again.')


def _set_row(rows: list[Any], path: Path, value: Any) -> None:
    if path[-1] == APPEND:
        rows.append(value)
        return
    at = _row(rows, path[-1])
    if at is None and value is not None:
        raise InputError(f'The row "{spoken(path)}" is not there any more, so it cannot be changed; load the page '
                         "again.")
    if at is not None and value is None:
        del rows[at]
    elif at is not None:
        rows[at] = value


def _found(document: Any, path: Sequence[str]) -> Any:
    """What stands at a path; `_ABSENT` when nothing does."""
    here = document
    for step in path:
        if isinstance(here, dict):
            here = here.get(step, _ABSENT)
        elif isinstance(here, list):
            at = _row(here, step)
            here = _ABSENT if at is None else here[at]
        else:
            return _ABSENT
    return here


def _row(rows: list[Any], name: str) -> int | None:
    """The place of a row by its id; rows without ids (of a pattern's labels) go by their number from 0."""
    for at, row in enumerate(rows):
        if isinstance(row, dict) and row.get("id") == name:
            return at
    if not name.isdecimal() or int(name) >= len(rows):
        return None
    row = rows[int(name)]
    return None if isinstance(row, dict) and "id" in row else int(name)


def _with_ids(value: Any, inside: bool) -> Any:
    """New rows get an id where they have none."""
    if isinstance(value, list):
        return [_with_ids(row, True) for row in value]
    if isinstance(value, dict):
        value = {key: _with_ids(v, False) for key, v in value.items()}
        return {"id": new_id(), **value} if inside and not value.get("id") else value
    return value
