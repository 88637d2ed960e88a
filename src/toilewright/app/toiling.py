"""The toile's step: what it will show, what was seen on each, the alterations to try, and what several makes taught."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from toilewright.app.choosing import told
from toilewright.app.figures import figure_svg
from toilewright.app.prescribing import much
from toilewright.app.words import on_page, say
from toilewright.errors import ToilewrightError
from toilewright.fit.toile.answer import Reading
from toilewright.fit.toile.drawing import prediction_figure
from toilewright.fit.toile.observations import Sign, all_signs, find_sign
from toilewright.fit.toile.observations import told as measured_as
from toilewright.make.outcome import Sized
from toilewright.make.recipe import made_at
from toilewright.make.toile import next_number, predict_make, read_toile, sewn_for
from toilewright.units import show_length
from toilewright.workroom.documents import MakeDoc, SeenRow, ToileRow

ROOM = (620.0, 560.0)
"""px; what the drawing of the toile may take at most."""


@dataclass(frozen=True, slots=True)
class Foretold:
    """What the next toile shows on one side of her, or on both.

    Attributes:
        off: sentences about what will not sit; rest: about what will.
    """

    side: str
    picture: Markup
    off: tuple[str, ...]
    rest: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """One alteration to try.

    Attributes:
        shown: how much, which way, how sure; likely: in hundredths.
        row: as it is taken into the make.
        taken: is it there already?
    """

    reading: Reading
    said: str
    shown: str
    likely: int
    row: dict[str, object]
    taken: bool


@dataclass(frozen=True, slots=True)
class Looked:
    """One toile as it was looked at.

    Attributes:
        seen: (id of the row, in words, is there an alteration that would cure it?).
        stop: why it cannot be answered, or "".
    """

    number: int
    id: str
    date: str
    seen: tuple[tuple[str, str, bool], ...]
    answers: tuple[Answer, ...]
    stop: str = ""


def foretold(sized: Sized, unit: str) -> tuple[Foretold, ...]:
    """What the next toile will show, drawn and in sentences."""
    halves = dict(zip(("left", "right"), sewn_for(sized, next_number(sized)).halves, strict=True))
    found = []
    for side, one in predict_make(sized):
        figure = prediction_figure(halves.get(side, halves["left"]), one)
        picture = figure_svg(figure, say("toile.picture"), ROOM)
        off = tuple(on_page(row.sentence, unit) for row in one.rows if row.sign)
        rest = tuple(on_page(row.sentence, unit) for row in one.rows if not row.sign)
        found.append(Foretold(side, picture, off, rest))
    return tuple(found)


def looked(sized: Sized, make: MakeDoc, unit: str) -> tuple[Looked, ...]:
    """Every toile of the make, the last one first, with the alterations that would cure what it showed."""
    return tuple(_looked(sized, make, row, number, unit) for number, row in reversed([*enumerate(make.toiles, 1)]))


def _looked(sized: Sized, make: MakeDoc, row: ToileRow, number: int, unit: str) -> Looked:
    words = tuple(_seen(seen, unit) for seen in row.seen)
    if not row.seen:
        return Looked(number, row.id, row.date, (), ())
    try:
        read = read_toile(sized, sized.make.toiles[number - 1].saw, number, row.date)
    except ToilewrightError as problem:
        seen = tuple((s.id, t, True) for s, t in zip(row.seen, words, strict=True))
        return Looked(number, row.id, row.date, seen, (), on_page(str(problem), unit))
    seen = tuple((s.id, t, n not in read.unanswered) for n, (s, t) in enumerate(zip(row.seen, words, strict=True)))
    return Looked(number, row.id, row.date, seen, tuple(_answer(one, make, row.id, unit) for one in read.readings))


def _seen(seen: SeenRow, unit: str) -> str:
    side = "" if seen.side == "both" else f", {say(f'options.say_side_{seen.side}')}"
    takes = find_sign(seen.sign).takes
    by = "" if seen.amount is None or not takes else f", {measured_as(takes, seen.amount, unit)}"
    return f"{seen.sign}{side}{by}"


def _answer(one: Reading, make: MakeDoc, toile: str, unit: str) -> Answer:
    at = made_at(one.alteration, one.options)
    taken = any(r.came_from == toile and made_at(r.name, r.options) == at for r in make.alterations)
    row = {"name": one.alteration, "amount": round(one.amount.value, 1), "options": dict(one.options), "on": True,
           "note": "", "came_from": toile, "spread": round(one.amount.spread or 0.0, 1)}
    shown = much(one.alteration, one.amount, unit)
    return Answer(one, told(one.options), shown, round(100 * one.likelihood), row, taken)


def beside(toiles: tuple[Looked, ...]) -> list[tuple[str, list[str]]]:
    """By alteration, what each toile asked for, first toile first; empty for a single toile."""
    rows: dict[tuple[str, str], list[str]] = {}
    ordered = toiles[::-1]
    for place, one in enumerate(ordered):
        for answer in one.answers:
            name = answer.reading.alteration + (f" ({answer.said})" if answer.said else "")
            row = rows.setdefault((name, answer.said), [""] * len(ordered))
            row[place] = say("toile.took" if answer.taken else "toile.asked", shown=answer.shown, likely=answer.likely)
    return [(name, row) for (name, _), row in rows.items()] if len(ordered) > 1 else []


def rooms() -> dict[str, list[Sign]]:
    """Every sign, by the place on the body."""
    found: dict[str, list[Sign]] = {}
    for sign in all_signs():
        found.setdefault(sign.group, []).append(sign)
    return found


def learned_rows(learned: tuple, unit: str) -> list[dict[str, object]]:
    """What several makes taught, as the page shows it."""
    return [{"name": one.name, "options": dict(one.options), "said": told(one.options), "makes": one.makes,
             "amount": show_length(one.amount, unit), "text": on_page(one.say(unit), unit)} for one in learned]
