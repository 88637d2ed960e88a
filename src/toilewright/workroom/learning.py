"""What a body's makes have taught: kept with the body, and made what she always needs once she says so.

A make that taught keeps its own amounts: what stood before is written into it, and what now stands for the body is left
out of it, so that nothing is made twice and nothing that was settled changes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import msgspec

from toilewright.errors import InputError
from toilewright.fit.toile.learned import Learned, Lesson, learn
from toilewright.make.lessons import Key, key_of, lessons_of
from toilewright.make.outcome import size_up
from toilewright.make.recipe import made_at
from toilewright.workroom.changes import APPEND, Change
from toilewright.workroom.documents import BodyDoc, Kind, LearnedRow, MakeDoc, WishRow, new_id
from toilewright.workroom.recipes import KEPT, body_for, recipe
from toilewright.workroom.store import Thing, Workroom
from toilewright.workroom.taking import reading_of


def learned_of(body: BodyDoc) -> tuple[Learned, ...]:
    """What the makes of a body had in common, those worth making always first."""
    return learn(Lesson(row.make, row.name, row.amount, row.spread, row.options, row.date) for row in body.learned)


def teach(room: Workroom, make_id: str, by: str = "") -> Thing:
    """Keep with the body what the toiles of one make ended in; what that make taught before is replaced.

    Returns:
        The body as it is now.

    Raises:
        InputError: the make has no toile, no body or no pattern yet, or cannot be made up.
        AlterationError: one of its alterations cannot be made.
    """
    make: MakeDoc = room.get(make_id, kind=Kind.MAKE).document
    if not make.toiles:
        raise InputError(f'"{make.title}" has no toile yet, so there is nothing to learn from it; sew one and say what '
                         "it showed.")
    if not (make.body and make.pattern):
        raise InputError(f'"{make.title}" has no body or no pattern yet; choose them first.')
    body, pattern = room.get(make.body), room.get(make.pattern).document
    sized = size_up(recipe(make), body_for(make, body.document), reading_of(room, pattern))
    known = {_key(row) for row in body.document.learned}
    lessons = lessons_of(sized, make_id, max(t.date for t in make.toiles), known)
    gone: list[Change] = [(("learned", row.id), None) for row in body.document.learned if row.make == make_id]
    rows: list[Change] = [(("learned", APPEND), msgspec.to_builtins(_row(one, make.title))) for one in lessons]
    return room.change(body.id, body.revision, [*gone, *rows], f'learned from the toiles of "{make.title}"', by)


def make_standing(room: Workroom, body_id: str, learned: Learned, by: str = "") -> Thing:
    """From now on make for a body always what its makes had in common; makes that taught it stay as they are.

    Returns:
        The body as it is now.
    """
    body = room.get(body_id, kind=Kind.BODY)
    old = _standing(body.document, learned)
    taught = {one.make for one in learned.lessons}
    # The makes first: should the work stop in between, they are what they were, and so is the body.
    for thing in room.things(Kind.MAKE):
        if thing.id in taught and thing.document.body == body_id:
            changes = list(_kept(thing.document, learned, old))
            if changes:
                room.change(thing.id, thing.revision, changes,
                            f'"{learned.name}" stands for the body now; this make keeps its own', by)
    row = WishRow(old.id if old else new_id(), learned.name, round(learned.amount, 1), dict(learned.options),
                  spread=round(learned.spread, 1), makes=learned.makes, note=old.note if old else "")
    path = ("alterations", old.id if old else APPEND)
    return room.change(body_id, body.revision, [(path, msgspec.to_builtins(row))],
                       f'"{learned.name}" is made always, as {learned.makes} makes had it in common', by)


def _row(one: Lesson, title: str) -> LearnedRow:
    return LearnedRow(new_id(), one.make, title, one.date, one.name, round(one.amount, 1), round(one.spread, 1),
                      dict(one.options))


def _key(row: LearnedRow) -> Key:
    return key_of(row.name, row.options)


def _standing(body: BodyDoc, learned: Learned) -> WishRow | None:
    at = made_at(learned.name, learned.options)
    return next((row for row in body.alterations if made_at(row.name, row.options) == at), None)


def _kept(make: MakeDoc, learned: Learned, old: WishRow | None) -> Iterator[Change]:
    """What has to be written into a make so that it stays as it is."""
    at = made_at(learned.name, learned.options)
    own = [row for row in make.alterations if made_at(row.name, row.options) == at]
    if not make.standing or any(row.came_from in ("", KEPT) for row in own):
        return
    if old is not None and old.on and old.name not in make.without:
        yield (("alterations", APPEND), msgspec.to_builtins(replace(old, id=new_id(), came_from=KEPT)))
    off = WishRow(new_id(), learned.name, None, dict(learned.options), False, came_from=KEPT)
    yield (("alterations", APPEND), msgspec.to_builtins(off))
