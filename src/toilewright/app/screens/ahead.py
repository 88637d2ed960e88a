"""What a change of a body, a pattern or a make does to settled steps, of every make that rests on it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.changes import Rows, as_changed, asked_for
from toilewright.app.pages import unit_of
from toilewright.app.screens.would import compared, reached
from toilewright.app.steps import STEPS, Place, part_stamps
from toilewright.app.table import Table
from toilewright.app.words import say
from toilewright.errors import InputError
from toilewright.workroom.chain import Way
from toilewright.workroom.documents import Document, Kind, MakeDoc
from toilewright.workroom.store import Thing

_WAYS = {"undo": Way.UNDO, "redo": Way.REDO}
_OWN = {"body": "measure", "pattern": "pattern", "size": "size", "alterations": "alter", "papers": "print",
        "finish": "cloth", "cut": "cloth"}
"""The step in which each part of a make is decided; that it wants another look then is no news."""


class _Asked(msgspec.Struct, frozen=True):
    """A change of one thing.

    Attributes:
        set: rows as for saving.
        way: instead of them ``undo``, ``redo``, ``back`` (to `revision`), or ``since`` (done, after `revision`).
    """

    thing: str
    set: Rows = []
    way: str = ""
    revision: int = 0


@dataclass(frozen=True, slots=True)
class _Change:
    """A thing with its document before and after."""

    thing: Thing
    before: Document
    after: Document

    def place(self, table: Table, make: Thing, document: Document) -> Place:
        """A make as it is with one of the two documents."""
        if self.thing.kind is Kind.MAKE:
            return _place(table, make.id, document)
        return replace(table.place(make.id, ""), **{self.thing.kind.value: document})

    def given(self, document: Document) -> dict[str, Any]:
        """As arguments of :meth:`Table.sized`."""
        return {"make" if self.thing.kind is Kind.MAKE else "instead": document}

    @property
    def own(self) -> set[str]:
        """Steps in which it is made."""
        return {_OWN[self.thing.kind]} if self.thing.kind in _OWN else set()


def further_on(table: Table, asked: _Asked, unit: str) -> list[dict[str, Any]]:
    """By make with settled steps that rest on the change: which they are, and what becomes another there."""
    change = _change(table, asked)
    found = []
    for make, steps in _touched(table, change):
        told = compared(reached(table, make.id, change.given(change.before), unit),
                        reached(table, make.id, change.given(change.after), unit))
        if told["differences"] or told["stuck"]:
            found.append({"id": make.id, "title": make.document.title, **told,
                          "steps": [say(f"common.step_{key}") for key in steps]})
    return found


def _change(table: Table, asked: _Asked) -> _Change:
    thing = table.room.get(asked.thing)
    if asked.way in _WAYS:
        return _Change(thing, thing.document, table.room.stepped(thing.id, _WAYS[asked.way]))
    if asked.way in ("back", "since"):
        old = table.room.get(thing.id, asked.revision).document
        return _Change(thing, thing.document, old) if asked.way == "back" else _Change(thing, old, thing.document)
    if asked.way:
        raise InputError(f'"{asked.way}" is no way to change a thing; ask for undo, redo, back or since.')
    return _Change(thing, thing.document, as_changed(thing, asked.set))


def _touched(table: Table, change: _Change) -> Iterator[tuple[Thing, list[str]]]:
    """Makes with the keys of their settled steps that rest on what changes, beyond the step where it is changed."""
    kind = change.thing.kind
    for make in table.room.things(Kind.MAKE):
        if kind is Kind.CLOTH or change.thing.id not in (make.id, make.document.body, make.document.pattern):
            continue
        before, after = (change.place(table, make, one) for one in (change.before, change.after))
        old, new = (part_stamps(*p.rests) for p in (before, after))
        parts = {name for name in old if old[name] != new[name]}
        own = change.own or {_OWN[name] for name in parts}
        steps = [s.key for s in STEPS if s.key not in own and parts.intersection(s.rests_on)
                 and s.key in before.make.settled and s.key in after.make.settled]
        if steps:
            yield make, steps


def _place(table: Table, make_id: str, make: Document) -> Place:
    assert isinstance(make, MakeDoc)
    body = table.room.get(make.body).document if make.body else None
    pattern = table.room.get(make.pattern).document if make.pattern else None
    return Place(make_id, make, "", body, pattern, table.cloths(make))


async def _ahead(request: Request) -> Response:
    asked = await asked_for(request, _Asked)
    found = await run_in_threadpool(further_on, request.app.state.table, asked, unit_of(request))
    return JSONResponse({"makes": found})


ROUTES = [Route("/ahead", _ahead, methods=["POST"])]
