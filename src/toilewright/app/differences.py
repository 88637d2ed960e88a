"""What differs between two states of a thing, entry by entry, in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import msgspec

from toilewright.app.words import say
from toilewright.errors import NameUnknown
from toilewright.units import show_length
from toilewright.workroom.documents import Document, name_of
from toilewright.workroom.store import Workroom

_LENGTHS = ("measures", "left", "right", "ease", "width", "length", "amount", "spread", "lengths", "allowance",
            "chart", "square", "repeat_along", "repeat_across", "first_along", "first_across", "border", "x", "y",
            "along", "across", "outline", "depth", "envelope", "lay_gap")
_IDS = ("body", "pattern", "cloths", "started_from", "lay_with")
_LEFT_OUT = ("id", "sha", "sure")
_LONGEST = 90

Names = Callable[[str], str]


@dataclass(frozen=True, slots=True)
class Difference:
    """One entry: where it stands, what it is now, and what it was then; "" where there is nothing."""

    where: str
    now: str
    then: str


def differences(now: Document, then: Document, unit: str, names: Names) -> tuple[Difference, ...]:
    """Every entry that is not the same.

    Args:
        unit: ``cm`` or ``in``, for lengths.
        names: what a body, pattern, cloth or make is called, by its id.
    """
    return tuple(_between(msgspec.to_builtins(now), msgspec.to_builtins(then), (), _Words(unit, names)))


def entry(document: Document, path: Sequence[str], value: Any, unit: str, names: Names) -> tuple[str, str]:
    """Where an entry stands, rows by what they are called, and a value of it, in words."""
    named, at = [], msgspec.to_builtins(document)
    for step in path:
        if isinstance(at, (list, tuple)):
            at = next((row for row in at if isinstance(row, dict) and row.get("id") == step), {})
            named.append(_called(at))
        else:
            at = at.get(step) if isinstance(at, dict) else None
            named.append(step)
    where = tuple(named)
    return _place(where), _Words(unit, names).of(msgspec.to_builtins(value), where) or say("common.nothing")


def name_in(room: Workroom, thing_id: str) -> str:
    """What a thing is called; its id where it is gone."""
    try:
        return name_of(room.get(thing_id).document)
    except NameUnknown:
        return thing_id


@dataclass(frozen=True, slots=True)
class _Words:
    unit: str
    names: Names

    def of(self, value: Any, path: tuple[str, ...]) -> str:
        """A value for reading, by where it stands."""
        if value is None and path[:1] == ("alterations",) and path[-1] == "amount":
            return say("history.from_measures")
        if value is None or value in ("", [], {}, ()) or (value == 0 and path[-1:] == ("makes",)):
            return ""
        if isinstance(value, bool):
            if path[-1:] == ("on",):
                return say("history.made" if value else "history.not_made")
            return say("history.yes" if value else "history.no")
        if isinstance(value, (int, float)):
            return self._number(value, path)
        if isinstance(value, (list, tuple)):
            return _short(", ".join(self.of(one, path) for one in value))
        if isinstance(value, Mapping) and "sha" in value:
            return str(value.get("name", ""))
        if isinstance(value, Mapping):
            return _short(self._row(value, path))
        text = str(value)
        if path and (path[0] in _IDS or (path[0], path[-1]) == ("lays", "cloth")):
            return self.names(text)
        if path[:1] == ("settled",):
            return say("history.settled_on", date=text.partition(" ")[0])
        return _short(text)

    def _number(self, value: float, path: tuple[str, ...]) -> str:
        if path and path[-1] == "shoulder slope":
            return say("history.degrees", n=f"{value:g}")
        return show_length(value, self.unit) if any(step in _LENGTHS for step in path) else f"{value:g}"

    def _row(self, row: Mapping[str, Any], path: tuple[str, ...]) -> str:
        """A row in a few words: its name or date first, then what it says."""
        return ", ".join(words for key, value in row.items()
                         if key not in _LEFT_OUT and (words := self.of(value, (*path, key))))


def _between(now: Any, then: Any, path: tuple[str, ...], words: _Words) -> Iterator[Difference]:
    if now == then:
        return
    if path == ("labels",):
        yield Difference(_place(path), say("history.other_names"), say("history.these_names"))
    elif isinstance(now, dict) and isinstance(then, dict) and "sha" not in now:
        for key in dict.fromkeys((*now, *then)):
            if key not in _LEFT_OUT:
                yield from _between(now.get(key), then.get(key), (*path, key), words)
    elif _has_rows(now) or _has_rows(then):
        yield from _rows(now or [], then or [], path, words)
    else:
        yield Difference(_place(path), words.of(now, path), words.of(then, path))


def _rows(now: list[dict[str, Any]], then: list[dict[str, Any]], path: tuple[str, ...],
          words: _Words) -> Iterator[Difference]:
    """Rows are the same when their ids are."""
    here, there = {row["id"]: row for row in now}, {row["id"]: row for row in then}
    for row_id in dict.fromkeys((*here, *there)):
        if row_id in here and row_id in there:
            yield from _between(here[row_id], there[row_id], (*path, _called(here[row_id])), words)
        else:
            yield Difference(_place(path), words.of(here.get(row_id), path), words.of(there.get(row_id), path))


def _has_rows(value: Any) -> bool:
    return isinstance(value, (list, tuple)) and bool(value) and isinstance(value[0], dict) and "id" in value[0]


def _called(row: Mapping[str, Any]) -> str:
    return str(row.get("name") or row.get("sign") or row.get("date") or row.get("words")
               or row.get("use") or row.get("edge") or row.get("kind")
               or ", ".join(str(row[key]) for key in ("piece", "at") if row.get(key)))


_FIELDS = (
    "name", "unit", "posture", "sheets", "alterations", "note", "file", "labels", "confirmed", "pictures", "fibre",
    "width", "length", "weight", "drape", "washed", "title", "body", "sheet", "pattern", "cloths", "size", "sizes",
    "ease", "standing", "without", "papers", "settled", "diary", "started_from", "measures", "left", "right",
    "waist_place", "date", "text", "kind", "amount", "options", "on", "words", "toiles", "seen", "sign", "side",
    "came_from", "spread", "makes", "make", "learned", "print_toile",
    "aside", "tissue", "garment", "lengths", "allowance", "chart", "square", "stretch_along", "stretch_across",
    "one_way", "sided", "repeat_along", "repeat_across", "first_along", "first_across", "border", "flaws", "x", "y",
    "along", "across", "outline", "price", "lays", "use", "cloth", "fold", "depth", "match", "envelope", "prices",
    "pieces", "lay_with", "lay_gap", "allowances", "edge", "extras",
    "corners", "notches", "piece", "at", "cut", "first")


def _place(path: tuple[str, ...]) -> str:
    """Where an entry stands, e.g. "tape sheet, 2026-11-20, measures, bust girth"."""
    return ", ".join(_step(step, path[0]) for step in path if step)


def _step(step: str, among: str) -> str:
    if (step, among) == ("kind", "extras"):
        return say("history.field_kind_extras")
    return say(f"history.field_{step}") if step in _FIELDS else step


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST - 1]}…"
