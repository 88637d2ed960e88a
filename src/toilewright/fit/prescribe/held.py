"""Which flat length is held against which measure of the body, and what a pattern was drafted to have beyond it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from toilewright.body.measures import is_measure
from toilewright.fit.flat import flat_of
from toilewright.pattern.garment import Garment
from toilewright.pattern.nest import BodyChart

HELD: dict[str, tuple[str, float]] = {
    "bust": ("bust girth", 1.0), "waist": ("waist girth", 1.0), "high hip": ("high hip girth", 1.0),
    "hip": ("hip girth", 1.0), "upper arm": ("upper arm girth", 1.0), "elbow": ("elbow girth", 1.0),
    "wrist": ("wrist girth", 1.0), "thigh": ("thigh girth", 1.0), "knee": ("knee girth", 1.0),
    "calf": ("calf girth", 1.0),
    "centre back length": ("back neck point to waist", 1.0), "back length": ("neck shoulder point to waist back", 1.0),
    "front length": ("neck shoulder point to waist", 1.0),
    "neck point to bust point": ("neck shoulder point to bust point", 1.0),
    "bust point to centre": ("bust point width", 0.5), "dart point to centre": ("bust point width", 0.5),
    "shoulder front": ("shoulder length", 1.0), "shoulder back": ("shoulder length", 1.0),
    "shoulder slope front": ("shoulder slope", 1.0), "shoulder slope back": ("shoulder slope", 1.0),
    "across chest": ("across front width", 0.5), "across back": ("across back width", 0.5),
    "armhole depth": ("armscye depth", 1.0), "sleeve length": ("arm length", 1.0),
    "waist to hip": ("waist to hip", 1.0), "skirt length": ("waist height", 1.0),
    "crotch depth": ("crotch depth", 1.0), "crotch length": ("total crotch length", 1.0),
    "outside leg": ("waist height", 1.0),
}
"""By flat length, the measure it is held against, and what share of that measure lies on the piece."""


@dataclass(frozen=True, slots=True)
class Drafted:
    """What a size was drafted for.

    Attributes:
        ease: by flat length, what it has beyond the body it was drafted for (mm; degrees for slopes).
        chart: measures of that body, by ISO 8559-1 name (mm; degrees).
    """

    ease: Mapping[str, float] = field(default_factory=dict)
    chart: Mapping[str, float] = field(default_factory=dict)


def drafted_for(garment: Garment, chart: Mapping[str, float]) -> Drafted:
    """What a size was drafted to have beyond the body it was drafted for.

    Args:
        garment: the size as bought.
        chart: measures of the body that the envelope gives for that size (mm).

    >>> from toilewright.blocks.chart import body_of
    >>> from toilewright.blocks.concert import concert_dress
    >>> round(drafted_for(concert_dress().at("4"), body_of("4")).ease["waist"])
    45
    """
    flat = flat_of(garment).lengths
    return Drafted({name: flat[name].value - share * chart[measure]
                    for name, (measure, share) in HELD.items() if measure in chart and name in flat}, chart)


def drafted_size(garment: Garment, chart: BodyChart | None, size: str) -> Drafted:
    """The same for one size of an envelope's chart; empty where it says nothing of that size."""
    if chart is None or size not in chart.sizes:
        return Drafted()
    return drafted_for(garment, {name: value for name, _ in chart.rows if is_measure(name)
                                 and (value := chart.value(name, size)) is not None})
