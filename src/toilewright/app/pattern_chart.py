"""The envelope's body chart as a table to be typed into."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.make.reading import Reading
from toilewright.units import show_length

GIRTHS = ("bust girth", "waist girth", "hip girth")
"""Rows without which no size can be chosen; they stand there to be filled in."""


@dataclass(frozen=True, slots=True)
class ChartRow:
    """One measure: its values as shown, one for each size; `known` when the chart has it."""

    name: str
    angle: bool
    shown: tuple[str, ...]
    known: bool


@dataclass(frozen=True, slots=True)
class ChartTable:
    """The whole table; `others` are measures that could be added."""

    sizes: tuple[str, ...]
    rows: tuple[ChartRow, ...]
    others: tuple[str, ...]
    known: bool


def chart_table(reading: Reading, unit: str) -> ChartTable:
    """The chart in her unit, with empty rows for the girths that it lacks."""
    from toilewright.body.measures import all_measures

    pattern = reading.pattern
    have = dict(pattern.chart.rows) if pattern.chart else {}
    angles = {m.name for m in all_measures() if m.is_angle}
    rows = [ChartRow(name, name in angles, tuple(_shown(v, unit, name in angles) for v in values), True)
            for name, values in have.items()]
    rows += [ChartRow(name, False, ("",) * len(pattern.sizes), False) for name in GIRTHS if name not in have]
    there = {row.name for row in rows}
    others = tuple(m.name for m in all_measures() if m.name not in there)
    return ChartTable(pattern.sizes, tuple(rows), others, bool(have))


def _shown(value: float, unit: str, angle: bool) -> str:
    return f"{value:g}" if angle else show_length(value, unit).rpartition(" ")[0]
