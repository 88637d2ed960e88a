"""The bodies of the US Army survey of 1988 as one distribution of the logarithms of the tape measures known here."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from toilewright.body.measures import find_measure, is_measure

WAIST_BETWEEN = 0.015
"""standard deviation of the logarithm by which the waist half-way between rib and hip bone may part from the mean of
the natural one and that at the navel, between which it lies (a guess; the survey has only those two)."""

_RIDGE = 1e-3
"""share added to each variance: correlations are kept in thousandths, and must still belong together."""


@dataclass(frozen=True, slots=True)
class Survey:
    """The measures of one kind of body at one place of the waist.

    Attributes:
        names: the measures, ISO 8559-1 names.
        mean: of the natural logarithm (mm; degrees for an angle).
        covariance: of the logarithms, as the survey took them.
        differs: variance of what a measure taken as here may part from the survey's.
        notes: why it may, by name.
    """

    names: tuple[str, ...]
    mean: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    differs: tuple[float, ...]
    notes: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class _Mix:
    """A logarithm as a weighted sum of columns, and how far it may part from that."""

    weights: tuple[tuple[int, float], ...]
    shift: float
    differs: float


@lru_cache(maxsize=8)
def survey(who: str = "women", waist_place: str = "") -> Survey:
    """The survey's ``women`` or ``men``, with the waist at ``natural``, ``half-way`` or ``navel``; "" when unknown."""
    return survey_of(read_figures(f"survey_{who}.toml"), waist_place)


def survey_of(data: Mapping[str, Any], waist_place: str = "") -> Survey:
    """The same from figures: ``columns``, ``mean`` and ``sd`` of logarithms, ``correlation`` below its diagonal."""
    sds = [float(v) for v in data["sd"]]
    spread = [[sds[i] * sds[j] * value / 1000 for j, value in enumerate(row)] + [sds[i] ** 2 * (1 + _RIDGE)]
              for i, row in enumerate(data["correlation"])]
    names, mixes, notes = [], [], {}
    for row in read_figures("survey_measures.toml")["measure"]:
        if is_measure(row["name"]):
            name = find_measure(row["name"]).name
            names.append(name)
            mixes.append(_mix(row, data, waist_place))
            notes[name] = row.get("note", "")
    mean = tuple(sum(w * data["mean"][i] for i, w in mix.weights) + mix.shift for mix in mixes)
    covariance = tuple(tuple(_shared(spread, a, b) for b in mixes) for a in mixes)
    return Survey(tuple(names), mean, covariance, tuple(mix.differs**2 for mix in mixes), notes)


def _mix(row: Mapping[str, Any], data: Mapping[str, Any], waist_place: str) -> _Mix:
    place = data["columns"].index
    shift, differs = math.log(row.get("times", 1.0)), row.get("differs", 0.0)
    if "column" in row:
        return _Mix(((place(row["column"]), 1.0),), shift, differs)
    if "mix" in row:
        return _Mix(tuple((place(c), w) for c, w in row["mix"].items()), shift, differs)
    natural, navel = place(row["natural"]), place(row["navel"])
    if waist_place in ("natural", "navel"):
        return _Mix(((natural if waist_place == "natural" else navel, 1.0),), shift, differs)
    apart = WAIST_BETWEEN if waist_place else abs(data["mean"][navel] - data["mean"][natural]) / 2
    return _Mix(((natural, 0.5), (navel, 0.5)), shift, math.hypot(differs, apart))


def _shared(spread: list[list[float]], a: _Mix, b: _Mix) -> float:
    return sum(wa * wb * spread[max(i, j)][min(i, j)] for i, wa in a.weights for j, wb in b.weights)


def read_figures(name: str) -> dict[str, Any]:
    """The tables of one of the files of figures that lie beside this module."""
    return tomllib.loads(Path(__file__).with_name(name).read_text(encoding="utf-8"))
