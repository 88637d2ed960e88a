"""From what is kept to what is computed: the recipe of a make, the body of a tape sheet, the make worked out."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Collection, Mapping, Sequence
from dataclasses import asdict, replace

from toilewright import __version__
from toilewright.body import tape
from toilewright.body.tape import Body, Wish
from toilewright.errors import InputError
from toilewright.fit.toile.observations import Observation
from toilewright.make.recipe import AUTO, EASE_PLACES, PAPERS, SIZE_PLACES, Make, Toile, made_at, toile_name
from toilewright.make.recipe_allowances import AllowanceWish, read_corner, read_notches
from toilewright.make.recipe_extra import read_extra
from toilewright.workroom.documents import BodyDoc, MakeDoc, PatternDoc, TapeSheet, ToileRow, WishRow

EARLIER = "earlier toiles"
"""Where an alteration comes from whose toile is not among those of the make."""

KEPT = "what she always needed before"
"""Where an alteration comes from that stood for the body when a make's toiles were sewn, and is kept as it was then."""


def recipe(make: MakeDoc) -> Make:
    """The recipe of a make; alterations that are switched off, and what she left aside, are not in it."""
    by_place = tuple((place, make.sizes[place]) for place in SIZE_PLACES if make.sizes.get(place))
    size = "" if by_place and not make.size else make.size or AUTO
    return Make(make.title, size=size, sizes=() if size else by_place,
                ease=tuple((place, make.ease[place]) for place in EASE_PLACES if place in make.ease),
                alterations=_wishes(make.alterations, make.toiles), standing=make.standing,
                papers=tuple(paper for paper in PAPERS if paper in make.papers),
                toiles=tuple(toile_of(row) for row in make.toiles), print_toile=make.print_toile,
                allowances=tuple(AllowanceWish(row.edge, row.amount) for row in make.allowances if row.on),
                corners=tuple(read_corner({"piece": row.piece, "at": row.at, "cut": row.cut, "first": row.first},
                                          f"corner {number} of the make")
                              for number, row in enumerate((row for row in make.corners if row.on), 1)),
                notches=read_notches({"allowances": {"notches": make.notches}} if make.notches else {}, "the make"),
                extras=tuple(read_extra({"kind": row.kind, **row.options}, "cm", f"extra piece {number}")
                             for number, row in enumerate((row for row in make.extras if row.on), 1)))


def toile_of(row: ToileRow) -> Toile:
    """A toile as the recipe has it.

    Raises:
        InputError: something seen on it is not known any more.
    """
    return Toile(tuple(Observation(seen.sign, seen.amount, seen.side) for seen in row.seen), row.date)


def body_of(body: BodyDoc, sheet_id: str = "", without: Collection[str] = ()) -> Body:
    """The body of one of its tape sheets, with the alterations it always needs.

    Args:
        sheet_id: "" for the newest.
        without: names of its alterations that are left out.

    Raises:
        InputError: no such sheet, nothing measured yet, or measures that contradict each other.
    """
    sheet = sheet_of(body, sheet_id)
    if not (sheet.measures or sheet.left or sheet.right):
        raise InputError(f"{body.name} has no measures yet; take some in the first step, Measure.")
    return tape.body_of(
        body.name, sheet.measures, left=tuple(sheet.left.items()), right=tuple(sheet.right.items()), date=sheet.date,
        unit=body.unit, waist_place=sheet.waist_place, posture=body.posture,
        alterations=tuple(w for w in _wishes(body.alterations) if w.name not in without))


def body_for(make: MakeDoc, body: BodyDoc) -> Body:
    """The body of a make; as :func:`body_of`.

    What it always needs is left out where the make says so, and where the make has a row of its own for it that is
    switched off.
    """
    found = body_of(body, make.sheet, make.without)
    off = {made_at(row.name, row.options) for row in make.alterations if not row.on and replaces_standing(row)}
    return replace(found, alterations=tuple(w for w in found.alterations if made_at(w.name, w.options) not in off))


def replaces_standing(row: WishRow) -> bool:
    """Does a row of a make stand in the place of the body's own, instead of coming on top of it?"""
    return not row.came_from or (row.came_from == KEPT and not row.on)


def sheet_of(body: BodyDoc, sheet_id: str = "") -> TapeSheet:
    """One tape sheet, or the newest.

    Raises:
        InputError: there is none.
    """
    if not body.sheets:
        raise InputError(f"{body.name} has no tape sheet yet; begin one in the first step, Measure.")
    if not sheet_id:
        return body.sheets[-1]
    found = next((sheet for sheet in body.sheets if sheet.id == sheet_id), None)
    if found is None:
        raise InputError(f"The tape sheet that this make was begun with is not among those of {body.name} any more; "
                         "choose another in the first step, Measure.")
    return found


def reading_key(pattern: PatternDoc) -> str:
    """Under which the reading of a pattern is kept: its file with its names, or its tissue, and this program.

    Raises:
        InputError: it has no file yet.
    """
    if pattern.tissue is not None:
        told = json.dumps([pattern.name, asdict(pattern.tissue)], sort_keys=True)
        return hashlib.sha256(f"tissue {told} {__version__}".encode()).hexdigest()
    if pattern.file is None:
        raise InputError(f'The pattern "{pattern.name}" has no file yet; drop one on its page.')
    names = json.dumps(pattern.labels, sort_keys=True)
    return hashlib.sha256(f"{pattern.file.sha} {names} {__version__}".encode()).hexdigest()


def _wishes(rows: Collection[WishRow], toiles: Sequence[ToileRow] = ()) -> tuple[Wish, ...]:
    numbers = {toile.id: toile_name(number) for number, toile in enumerate(toiles, 1)}
    return tuple(Wish(row.name, row.amount, dict(row.options), _came_from(row.came_from, numbers), row.spread,
                      row.makes)
                 for row in rows if row.on)


def _came_from(kept: str, numbers: Mapping[str, str]) -> str:
    return numbers.get(kept, kept if kept in ("", KEPT) else EARLIER)
