"""How the measures of a body usually stand to each other."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from toilewright.body.measures import find_measure


@dataclass(frozen=True, slots=True)
class Proportion:
    """One measure as a share of another.

    Attributes:
        measure, of: ISO 8559-1 names.
        low, high: the least and the most that was found, or is thought usual.
        source: where that comes from.
    """

    measure: str
    of: str
    low: float
    high: float
    source: str


@lru_cache(maxsize=1)
def proportions() -> tuple[Proportion, ...]:
    """Every proportion known here."""
    rows = tomllib.loads(Path(__file__).with_name("proportions.toml").read_text(encoding="utf-8"))["proportion"]
    return tuple(Proportion(find_measure(r["measure"]).name, find_measure(r["of"]).name, *r["share"], r["source"])
                 for r in rows)
