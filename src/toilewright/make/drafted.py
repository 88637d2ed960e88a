"""What the chosen size of a pattern was drafted for, as far as its chart tells."""

from __future__ import annotations

from collections.abc import Sequence

from toilewright.fit.chart_size import drafted_cup
from toilewright.fit.handbook import RULES
from toilewright.fit.prescribe import HELD, Drafted, drafted_size
from toilewright.pattern.nest import Pattern

HIP_LENGTHS = ("hip", "waist to hip", "skirt length", "crotch depth", "outside leg")
"""Flat lengths that follow the size chosen for the hip."""

Sizes = tuple[tuple[str, str], ...]
"""(place, size name); one row ("all", size) for a straight size."""


def cup_of(pattern: Pattern, sizes: Sizes) -> float:
    """Full minus upper bust for which the chosen size is drafted (mm)."""
    return drafted_cup(pattern.chart, _size(sizes, "bust"))


def drafted_of(pattern: Pattern, sizes: Sizes) -> Drafted:
    """What the chosen size was drafted for; of a blend place by place.

    Of girths for which the handbooks say how much ease is enough, nothing is kept: there the handbooks are asked, as
    they are when the size is chosen.
    """
    by_size = {size: drafted_size(pattern.at(size), pattern.chart, size) for size in {s for _, s in sizes}}
    bust, hip = (by_size[_size(sizes, place)] for place in ("bust", "hip"))
    ease, chart = dict(bust.ease), dict(bust.chart)
    measures = [HELD[name][0] for name in HIP_LENGTHS]
    ease |= {name: hip.ease[name] for name in HIP_LENGTHS if name in hip.ease}
    chart |= {name: hip.chart[name] for name in measures if name in hip.chart}
    waist = by_size[_size(sizes, "waist")].chart.get("waist girth")
    if waist is not None:
        chart["waist girth"] = waist
    return Drafted({name: value for name, value in ease.items() if name not in RULES}, chart)


def _size(sizes: Sequence[tuple[str, str]], place: str) -> str:
    chosen = dict(sizes)
    return chosen.get(place) or next(iter(chosen.values()))
