"""The chain along which undoing and redoing go.

Every revision is kept for good. Its `state` is the number of the revision that first had its document: itself for a
real change, an earlier one after undoing. `before` is the state that undoing puts back; the states and their `before`
form a tree, and redoing goes along the branch that ends at `tip`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

from toilewright.workroom.documents import Document


class Way(StrEnum):
    """How a revision came about."""

    ADD = "add"
    CHANGE = "change"
    UNDO = "undo"
    REDO = "redo"
    BACK = "back"
    REMOVE = "remove"
    BRING_BACK = "bring back"
    IMPORT = "import"


class State(Protocol):
    """What the chain needs to know of a revision that is a state."""

    @property
    def number(self) -> int:
        """Of the revision."""

    @property
    def before(self) -> int | None:
        """The state that undoing puts back."""

    @property
    def words(self) -> str:
        """What was done."""


@dataclass(frozen=True, slots=True)
class Record:
    """One revision, whole; `at` as it is kept."""

    number: int
    document: Document
    way: Way
    words: str
    at: str
    device: str
    removed: bool
    state: int
    before: int | None
    tip: int


def branch(states: Mapping[int, State], tip: int) -> list[State]:
    """The states from the first one to a tip."""
    found, at = [], states.get(tip)
    while at is not None:
        found.append(at)
        at = states.get(at.before) if at.before is not None else None
    return found[::-1]


def undo_and_redo(states: Mapping[int, State], state: int, tip: int) -> tuple[str | None, str | None]:
    """Words of what would be undone and of what would be done again."""
    along = branch(states, tip)
    here = next(place for place, one in enumerate(along) if one.number == state)
    return (along[here].words if here else None,
            along[here + 1].words if here + 1 < len(along) else None)


def is_chain(records: Sequence[Record]) -> bool:
    """Do these revisions go together as the store would have written them?"""
    states: dict[int, Record] = {}
    for number, record in enumerate(records, 1):
        if record.number != number:
            return False
        if record.state == number:
            if record.tip != number or (record.before not in states if states else record.before is not None):
                return False
            states[number] = record
            continue
        first = states.get(record.state)
        if first is None or first.document != record.document or first.before != record.before:
            return False
        if record.tip not in states or all(one.number != record.state for one in branch(states, record.tip)):
            return False
    return bool(records)
