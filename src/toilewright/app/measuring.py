"""What a tape sheet shows: measures in groups, last time's values, questions, and what the missing ones are for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from toilewright.app.estimating import guesses, take_next
from toilewright.app.words import say
from toilewright.body.measures import Measure, all_measures
from toilewright.body.questions import Question, questions
from toilewright.body.tape import Body
from toilewright.fit.amounts import USES
from toilewright.units import show_length
from toilewright.workroom.documents import BodyDoc, TapeSheet

FOR_SIZE = ("bust girth", "upper bust girth", "waist girth", "hip girth", "waist to hip", "upper arm girth")
"""A size is chosen by these, and the ease judged."""

SIDED = ("shoulder length", "shoulder slope", "neck shoulder point to bust point", "neck shoulder point to waist",
         "neck shoulder point to waist back", "waist to hip", "upper arm girth", "elbow girth", "wrist girth",
         "arm length", "waist height", "crotch depth", "thigh girth", "knee girth", "calf girth", "forward shoulder")
"""Measures that can be taken on either side."""

NO_SHEET = TapeSheet("", "")


@dataclass(frozen=True, slots=True)
class Row:
    """One measure on the page.

    Attributes:
        key: its name without spaces, for ids.
        values: by side ("", left, right), as shown in the field; "" where it was not taken.
        unit: what stands behind the field.
        last: last time's value in words, or "".
        difference: now minus last time in words, or "".
        uses: what it is for, in words.
    """

    measure: Measure
    key: str
    values: dict[str, str]
    unit: str
    last: str
    difference: str
    uses: tuple[str, ...]

    @property
    def taken(self) -> bool:
        """Is there a number?"""
        return any(self.values.values())

    @property
    def sided(self) -> bool:
        """Can it differ from side to side?"""
        return self.measure.name in SIDED


@dataclass(frozen=True, slots=True)
class Group:
    """Rows that are needed for the same; `key` names it in the catalogue."""

    key: str
    rows: tuple[Row, ...]

    @property
    def taken(self) -> int:
        """How many of them are there."""
        return sum(row.taken for row in self.rows)

    @property
    def missing(self) -> tuple[Row, ...]:
        """Those that are not."""
        return tuple(row for row in self.rows if not row.taken)


def sheet_of(doc: BodyDoc, sheet_id: str = "") -> TapeSheet:
    """A body's sheet of that id, else its newest one, else an empty one."""
    found = next((s for s in doc.sheets if s.id == sheet_id), None)
    return found or (doc.sheets[-1] if doc.sheets else NO_SHEET)


def before(doc: BodyDoc, sheet: TapeSheet) -> TapeSheet | None:
    """The sheet before one, if there is any."""
    ids = [s.id for s in doc.sheets]
    at = ids.index(sheet.id) if sheet.id in ids else 0
    return doc.sheets[at - 1] if at else None


def groups(doc: BodyDoc, sheet: TapeSheet, unit: str, wanted: Sequence[str]) -> tuple[Group, ...]:
    """All measures: for the size, for the alterations that are wanted, the rest.

    Args:
        wanted: names of alterations.
    """
    last = before(doc, sheet)
    rows = {m.name: _row(m, sheet, last, unit, wanted) for m in all_measures()}
    needed = [m.name for m in all_measures() if any(m.name in USES.get(name, ()) for name in wanted)]
    order = {"for_size": list(FOR_SIZE), "for_wanted": needed, "rest": list(rows)}
    found = []
    for key, names in order.items():
        own = tuple(rows.pop(name) for name in names if name in rows)
        if own:
            found.append(Group(key, own))
    return tuple(found)


def asked(doc: BodyDoc, sheet: TapeSheet, unit: str, today: str) -> tuple[Question, ...]:
    """Questions that she has not answered yet."""
    last = before(doc, sheet)
    newest = not doc.sheets or sheet.id == doc.sheets[-1].id
    found = questions(as_body(doc, sheet, unit), last and as_body(doc, last, unit), today if newest else "")
    return tuple(q for q in found if q.key not in sheet.sure)


def as_body(doc: BodyDoc, sheet: TapeSheet, unit: str) -> Body:
    """A sheet as it stands, whatever is on it."""
    return Body(doc.name, tuple(sheet.measures.items()), tuple(sheet.left.items()), tuple(sheet.right.items()),
                sheet.date, unit, sheet.waist_place)


def state(doc: BodyDoc, sheet: TapeSheet, unit: str, wanted: Sequence[str], today: str) -> dict[str, Any]:
    """What changes on the page while she measures, as plain values."""
    found, body = groups(doc, sheet, unit, wanted), as_body(doc, sheet, unit)
    asked_for = [row.measure.name for g in found if g.key != "rest" for row in g.rows]
    return {
        "guesses": guesses(body, unit), "next": take_next(body, asked_for),
        "rows": {row.measure.name: {"values": row.values, "difference": row.difference}
                 for g in found for row in g.rows},
        "counts": {g.key: count_words(g) for g in found},
        "sheet": say("measure.sheet_of", date=sheet.date, n=len(sheet.measures)),
        "questions": [{"code": q.code, "measures": q.measures, "text": q.text, "key": q.key, "answers": [
            {"words": a.words, "measure": a.measure, "side": a.side, "value": a.value} for a in q.answers]}
            for q in asked(doc, sheet, unit, today)]}


def count_words(group: Group) -> str:
    """How many are there, and which are missing for what."""
    said = say("measure.count", n=group.taken, all=len(group.rows))
    if not group.missing or group.key == "rest":
        return said
    same = group.key == "for_size" and len({row.uses for row in group.missing}) == 1
    names = ", ".join(row.measure.name + ("" if same else f" ({', '.join(row.uses)})") for row in group.missing)
    return f"{said} {say('measure.missing', names=names)}"


def copied(sheet: TapeSheet, today: str) -> dict[str, Any]:
    """A new sheet that starts from an older one, as plain values."""
    return {"date": today, "measures": sheet.measures, "left": sheet.left, "right": sheet.right,
            "waist_place": sheet.waist_place}


def _row(measure: Measure, sheet: TapeSheet, last: TapeSheet | None, unit: str, wanted: Sequence[str]) -> Row:
    values = {side: _shown(measure, rows.get(measure.name), unit)
              for side, rows in (("", sheet.measures), ("left", sheet.left), ("right", sheet.right))}
    was, now = last and _value(last, measure.name), _value(sheet, measure.name)
    uses = [say("measure.use_size")] if measure.name in FOR_SIZE else []
    uses += [name for name in wanted if measure.name in USES.get(name, ())]
    return Row(measure, measure.name.replace(" ", "-"), values, say("measure.degrees") if measure.is_angle else unit,
               "" if was is None else _words(measure, was, unit),
               "" if was is None or now is None else _difference(measure, now - was, unit), tuple(dict.fromkeys(uses)))


def _value(sheet: TapeSheet, name: str) -> float | None:
    known = Body("", tuple(sheet.measures.items()), tuple(sheet.left.items()), tuple(sheet.right.items())).get(name)
    return known.value if known else None


def _shown(measure: Measure, value: float | None, unit: str) -> str:
    """As in the field: without its unit."""
    if value is None:
        return ""
    return f"{value:g}" if measure.is_angle else show_length(value, unit).removesuffix(f" {unit}")


def _words(measure: Measure, value: float, unit: str) -> str:
    return f"{value:g} {say('measure.degrees')}" if measure.is_angle else show_length(value, unit)


def _difference(measure: Measure, value: float, unit: str) -> str:
    words = _words(measure, value, unit)
    if words.startswith("-"):
        return f"−{words[1:]}"
    return say("measure.same") if words.split()[0] in ("0", "0.0") else f"+{words}"
