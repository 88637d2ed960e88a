"""A stand-in for tissue that was only measured: our block of its kind, drafted to the flat lengths that were taken.

The draft's measures are moved until the block, laid flat, reads as the tape did (Broyden's rule). They are the draft's,
not a body's: a bust girth here is whatever gives the tissue's width. What nobody took is as our own chart has it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot

from toilewright.blocks.chart import WHOLE_CHART
from toilewright.errors import GeometryError, InputError
from toilewright.fit.flat import flat_of
from toilewright.fit.flat.laid import TOLD_FROM_DART
from toilewright.fit.prescribe.settling import learnt
from toilewright.known import Known
from toilewright.make.flat_sheet import FlatSheet
from toilewright.make.tissue_kinds import Driver, Kind, start_of
from toilewright.pattern.garment import Garment
from toilewright.units import show_length

CLOSE = 0.02
"""mm; nearer than this the stand-in is what the tape said (a tape is a hundred times worse)."""

_ROUNDS = 40

_FOLLOW = (("back neck point to waist", "neck shoulder point to waist back", "back length"),
           ("back neck point to waist", "neck shoulder point to waist", "front length"))
"""A measure, one that grows with it, and the flat length by which the second would be known by itself."""


_TOLD_BY = {"neck point to bust point": "neck point to dart point", "bust point to centre": "dart point to centre"}
"""Flat lengths to the bust point, and those to the point of the dart that tell them."""

LONG_SLEEVE = 450.0
"""mm; a sleeve longer than this goes well beyond the elbow."""

FAR = 60.0
"""mm; a length farther than this from what the others make it is a slip of the pen."""


@dataclass(frozen=True)
class StandIn:
    """The block drafted to the lengths.

    Attributes:
        garment: with the flat lengths that were taken, and how sure each is; others are not read off it.
        values: measures and shape of the draft.
        at: where it lies among the sizes of our own chart, counted from 0.
        apart: flat lengths in which the tissue is shaped otherwise than our block, with the difference (mm); they are
            counted as taken.
        untaken: measures of the draft that nobody told.
        by_chart: those of them that came from the envelope's chart.
    """

    garment: Garment
    values: Mapping[str, float]
    at: float
    apart: Mapping[str, float]
    untaken: tuple[str, ...]
    by_chart: tuple[str, ...]


def stand_in(sheet: FlatSheet) -> StandIn:
    """Our block with the flat lengths of a flat sheet.

    Raises:
        InputError: the lengths do not go together.
    """
    kind, taken = sheet.kind, sheet.lengths
    drivers = _active(kind, taken)
    at = _place_in_chart(kind, taken)
    moved = {m for d in drivers for m in d.moves}
    told = _of_chart(sheet, moved)
    values = _Asked(_solved(sheet, drivers, {**start_of(at), **told}))
    garment = kind.draft(values, _pieces_for(sheet))
    flat = flat_of(garment).lengths
    sure = tuple((n, k.value - flat[n].value, k.spread or 0.0) for n, k in taken.items() if n in flat)
    apart = {n: more for n, more, error in sure if abs(more) > max(error, CLOSE)}
    _check(sheet, apart)
    seen = {m for d in kind.drivers for m in d.moves}
    untaken = tuple(m for m, _ in WHOLE_CHART.rows if m in seen & values.for_ and m not in moved)
    return StandIn(replace(garment, taken=(*sure, *_told(sure))), dict(values), at, apart, untaken,
                   tuple(m for m in told if m in untaken))


def _told(sure: Sequence[tuple[str, float, float]]) -> Iterator[tuple[str, float, float]]:
    """What the point of the bust dart tells of the bust point."""
    known = {n: (more, error) for n, more, error in sure}
    for name, by in _TOLD_BY.items():
        if name not in known and by in known:
            yield name, known[by][0], hypot(known[by][1], TOLD_FROM_DART)


def _check(sheet: FlatSheet, apart: Mapping[str, float]) -> None:
    name = max(apart, key=lambda n: abs(apart[n]), default="")
    if name and abs(apart[name]) > FAR:
        was, would = (show_length(sheet.lengths[name].value - by, sheet.unit) for by in (0.0, apart[name]))
        raise InputError(f'The lengths of "{sheet.name}" do not go together: with the others as taken, "{name}" cannot '
                         f"be {was} (about {would} would go with them); lay the tape again there, or leave it out.")


def graded(sheet: FlatSheet, found: StandIn, size: str) -> Garment:
    """The stand-in in another size of the envelope's chart: moved on by the chart's steps, where it has none by ours.

    Raises:
        GeometryError: no block of that size can be drawn.
    """
    chart, (_, measure) = sheet.chart, sheet.kind.key
    if chart is None or size == sheet.size:
        return found.garment
    ours = _our_step(sheet, found, size, measure)
    theirs = {n: row[chart.sizes.index(size)] - row[chart.sizes.index(sheet.size)] for n, row in chart.rows}
    values = {n: v + theirs.get(n, ours.get(n, 0.0)) for n, v in found.values.items()}
    return replace(sheet.kind.draft(values, _pieces_for(sheet)), taken=found.garment.taken)


def _our_step(sheet: FlatSheet, found: StandIn, size: str, measure: str) -> dict[str, float]:
    """What the measures of our own chart grow by as far as the envelope's chart grows at its first girth."""
    chart = sheet.chart
    row = chart and (chart.row(measure) or next(iter(dict(chart.rows).values()), None))
    name = measure if chart and chart.row(measure) else next(iter(dict(chart.rows)), "") if chart else ""
    ours = dict(WHOLE_CHART.rows).get(name)
    if chart is None or row is None or ours is None:
        return {}
    by = row[chart.sizes.index(size)] - row[chart.sizes.index(sheet.size)]
    here = start_of(found.at)
    there = start_of(_at(name, here[name] + by))
    return {n: there[n] - here[n] for n in here}


class _Asked(dict[str, float]):
    """Values that note which of them a draft asks for."""

    def __init__(self, values: Mapping[str, float]) -> None:
        super().__init__(values)
        self.for_: set[str] = set()

    def __getitem__(self, name: str) -> float:
        self.for_.add(name)
        return super().__getitem__(name)


def _pieces_for(sheet: FlatSheet) -> set[str]:
    """Flat lengths that decide the pieces: a sleeve that goes beyond the elbow is a long one, wrist taken or not."""
    sleeve = sheet.lengths.get("sleeve length")
    return set(sheet.lengths) | ({"wrist"} if sleeve and sleeve.value > LONG_SLEEVE else set())


# -- which measure moves which length ----------------------------------------------------------------


def _active(kind: Kind, taken: Mapping[str, Known]) -> list[Driver]:
    """The drivers for the lengths that were taken, each with what follows its measure."""
    drivers: list[Driver] = []
    for one in kind.drivers:
        moves = set(one.moves) & {m for d in drivers for m in d.moves}
        if moves or not all(n in taken for n in one.flat) or any(n in taken for n in one.instead):
            continue
        more = tuple(second for first, second, known in _FOLLOW if first in one.moves and known not in taken)
        drivers.append(replace(one, moves=(*one.moves, *more)))
    return drivers


def _place_in_chart(kind: Kind, taken: Mapping[str, Known]) -> float:
    """Where among the sizes of our chart the garment lies, by its key length."""
    flat, measure = kind.key
    found = taken.get(flat)
    if found is None:
        return 4.0
    block = flat_of(kind.block()).lengths[flat].value - start_of(4.0)[measure]
    return _at(measure, found.value - block)


def _at(measure: str, value: float) -> float:
    """The place of a value among the sizes of our chart, counted from 0; straight on beyond its ends."""
    row = dict(WHOLE_CHART.rows)[measure]
    low = min(max(sum(v <= value for v in row) - 1, 0), len(row) - 2)
    return min(max(low + (value - row[low]) / (row[low + 1] - row[low]), -2.0), len(row) + 3.0)


def _of_chart(sheet: FlatSheet, moved: set[str]) -> dict[str, float]:
    """Measures of the envelope's chart at the size on the tissue, for what nobody took."""
    if sheet.chart is None:
        return {}
    at = sheet.chart.sizes.index(sheet.size)
    ours = dict(WHOLE_CHART.rows)
    return {n: row[at] for n, row in sheet.chart.rows if n in ours and n not in moved}


# -- moving them until the lengths are right ---------------------------------------------------------


def _solved(sheet: FlatSheet, drivers: Sequence[Driver], start: dict[str, float]) -> dict[str, float]:
    """The draft's values that give every driven length; a length that our block cannot be given is let go."""
    left = list(drivers)
    while True:
        values, off = _settled(sheet, left, start)
        if max(map(abs, off), default=0.0) < CLOSE:
            return values
        del left[max(range(len(off)), key=lambda i: abs(off[i]))]


def _settled(sheet: FlatSheet, drivers: Sequence[Driver],
             start: dict[str, float]) -> tuple[dict[str, float], list[float]]:
    """The draft's values, and how far each driven length is off then (Broyden's good rule from a diagonal start)."""
    goals = [sum(sheet.lengths[n].value for n in d.flat) for d in drivers]
    by = [0.0] * len(drivers)
    values, off = _tried(sheet, drivers, start, by, goals)
    inverse = [[(1.0 / d.slope if i == j else 0.0) for j in range(len(drivers))] for i, d in enumerate(drivers)]
    for _ in range(_ROUNDS):
        step = [-sum(a * b for a, b in zip(row, off, strict=True)) for row in inverse]
        if max(map(abs, off), default=0.0) < CLOSE:
            break
        for share in (1.0, 0.5, 0.25, 0.1):
            try:
                there = [b + share * s for b, s in zip(by, step, strict=True)]
                values, new = _tried(sheet, drivers, start, there, goals)
            except (GeometryError, ZeroDivisionError, KeyError):
                continue
            break
        else:
            break
        inverse = learnt(inverse, [t - b for t, b in zip(there, by, strict=True)],
                         [n - o for n, o in zip(new, off, strict=True)])
        by, off = there, new
    return values, off


def _tried(sheet: FlatSheet, drivers: Sequence[Driver], start: Mapping[str, float], by: Sequence[float],
           goals: Sequence[float]) -> tuple[dict[str, float], list[float]]:
    values = dict(start)
    for driver, amount in zip(drivers, by, strict=True):
        for name in driver.moves:
            values[name] += amount
    flat = flat_of(sheet.kind.draft(values, _pieces_for(sheet))).lengths
    return values, [sum(flat[n].value for n in d.flat) - goal for d, goal in zip(drivers, goals, strict=True)]
