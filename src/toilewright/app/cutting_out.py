"""The cloth step: what a make is cut from, as the page asks for it and shows it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from toilewright.app.laying import others_of
from toilewright.app.shelving import price_shown
from toilewright.app.steps import Place
from toilewright.app.table import Table
from toilewright.app.words import say
from toilewright.make.outcome import Outcome
from toilewright.pattern.garment import Garment
from toilewright.units import show_length
from toilewright.workroom.documents import ClothDoc, Kind, LayRow

SELF = "self"
USES = (SELF, "lining", "interfacing", "contrast")
"""What cloth is for, in the trade's words; a pattern may have others of its own."""

FOLDS = ("open", "lengthwise", "part", "depth")


@dataclass(frozen=True, slots=True)
class Use:
    """One cloth of a make as the page asks for it.

    Attributes:
        row: what she said of it so far; its id is "" where nothing is kept yet.
        title: what it is for, in words.
        pieces: that are cut from it.
        doc: the cloth on the shelf, or None.
        gone: she chose one that is not there any more.
        width, depth: as they stand in the fields.
        shop: (width in mm, what envelope and shop say of it).
        may_match: where its stripes may meet, beyond those that are chosen; empty where nothing repeats.
        own: is it in the make alone, with no piece of the pattern asking for it?
    """

    row: LayRow
    title: str
    pieces: tuple[str, ...]
    doc: ClothDoc | None
    gone: bool
    width: str
    depth: str
    shop: tuple[tuple[str, str], ...]
    may_match: tuple[str, ...]
    own: bool


def uses_of(table: Table, place: Place, outcome: Outcome, unit: str) -> tuple[Use, ...]:
    """Every cloth of a make: those its pieces ask for, and those that she added."""
    garment, rows = outcome.altered.garment, {row.use: row for row in place.make.lays}
    own = {p.name: p.cut.cloth for p in garment.pieces}
    moved = {piece: row.use for row in reversed(place.make.lays) for piece in row.pieces}
    names = dict.fromkeys((*(u for u in USES if u in own.values()), *own.values(), *rows))
    return tuple(_use(rows.get(name) or LayRow("", name), place, garment, unit,
                      tuple(p for p, cloth in own.items() if moved.get(p, cloth) == name),
                      name not in own.values()) for name in names)


def use_words(use: str) -> str:
    """What a cloth is for."""
    return say(f"cloth.use_{use}") if use in USES else use


def _use(row: LayRow, place: Place, garment: Garment, unit: str, pieces: tuple[str, ...], own: bool) -> Use:
    doc = place.cloths.get(row.cloth)
    repeats = doc is not None and (doc.repeat_along or doc.repeat_across)
    places = tuple(one for one in meeting_places(garment) if one not in row.match) if repeats else ()
    return Use(row, use_words(row.use), pieces, doc, bool(row.cloth) and doc is None, _number(row.width, unit),
               _number(row.depth, unit), _shop(row, unit), places, own)


def meeting_places(garment: Garment) -> tuple[str, ...]:
    """Where stripes may be made to meet: centre lines, then seams that are not gathered."""
    centres = [e.name for p in garment.pieces for e in p.edges if e.name.startswith("centre ")]
    return tuple(dict.fromkeys([*centres, *(s.name for s in garment.seams if s.ratio is None)]))


def _number(mm: float | None, unit: str) -> str:
    return "" if mm is None else show_length(mm, unit).rpartition(" ")[0]


def _shop(row: LayRow, unit: str) -> tuple[tuple[str, str], ...]:
    found = []
    for key in sorted({*row.envelope, *row.prices}, key=float):
        said = []
        if key in row.envelope:
            said.append(say("cloth.shop_row_envelope", length=bolt_length(row.envelope[key], unit)))
        if key in row.prices:
            said.append(say("cloth.shop_row_price_" + unit, price=price_shown(row.prices[key], unit)))
        found.append((key, say("cloth.shop_row", width=show_length(float(key), unit), rest=", ".join(said))))
    return tuple(found)


def bolt_length(mm: float, unit: str) -> str:
    """A length of cloth: metres, or yards."""
    return show_length(mm, "yd" if unit == "in" else "m")


@dataclass(frozen=True, slots=True)
class Other:
    """Another make that may be cut in the same lay.

    Attributes:
        along: is it?
    """

    id: str
    title: str
    along: bool


def other_makes(table: Table, place: Place) -> Sequence[Other]:
    """Every other make that has a body and a pattern."""
    along = {one for one, _ in others_of(table, place.make_id)}
    return [Other(t.id, t.document.title, t.id in along) for t in table.room.things(Kind.MAKE)
            if t.id != place.make_id and t.document.body and t.document.pattern]
