"""One cause of one observation: can the pattern take its alteration, and how much of it would cure what was seen?

How far two careful pinnings differ, how much surer one cause of two signs is, how far a first try may be off: all
numbers here are our own judgement, and are called so wherever they are shown.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import exp, hypot, inf

from toilewright.body.tape import Body
from toilewright.errors import AlterationError, GeometryError, InputError
from toilewright.fit.alterations import ALTERATIONS
from toilewright.fit.alterations.kinds import Alteration
from toilewright.fit.amounts import auto_amount
from toilewright.fit.toile.observations import Cause, Observation, find_sign
from toilewright.known import Known, Origin
from toilewright.pattern.garment import Garment
from toilewright.units import show_length

PINNED = 4.0
"""mm; how far two careful pinnings of one fold differ (judgement, our own choice)."""

GUESSED = 0.6
"""Of the amount; how far a first try may be off where nothing was measured (judgement, our own choice)."""

FIT_NOISE = 8.0
"""mm; how far a figure may differ from what a tape tells about it (judgement, our own choice)."""

STRONGEST = 3.0
"""times; the most by which the tape sheet may speak for a cause (judgement, our own choice)."""

WEAKEST = 1 / 2
"""times; the most by which it may speak against one: the toile has been seen, the tape only read, and causes that no
tape can tell must not win by that alone (judgement, our own choice)."""

Key = tuple[str, tuple[tuple[str, str], ...], int]
"""An alteration, its options, and the way it goes: two causes of one key are one alteration."""


@dataclass(frozen=True)
class Candidate:
    """A cause of one observation that this pattern can take.

    Attributes:
        at: number of the observation in the row.
        amount: what it would take (mm, signed as the alteration says).
        measured: was the amount measured on the toile, or is it a first try?
    """

    at: int
    cause: Cause
    kind: Alteration
    options: tuple[tuple[str, str], ...]
    amount: Known
    measured: bool

    @property
    def key(self) -> Key:
        """What it has in common with the causes of other observations."""
        return self.kind.name, self.options, self.cause.sign


def candidates(at: int, seen: Observation, garment: Garment, unit: str) -> tuple[Candidate, ...]:
    """The causes of one observation that this pattern has the pieces for."""
    found = (_first_placed(at, seen, (cause, *cause.otherwise), garment, unit) for cause in find_sign(seen.sign).causes)
    return tuple(c for c in found if c is not None)


def _first_placed(at: int, seen: Observation, ways: Iterable[Cause], garment: Garment, unit: str) -> Candidate | None:
    """The first of several that this pattern can take."""
    found = (_candidate(at, seen, cause, unit) for cause in ways)
    return next((c for c in found if c is not None and _takes(garment, c)), None)


def _takes(garment: Garment, one: Candidate) -> bool:
    """Are the pieces there, and the place on them too where the cause names one?"""
    if not one.kind.has_place(garment, dict(one.options)):
        return False
    if not one.cause.options:
        return True
    try:
        # Only the alteration itself knows its places: a millimetre of it is made to see.
        one.kind.apply(garment, float(one.cause.sign), dict(one.cause.options))
    except (AlterationError, GeometryError):
        return False
    return True


def _candidate(at: int, seen: Observation, cause: Cause, unit: str) -> Candidate | None:
    kind = next((one for one in ALTERATIONS if one.name == cause.alteration), None)
    if kind is None or (cause.one_side and seen.side == "both"):
        return None
    side = {"side": seen.side} if seen.side != "both" else {}
    options = tuple(sorted({**cause.options, **side}.items()))
    measured = seen.amount is not None and not cause.unmeasured
    return Candidate(at, cause, kind, options, _amount(seen, cause, kind, measured, unit), measured)


def _amount(seen: Observation, cause: Cause, kind: Alteration, measured: bool, unit: str) -> Known:
    """What one cause would take, as said by one observation."""
    if not measured:
        value = cause.first
        return Known(value, Origin.TRADE, abs(value) * GUESSED,
                     f"{show_length(abs(value), unit)} is a first try (our own choice).")
    share = _share(seen, cause, kind)
    value = share * cause.per * (seen.amount or 0.0)
    least, most = kind.sane
    kept = min(max(value, min(least, 0.0)), max(most, 0.0))
    words = f"You saw: {seen.say(unit)}; {cause.why}."
    return Known(kept, Origin.TOILE, hypot(PINNED * abs(share * cause.per), cause.spread * kept), words)


def usual_most(one: Candidate) -> float | None:
    """The most that is usual of its alteration, where what was measured asks for more and is cut off there (mm)."""
    least, most = one.kind.sane
    at_end = one.amount.value in (most, least) and one.measured
    return abs(one.amount.value) if at_end else None


def _share(seen: Observation, cause: Cause, kind: Alteration) -> float:
    """How much of what was measured one amount of the alteration stands for."""
    return 0.5 if cause.halved and seen.side == "both" and not kind.whole_girth else 1.0


def combined(parts: Iterable[Candidate]) -> Known:
    """One amount from several observations of one alteration: each counts by how sure it is (weighted mean).

    First tries count only where nothing was measured.
    """
    row = list(parts)
    row = [c for c in row if c.measured] or row
    weights = [1.0 / (c.amount.spread or PINNED) ** 2 for c in row]
    value = sum(w * c.amount.value for w, c in zip(weights, row, strict=True)) / sum(weights)
    # Observations that disagree make it less sure.
    scatter = (sum(w * (c.amount.value - value) ** 2 for w, c in zip(weights, row, strict=True)) / sum(weights)) ** 0.5
    return Known(value, row[0].amount.origin, hypot(sum(weights) ** -0.5, scatter),
                 " ".join(dict.fromkeys(c.amount.reason for c in row)))


def tape_says(name: str, options: Iterable[tuple[str, str]], garment: Garment, body: Body) -> Known | None:
    """What the tape sheet asks of that alteration, or None where it cannot tell."""
    try:
        return auto_amount(name, garment, body, options={k: v for k, v in options if k != "side"})
    except (AlterationError, GeometryError, InputError):
        return None


def odds_from_tape(amount: Known, tape: Known | None) -> float:
    """How many times likelier a cause becomes by what the tape says: 1 where it cannot tell.

    The tape's amount is compared with what this cause would make it, and with nothing at all (a ratio of two normal
    densities), and kept between :data:`WEAKEST` and :data:`STRONGEST`.

    >>> odds_from_tape(Known(15, Origin.TOILE, 4), Known(16, Origin.MEASURED, 5)) > 2
    True
    """
    if tape is None:
        return 1.0
    wide = FIT_NOISE**2 + (tape.spread or 0.0) ** 2 + (amount.spread or 0.0) ** 2
    log = (tape.value**2 - (tape.value - amount.value) ** 2) / (2 * wide)
    factor = exp(log) if abs(log) < 50 else (inf if log > 0 else 0.0)
    return min(max(factor, WEAKEST), STRONGEST)
