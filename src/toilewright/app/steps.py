"""The way through a make in the trade's order, and how far she has come.

A step is settled when she says so; it wants another look when something that it rests on has changed since.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from enum import StrEnum

from toilewright.workroom.documents import BodyDoc, ClothDoc, MakeDoc, PatternDoc, TapeSheet, WishRow


class State(StrEnum):
    """How a step stands."""

    SETTLED = "settled"
    AGAIN = "again"
    NEXT = "next"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Step:
    """One step.

    Attributes:
        key: its name in addresses and in the catalogue (``steps.<key>``).
        rests_on: what of the make it was settled for; a change there asks for another look.
    """

    key: str
    rests_on: tuple[str, ...]


STEPS = (
    Step("measure", ("body",)),
    Step("pattern", ("pattern",)),
    Step("size", ("body", "pattern", "size")),
    Step("alter", ("body", "pattern", "size", "alterations")),
    Step("walk", ("body", "pattern", "size", "alterations", "finish")),
    Step("print", ("body", "pattern", "size", "alterations", "papers", "finish")),
    Step("cards", ("body", "pattern", "size", "alterations")),
    Step("toile", ("body", "pattern", "size", "alterations")),
    Step("cloth", ("body", "pattern", "size", "alterations", "finish", "cut")),
)
"""Steps of later work (sewing) go in here at their place in the trade's order."""

Cloths = Mapping[str, ClothDoc]
"""Cloths of the shelf, by their id."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where she is: which make, at which step, with the documents that the make rests on (None: not chosen yet).

    Attributes:
        cloths: those that it is cut from.
    """

    make_id: str
    make: MakeDoc
    here: str
    body: BodyDoc | None = None
    pattern: PatternDoc | None = None
    cloths: Cloths = field(default_factory=dict)

    @property
    def rests(self) -> tuple[MakeDoc, BodyDoc | None, PatternDoc | None, Cloths]:
        """The documents in the order in which the functions here take them."""
        return self.make, self.body, self.pattern, self.cloths


@dataclass(frozen=True, slots=True)
class MarkOnTape:
    """One step as the tape shows it.

    Attributes:
        why: sentences about why it wants another look, where they were asked for.
    """

    key: str
    state: State
    here: bool
    address: str
    why: tuple[str, ...] = ()


def tape_of(place: Place | None) -> tuple[MarkOnTape, ...]:
    """The steps of a make with their states; nothing outside a make."""
    if place is None:
        return ()
    states = states_of(*place.rests)
    return tuple(MarkOnTape(s.key, states[s.key], s.key == place.here, f"/make/{place.make_id}/{s.key}")
                 for s in STEPS)


def unsettled_before(place: Place) -> tuple[MarkOnTape, ...]:
    """Steps before this one that are not settled, or want another look."""
    tape = tape_of(place)
    at = next(i for i, mark in enumerate(tape) if mark.here)
    return tuple(mark for mark in tape[:at] if mark.state is not State.SETTLED)


def states_of(make: MakeDoc, body: BodyDoc | None, pattern: PatternDoc | None,
              cloths: Cloths | None = None) -> dict[str, State]:
    """How every step stands; the first that is neither settled nor in need of another look is the next one."""
    states = {}
    next_found = False
    for step in STEPS:
        if step.key in make.settled:
            same = changed_parts(step.key, make, body, pattern, cloths) == ()
            states[step.key] = State.SETTLED if same else State.AGAIN
        else:
            states[step.key] = State.OPEN if next_found else State.NEXT
            next_found = True
    return states


def settled_value(key: str, day: str, make: MakeDoc, body: BodyDoc | None, pattern: PatternDoc | None,
                  cloths: Cloths | None = None) -> str:
    """What ``settled`` keeps of a step: the day, and a stamp of each part that it rests on."""
    found = part_stamps(make, body, pattern, cloths)
    return " ".join((day, *(f"{name}:{found[name]}" for name in _step(key).rests_on)))


def changed_parts(key: str, make: MakeDoc, body: BodyDoc | None, pattern: PatternDoc | None,
                  cloths: Cloths | None = None) -> tuple[str, ...] | None:
    """What a settled step rests on and is not as it was then; None where that was kept without its parts."""
    kept = dict(one.partition(":")[::2] for one in make.settled[key].split()[1:])
    now = part_stamps(make, body, pattern, cloths)
    names = _step(key).rests_on
    return tuple(n for n in names if kept.get(n, _UNSAID.get(n)) != now[n]) if any(n in kept for n in names) else None


def stamp(key: str, make: MakeDoc, body: BodyDoc | None, pattern: PatternDoc | None,
          cloths: Cloths | None = None) -> str:
    """A short stamp of everything a step rests on; another one as soon as any of it changes."""
    found = part_stamps(make, body, pattern, cloths)
    return " ".join(found[name] for name in _step(key).rests_on)


def part_stamps(make: MakeDoc, body: BodyDoc | None, pattern: PatternDoc | None,
                cloths: Cloths | None = None) -> dict[str, str]:
    """A short stamp of each part of a make that steps rest on."""
    parts = {
        "body": (make.body, body and [(s.id, sorted(s.measures.items()), sorted(s.left.items()),
                                       sorted(s.right.items()), s.waist_place) for s in _used(make, body)]),
        "pattern": (make.pattern, pattern and _read_from(pattern)),
        "size": (make.size, sorted(make.sizes.items()), sorted(make.ease.items())),
        "alterations": (make.standing, make.without,
                        [_made(r) for r in (*make.alterations, *(body.alterations if body else ()))]),
        "papers": (*make.papers, "toile") if make.print_toile else make.papers,
        "finish": _finish(make),
        "cut": (make.lay_with, make.lay_gap, [(asdict(r) | {"id": ""}, _as_cut((cloths or {}).get(r.cloth)))
                                              for r in make.lays]),
    }
    return {name: _hashed(part) for name, part in parts.items()}


def _read_from(pattern: PatternDoc) -> tuple[object, ...]:
    """What a pattern is read from; of tissue the answers to questions do not matter."""
    if pattern.tissue is not None:
        return (asdict(replace(pattern.tissue, sure={})),)
    return (pattern.file and pattern.file.sha, pattern.labels)


def _finish(make: MakeDoc) -> tuple[object, ...]:
    """What is cut beyond the seam lines, and beside the pattern's pieces."""
    corners = [(r.piece, r.at, r.cut, r.first) for r in make.corners if r.on]
    return ([(r.edge, r.amount) for r in make.allowances if r.on],
            [(r.kind, sorted(r.options.items())) for r in make.extras if r.on],
            *([(corners, make.notches)] if corners or make.notches else []))


def _as_cut(cloth: ClothDoc | None) -> object:
    """What matters of a cloth when it is cut; what she calls it and how it looks do not."""
    return cloth and asdict(replace(cloth, name="", fibre="", drape="", note="", pictures=()))


def _made(row: WishRow) -> tuple[object, ...]:
    """What an alteration makes; one that a toile asked for comes on top of the others."""
    plain = (row.name, row.amount, sorted(row.options.items()), row.on)
    return (*plain, "toile") if row.came_from else plain


def _hashed(part: object) -> str:
    return hashlib.sha256(json.dumps(part, sort_keys=True, default=str).encode()).hexdigest()[:12]


_UNSAID = {"finish": _hashed(_finish(MakeDoc("")))}
"""Stamps of parts that were not kept yet when steps were settled by an earlier program."""


def _step(key: str) -> Step:
    return next(s for s in STEPS if s.key == key)


def _used(make: MakeDoc, body: BodyDoc) -> tuple[TapeSheet, ...]:
    """The sheet that a make goes by: the one it names, else the newest; what is on the others changes nothing."""
    return tuple(s for s in body.sheets if s.id == make.sheet) or body.sheets[-1:]
