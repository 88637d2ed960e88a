"""What the page of tissue shows: where the tape runs, what it told so far, what is doubtful, what is lacking."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from toilewright.app.pattern_chart import GIRTHS, ChartRow, ChartTable
from toilewright.app.table import Table
from toilewright.app.words import say
from toilewright.errors import InputError, ToilewrightError
from toilewright.units import show_length
from toilewright.workroom.documents import PatternDoc, TissueSheet
from toilewright.workroom.tissue import halves_waiting, read_tissue, taken_of

_ROOM = (330.0, 400.0)
"""px; of a piece with the tape on it."""


@dataclass(frozen=True, slots=True)
class Row:
    """One length to be taken.

    Attributes:
        weight: ``must``, ``""`` or ``may``.
        pictures: every piece on which the tape runs for it.
        makes: the flat length that it gives.
    """

    number: int
    name: str
    how: str
    weight: str
    makes: str
    pictures: tuple[Markup, ...]

    @property
    def key(self) -> str:
        """The name without spaces, for ids."""
        return re.sub(r"\W+", "-", self.name)

    @property
    def angle(self) -> bool:
        """Is it told in degrees?"""
        return is_angle(self.name)


def is_angle(name: str) -> bool:
    """Is that length told in degrees?"""
    return name.startswith("shoulder slope")


def kinds() -> tuple[str, ...]:
    """Every kind of garment whose tissue can be measured."""
    from toilewright.make.tissue_kinds import KINDS

    return tuple(kind.name for kind in KINDS)


def rows_of(tissue: TissueSheet) -> tuple[tuple[str, tuple[Row, ...]], ...]:
    """The lengths to be taken, piece by piece in their order; each once, where the tape runs first."""
    from toilewright.app.figures import figure_svg
    from toilewright.make.takings import guide_of, takings_on
    from toilewright.make.tissue_kinds import find_kind
    from toilewright.output.tissue_rows import Row as Drawn
    from toilewright.output.tissue_rows import piece_with_tape

    block = find_kind(tissue.garment, "the pattern").block()
    makes = {t.name: t.makes for t in takings_on(block)}
    pages, groups, number = guide_of(block), [], 0
    for page in pages:
        rows = []
        for one in page.rows:
            if any(one.name == row.name for _, before in groups for row in before):
                continue
            number += 1
            drawn = tuple(figure_svg(piece_with_tape(p.piece, [Drawn(number, r.name, r.how, r.run)]),
                                     say("tissue.picture", name=one.name, piece=p.piece.name), _ROOM)
                          for p in pages for r in p.rows if r.name == one.name)
            rows.append(Row(number, one.name, one.how, one.weight, makes[one.name], drawn))
        groups.append((page.piece.name, tuple(rows)))
    return tuple(group for group in groups if group[1])


def shown(name: str, mm: float | None, unit: str) -> str:
    """A length as it stands in its field."""
    if mm is None:
        return ""
    return f"{mm:g}" if is_angle(name) else show_length(mm, unit).rpartition(" ")[0]


def chart_to_fill(tissue: TissueSheet, unit: str) -> ChartTable:
    """The envelope's chart, with empty rows for the girths that it lacks."""
    from toilewright.body.measures import all_measures

    angles = {m.name for m in all_measures() if m.is_angle}
    count = len(tissue.sizes)

    def cells(name: str, values: tuple[float, ...]) -> tuple[str, ...]:
        told = [f"{v:g}" if name in angles else show_length(v, unit).rpartition(" ")[0] for v in values]
        return tuple((told + [""] * count)[:count])

    names = dict.fromkeys((*tissue.chart, *GIRTHS))
    rows = tuple(ChartRow(n, n in angles, cells(n, tissue.chart.get(n, ())), n in tissue.chart) for n in names)
    return ChartTable(tissue.sizes, rows, tuple(m.name for m in all_measures() if m.name not in names), True)


# -- how it stands -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Asked:
    """One question: about which taking ("" for the whole), how grave, and under which key an answer is kept."""

    about: str
    text: str
    kind: str
    key: str = ""


@dataclass(frozen=True, slots=True)
class Standing:
    """How far the tape has come.

    Attributes:
        missing: what is needed before anything can be said, in words.
        waiting: takings that do not count yet, each with those that belong to it.
        asked: what does not fit.
        notes: what the stand-in is, in sentences.
        ready: can everything further on go by it?
    """

    missing: tuple[str, ...]
    waiting: tuple[tuple[str, str], ...]
    asked: tuple[Asked, ...]
    notes: tuple[str, ...]
    ready: bool
    taken: int
    all: int


def standing(table: Table, doc: PatternDoc, unit: str) -> Standing:
    """How far the tape has come, and what does not fit."""
    from toilewright.make.takings import takings_on
    from toilewright.make.tissue_kinds import find_kind

    tissue = doc.tissue
    assert tissue is not None
    takings = takings_on(find_kind(tissue.garment, "the pattern").block())
    told = taken_of(doc.name, tissue, unit)
    good, asked = _in_range(told, takings)
    missing = [w for w, there in ((say("tissue.size_word"), tissue.size), (say("tissue.allowance_word"),
               tissue.allowance is not None)) if not there]
    missing += [t.name for t in takings if t.must and t.name not in tissue.lengths and t.makes not in good]
    if not tissue.lengths and not any(t.must for t in takings):
        missing.append(say("tissue.first_lengths"))
    names = [t.name for t in takings]
    waiting = tuple((t.name, ", ".join(o.name for o in takings if o.makes == t.makes and o.name not in tissue.lengths))
                    for t in halves_waiting(tissue) if not t.must)
    asked += _about_chart(tissue, unit)
    notes: tuple[str, ...] = ()
    ready = False
    if not missing and not any(a.kind == "stop" for a in asked):
        more, notes, ready = _together(table, doc, takings, unit)
        asked += more
    return Standing(tuple(missing), waiting, tuple(asked), notes, ready,
                    sum(n in tissue.lengths for n in names), len(names))


def _in_range(told: Any, takings: Any) -> tuple[set[str], list[Asked]]:
    """Flat lengths that a garment can have, one by one, and what is asked about the others."""
    from dataclasses import replace

    from toilewright.make.flat_sheet import flat_lengths

    good, asked = set(), []
    makes = {t.name: t.makes for t in takings}
    for one in dict.fromkeys(makes.get(n, n) for n in told.lengths):
        part = {n: mm for n, mm in told.lengths.items() if makes.get(n, n) == one}
        try:
            good |= set(flat_lengths(replace(told, lengths=part), say("tissue.sheet")))
        except InputError as problem:
            asked.append(Asked(next(iter(part)), str(problem), "stop"))
    return good, asked


def _together(table: Table, doc: PatternDoc, takings: Any, unit: str) -> tuple[list[Asked], tuple[str, ...], bool]:
    """What is asked about lengths that do not go together, and what is said of the stand-in."""
    tissue = doc.tissue
    assert tissue is not None
    try:
        reading = table.reading_of(doc) if unit == tissue.unit else read_tissue(doc, unit)
    except ToilewrightError as problem:
        return [Asked(_about(str(problem), takings), str(problem), "stop")], (), False
    asked, notes = [], []
    for one in reading.findings:
        about = _about(one.text, takings)
        key = f"{about} {tissue.lengths.get(about, 0.0):.0f}"
        if one.severity == "look" and key not in tissue.sure:
            asked.append(Asked(about, one.text, "look", key))
        else:
            notes.append(one.text)
    return asked, tuple(notes), True


def _about(text: str, takings: Any) -> str:
    """Which taking a sentence is about: the first that it names, or whose flat length it names."""
    quoted = re.findall(r'"([^"]+)"', text)
    return next((t.name for name in quoted for t in takings if name in (t.name, t.makes)), "")


def _about_chart(tissue: TissueSheet, unit: str) -> list[Asked]:
    from toilewright.body.measures import find_measure

    if not tissue.chart:
        return []
    if tissue.size not in tissue.sizes:
        return [Asked("", say("tissue.size_not_in_chart", size=tissue.size or "?", sizes=", ".join(tissue.sizes)),
                      "look")]
    asked = []
    for name, values in tissue.chart.items():
        measure = find_measure(name, say("tissue.sheet"))
        if len(values) != len(tissue.sizes):
            asked.append(Asked("", say("tissue.chart_row_short", name=name, n=len(values), sizes=len(tissue.sizes)),
                               "look"))
        elif odd := next((v for v in values if not measure.low <= v <= measure.high), None):
            asked.append(Asked("", say("tissue.chart_odd", name=name, value=show_length(odd, unit)), "stop"))
    return asked


def covers(table: Table, make_id: str, unit: str) -> tuple[Any, ...]:
    """Whether a wrap covers the body of a make standing, sitting and stepping; nothing where that cannot be told."""
    from toilewright.make.covering import wrap_findings

    try:
        sized = table.sized(make_id, unit=unit)
    except ToilewrightError:
        return ()
    return wrap_findings(sized.before, sized.body, unit)
