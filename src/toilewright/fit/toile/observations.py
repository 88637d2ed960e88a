"""What a toile can show, each sign in the trade's words with what it may come from (read from ``signs.toml``)."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from toilewright.errors import InputError, NameUnknown
from toilewright.units import show_length

SIDES = ("both", "left", "right")

FARTHEST = 200.0
"""mm; a toile that is farther off than this was cut from another pattern (our own choice)."""

_TOLD = {"distance": "by {}", "pinch": "pinched by {}", "opening": "opened by {}"}


@dataclass(frozen=True, slots=True)
class Cause:
    """An alteration that would cure what was seen.

    Attributes:
        per: mm of the alteration for each mm measured, signed as the alteration says.
        first: mm to try where nothing was measured (judgement, our own choice).
        share: how often it is the cause (judgement, our own choice).
        spread: how far the rule may be off, as a part of the amount (judgement, our own choice).
        why: the rule, as the end of a sentence.
        look: what she would also see, were this the cause.
        halved: what was measured lies across both halves, and each half gets half of it.
        unmeasured: the measure taken on this sign says nothing about the amount.
        one_side: it is made on one side of her alone.
        otherwise: what serves in its place on a pattern that cannot take it.
        source: whose rule it is.
    """

    alteration: str
    per: float
    first: float
    share: float
    why: str
    look: str
    spread: float = 0.3
    options: Mapping[str, str] = field(default_factory=dict)
    halved: bool = False
    unmeasured: bool = False
    one_side: bool = False
    otherwise: tuple[Cause, ...] = ()
    source: str = "common practice, no published source"

    @property
    def sign(self) -> int:
        """The way its alteration goes: 1 or -1."""
        return 1 if self.per > 0 else -1


@dataclass(frozen=True, slots=True)
class Sign:
    """Something that a toile can show.

    Attributes:
        name: how the trade says it, e.g. ``dart ends below the bust point``.
        sayings: other words for it.
        group: the room of the trade it belongs to.
        takes: ``distance``, ``pinch`` or ``opening``, whichever can be measured on it; "" for nothing.
        how: where that is taken.
        sided: may it differ on her left and right?
        may: words that may be said besides.
    """

    name: str
    sayings: tuple[str, ...]
    group: str
    takes: str
    how: str
    sided: bool
    may: tuple[str, ...]
    causes: tuple[Cause, ...]

    @property
    def something_else(self) -> float:
        """The share that its causes leave to what the table does not know."""
        return 1.0 - sum(cause.share for cause in self.causes)


@dataclass(frozen=True, slots=True)
class Observation:
    """One thing seen on a toile.

    Attributes:
        sign: name of a :class:`Sign`.
        amount: the distance, pinch or opening (mm), or None when it was not measured.
        side: ``both``, ``left`` or ``right``.

    Raises:
        NameUnknown: there is no such sign.
        InputError: the sign takes no measure or has no sides, or the amount is none that a toile shows.
    """

    sign: str
    amount: float | None = None
    side: str = "both"

    def __post_init__(self) -> None:
        sign = find_sign(self.sign)
        if self.side not in SIDES:
            raise InputError(f'"{self.side}" is no side of a body; say "left", "right" or "both".')
        if self.side != "both" and not sign.sided:
            raise InputError(f'"{sign.name}" is seen at the middle or on both sides alike; leave out "{self.side}".')
        if self.amount is None:
            return
        if not sign.takes:
            raise InputError(f'"{sign.name}" takes no measure; say it without one.')
        if not 0 < self.amount <= FARTHEST:
            raise InputError(f'"{sign.name}" {told(sign.takes, self.amount)} is no amount that a toile shows; it lies '
                             f"between nothing and {show_length(FARTHEST)}.")

    def say(self, unit: str = "cm") -> str:
        """The observation in the trade's words, in her unit.

        >>> Observation("dart ends below the bust point", 20.0).say()
        'dart ends below the bust point by 2.0 cm'
        """
        words = self.sign if self.side == "both" else f"{self.sign} on the {self.side}"
        if self.amount is None:
            return words
        takes = find_sign(self.sign).takes
        return f"{words}{'' if takes == 'distance' else ','} {told(takes, self.amount, unit)}"


def told(takes: str, mm: float, unit: str = "cm") -> str:
    """A measure in words: ``pinched by 1.5 cm``."""
    return _TOLD[takes].format(show_length(mm, unit))


@lru_cache(maxsize=1)
def all_signs() -> tuple[Sign, ...]:
    """Every sign, room by room."""
    sheet = tomllib.loads(Path(__file__).with_name("signs.toml").read_text(encoding="utf-8"))
    return tuple(_sign(row, sheet["ways"]) for row in sheet["sign"])


def find_sign(name: str) -> Sign:
    """The sign of that name.

    Raises:
        NameUnknown: there is none (the nearest is offered).
    """
    for sign in all_signs():
        if sign.name == name:
            return sign
    raise NameUnknown.among("sign of a toile", name, [s.name for s in all_signs()])


def _sign(row: Mapping[str, Any], ways: Mapping[str, Mapping[str, float]]) -> Sign:
    name, *others = row["say"]
    return Sign(name, tuple(others), row["group"], row["takes"], row.get("how", ""), row.get("sided", False),
                tuple(row.get("may", ())), tuple(_cause(c, ways) for c in row["causes"]))


def _cause(row: Mapping[str, Any], ways: Mapping[str, Mapping[str, float]]) -> Cause:
    """A cause, its amounts signed by the way it goes."""
    sign = ways[row["alteration"]][row["when"]] if "when" in row else 1
    plain = {key: value for key, value in row.items() if key not in ("when", "otherwise")}
    others = tuple(_cause({**plain, **other}, ways) for other in row.get("otherwise", ()))
    return Cause(**{**plain, "per": sign * row["per"], "first": sign * row["first"]}, otherwise=others)
