"""A number together with where it comes from and how sure it is."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Origin(StrEnum):
    """Where a number comes from."""

    MEASURED = "measured"
    ESTIMATED = "estimated"
    READ = "read off the pattern"
    HANDBOOK = "rule of a handbook"
    TRADE = "common practice"
    ASKED = "asked for"
    TOILE = "seen on the toile"


@dataclass(frozen=True, slots=True)
class Known:
    """A length or amount in mm, its origin, its likely error and one sentence of reason.

    Attributes:
        value: mm.
        origin: where it comes from.
        spread: half the width of its 90 % interval, or of the tape's allowed error (mm); None when exact.
        reason: one sentence in the dressmaker's words.
    """

    value: float
    origin: Origin
    spread: float | None = None
    reason: str = ""


def asked(value: float) -> Known:
    """An amount that somebody asked for (mm)."""
    return Known(value, Origin.ASKED, None, "The amount was asked for.")
