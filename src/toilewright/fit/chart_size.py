"""The envelope's body chart: which size is nearest to a measure."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import dataclass

from toilewright.body.tape import Body
from toilewright.fit.handbook import DRAFTED_CUP
from toilewright.pattern.nest import BodyChart


@dataclass(frozen=True, slots=True)
class MeasureSize:
    """The size of the chart that one measure is nearest to: body minus chart there is `off` mm."""

    place: str
    measure: str
    body: float
    size: str
    off: float


def nearest_size(chart: BodyChart, measure: str, value: float, among: Container[str] | None = None) -> str | None:
    """The size whose value is nearest (mm); half-way the larger; None when the chart has no such row.

    The chart is entered row by row: its steps need not be even.

    Args:
        among: only these sizes (a file need not hold every size of its envelope's chart); None when none of them is
            on the chart.
    """
    row = chart.row(measure)
    able = [i for i, size in enumerate(chart.sizes) if among is None or size in among]
    if row is None or not able:
        return None
    best = min(able, key=lambda i: (round(abs(row[i] - value), 6), -i))
    return chart.sizes[best]


def by_measure(chart: BodyChart | None, body: Body) -> tuple[MeasureSize, ...]:
    """The nearest size for each measure that both chart and tape sheet have."""
    out = []
    for place, measure in (("bust", "bust girth"), ("bust", "upper bust girth"), ("waist", "waist girth"),
                           ("hip", "hip girth"), ("upper arm", "upper arm girth")):
        taken = body.get(measure)
        size = nearest_size(chart, measure, taken.value) if chart and taken else None
        if chart and taken and size is not None:
            off = taken.value - (chart.value(measure, size) or 0.0)
            out.append(MeasureSize(place, measure, taken.value, size, off))
    return tuple(out)


def drafted_cup(chart: BodyChart | None, size: str) -> float:
    """Full minus upper bust for which a size is drafted (mm): by the chart, else 2 in.

    >>> drafted_cup(None, "4")
    50.8
    """
    full, upper = (chart.value(m, size) if chart else None for m in ("bust girth", "upper bust girth"))
    return full - upper if full is not None and upper is not None else DRAFTED_CUP
