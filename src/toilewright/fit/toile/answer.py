"""What she saw on the toile, answered with the alterations to try.

Each reading is one alteration with its amount, how likely it is, why, and what would tell it from its rivals. Several
observations are weighed together: no fold is corrected twice, and one alteration may cure several signs.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from toilewright.body.tape import Body
from toilewright.errors import AlterationError, GeometryError, InputError
from toilewright.fit.alterations import ALTERATIONS, made_alone
from toilewright.fit.alterations.kinds import Alteration
from toilewright.fit.result import Order
from toilewright.fit.toile.causes import Candidate, Key, candidates, combined, odds_from_tape, tape_says, usual_most
from toilewright.fit.toile.observations import Observation, find_sign
from toilewright.fit.toile.weigh import Weighed, weigh
from toilewright.known import Known
from toilewright.pattern.garment import Garment
from toilewright.tolerance import WORTH_DOING
from toilewright.units import show_length

LEAST_LIKELY = 0.02
"""A cause less likely than this is not shown (our own choice)."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One alteration that may cure what was seen.

    Attributes:
        alteration: its own name.
        amount: mm, signed as the alteration says, with spread and reason.
        likelihood: 0 to 1; the readings of one observation leave something for what the table does not know.
        reason: why, in a sentence or two.
        tells_apart: the one thing to look at or to pin that would tell it from its rivals; "" when it has none.
        options: the alteration's further words, ``side`` among them where the sides differ.
        explains: numbers of the observations that it would cure, from 0.
        first: is it among the likeliest set, in which each observation has one cause?
        called: what she calls it when it goes this way, e.g. ``raise bust dart``.
        worth_doing: is it more than cloth, tape and hand can show?
    """

    alteration: str
    amount: Known
    likelihood: float
    reason: str
    tells_apart: str = ""
    options: Mapping[str, str] = field(default_factory=dict)
    explains: tuple[int, ...] = ()
    first: bool = False
    called: str = ""
    worth_doing: bool = True


def answer(observations: Sequence[Observation], garment: Garment, body: Body) -> tuple[Reading, ...]:
    """The alterations to try, the likeliest first.

    Args:
        observations: what was seen on one toile.
        garment: the pattern that the toile was sewn from, its alterations made.
        body: whose toile it is; her tape measures speak for or against each cause.

    Raises:
        InputError: nothing was seen, one thing twice, or nothing that this pattern has pieces for.
    """
    _check(observations)
    rows = [candidates(at, seen, garment, body.unit) for at, seen in enumerate(observations)]
    if not any(rows):
        raise InputError(f'None of the alterations that would cure "{observations[0].sign}" has a place on this '
                         f"pattern; {way_out(observations[0]) or LOOK_THROUGH}.")
    by_key: dict[Key, list[Candidate]] = {}
    for one in (c for row in rows for c in row):
        by_key.setdefault(one.key, []).append(one)
    tape = {key: tape_says(key[0], key[1], garment, body) for key in by_key}
    odds = {key: odds_from_tape(combined(parts), tape[key]) for key, parts in by_key.items()}
    weighed = weigh(rows, [find_sign(seen.sign).something_else for seen in observations], odds)
    readings = [_reading(key, parts, weighed, tape[key], observations, by_key, body.unit)
                for key, parts in by_key.items() if weighed.likelihood.get(key, 0.0) >= LEAST_LIKELY]
    return tuple(sorted(readings, key=lambda r: (-r.likelihood, r.alteration)))


LOOK_THROUGH = "it may be the names of its pieces: look them through in the labels file"


def way_out(seen: Observation) -> str:
    """What serves where no alteration of a pattern would cure a sign, as the end of a sentence; "" when nobody says."""
    usual = find_sign(seen.sign).causes[0].alteration
    return next((one.instead for one in ALTERATIONS if one.name == usual), "")


def stopped(reading: Reading, garment: Garment) -> str:
    """What stops a reading from being made on these pieces, in one sentence; "" when nothing does."""
    try:
        made_alone(garment, Order(reading.alteration, reading.amount, dict(reading.options)))
    except (AlterationError, GeometryError, InputError) as problem:
        return str(problem)
    return ""


def unanswered(observations: Sequence[Observation], garment: Garment) -> tuple[int, ...]:
    """Numbers of the observations that no alteration of this pattern would cure."""
    return tuple(at for at, seen in enumerate(observations) if not candidates(at, seen, garment, "cm"))


def chosen(readings: Sequence[Reading], numbers: Sequence[int]) -> tuple[Reading, ...]:
    """The readings of these numbers (from 1, as they are shown), to be made.

    Raises:
        InputError: there is no such reading.
        AlterationError: two of them would correct one fold twice.
    """
    for number in numbers:
        if not 1 <= number <= len(readings):
            raise InputError(f"There is no reading number {number}; they are numbered 1 to {len(readings)}.")
    row = tuple(readings[n - 1] for n in dict.fromkeys(numbers))
    for i, one in enumerate(row):
        for other in row[i + 1:]:
            if set(one.explains) & set(other.explains):
                raise AlterationError(f'"{one.alteration}" and "{other.alteration}" would correct the same thing '
                                      f"twice; take one of them. {one.tells_apart}".strip())
    return row


def _check(observations: Sequence[Observation]) -> None:
    if not observations:
        raise InputError('Nothing was seen, so there is nothing to answer; say what the toile shows, such as "dart '
                         'ends 2 cm below the bust point".')
    said = [(seen.sign, seen.side) for seen in observations]
    twice = next((sign for i, (sign, side) in enumerate(said) if (sign, side) in said[:i]), None)
    if twice:
        raise InputError(f'"{twice}" was said twice; keep the one whose length is right.')


def _reading(key: Key, parts: Sequence[Candidate], weighed: Weighed, tape: Known | None,
             observations: Sequence[Observation], by_key: Mapping[Key, Sequence[Candidate]], unit: str) -> Reading:
    chosen_here = [c for c in weighed.best.chosen if c is not None and c.key == key]
    explains = chosen_here or list(parts)
    amount = combined(explains)
    name, options, _ = key
    return Reading(
        name, amount, weighed.likelihood[key], _reason(explains, observations, tape, unit),
        _tells_apart(key, explains, weighed, by_key), dict(options), tuple(c.at for c in explains), bool(chosen_here),
        called(parts[0].kind, parts[0].cause.sign), abs(amount.value) >= WORTH_DOING)


def _reason(parts: Sequence[Candidate], observations: Sequence[Observation], tape: Known | None, unit: str) -> str:
    """What was seen and the rule; then what the tape says of it."""
    words = []
    for part in parts:
        said = f"{observations[part.at].say(unit)}: {part.cause.why}"
        untold = "what was measured there does not tell how much" if observations[part.at].amount else (
            "nothing was measured")
        words.append(said[0].upper() + said[1:] + ("." if part.measured else
                                                   f"; {untold}, so the amount is a first try."))
        if part.measured and (most := usual_most(part)) is not None:
            words.append(f"More than {show_length(most, unit)} is not usual, so look for a second cause.")
    if tape is not None and abs(tape.value) >= WORTH_DOING:
        way = "says so too" if tape.value * parts[0].cause.sign > 0 else "says the contrary"
        words.append(f"The tape sheet {way} ({show_length(abs(tape.value), unit)}).")
    elif tape is not None:
        words.append("The tape sheet does not ask for it.")
    return " ".join(words)


def _tells_apart(key: Key, parts: Sequence[Candidate], weighed: Weighed,
                 by_key: Mapping[Key, Sequence[Candidate]]) -> str:
    """What to look at: this cause's further sign, and that of its likeliest rival."""
    at = {part.at for part in parts}
    rivals = [other for other, theirs in by_key.items()
              if other != key and at & {c.at for c in theirs} and weighed.likelihood.get(other, 0.0) >= LEAST_LIKELY]
    if not rivals:
        return ""
    rival = by_key[max(rivals, key=lambda k: weighed.likelihood[k])]
    other = next(c for c in rival if c.at in at)
    mine = next(c for c in parts if c.at == other.at)
    return (f'If {mine.cause.look}, it is "{called(mine.kind, mine.cause.sign)}"; if {other.cause.look}, it is '
            f'"{called(other.kind, other.cause.sign)}".')


def called(kind: Alteration, sign: int) -> str:
    """What she calls an alteration when it goes that way: an alias that has the sign, else its name."""
    if sign > 0:
        return kind.name
    return next((alias for alias in kind.aliases if kind.signs.get(alias, 1.0) < 0), kind.name)
