"""The toiles of one make: what each was sewn from, what it will show, and what was read off it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from toilewright.body.tape import Body
from toilewright.errors import AlterationError
from toilewright.fit.result import Altered
from toilewright.fit.toile.answer import Reading, answer, chosen, stopped, unanswered
from toilewright.fit.toile.observations import Observation
from toilewright.fit.toile.predict import Prediction, predict
from toilewright.make.outcome import Sized, altered_of
from toilewright.make.recipe import toile_name


@dataclass(frozen=True)
class ToileRead:
    """One toile with what it showed, and the alterations that would cure it.

    Attributes:
        number: 1 for the first toile.
        readings: the likeliest first; none where nothing was seen.
        unanswered: numbers of the observations that no alteration of this pattern would cure, from 0.
        stopped: for each reading what stops it from being made on these pieces, or "".
    """

    number: int
    date: str
    saw: tuple[Observation, ...]
    readings: tuple[Reading, ...]
    unanswered: tuple[int, ...] = ()
    stopped: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """What the alterations read off it say: ``toile 1``."""
        return toile_name(self.number)


@dataclass(frozen=True, slots=True)
class Beside:
    """One alteration over all toiles of a make.

    Attributes:
        options: its further words.
        by_toile: for each toile its reading, or None where it did not ask for it.
        made: for each toile how much of it was accepted (mm).
    """

    alteration: str
    options: tuple[tuple[str, str], ...]
    by_toile: tuple[Reading | None, ...]
    made: tuple[float, ...]


def sewn_for(sized: Sized, number: int) -> Altered:
    """The pieces that toile `number` was sewn from: everything but what it and later toiles asked for.

    Raises:
        InputError: the pattern sheet has to be put right first.
        AlterationError: an alteration that this pattern cannot take, or not by that much.
    """
    later = {toile_name(n) for n in range(number, len(sized.make.toiles) + 1)}
    kept = tuple(w for w in sized.make.alterations if w.came_from not in later)
    return altered_of(replace(sized, make=replace(sized.make, alterations=kept)))


def next_number(sized: Sized) -> int:
    """The number of the toile that comes next."""
    return len(sized.make.toiles) + 1


def predict_make(sized: Sized) -> tuple[tuple[str, Prediction], ...]:
    """What the next toile will show; for an uneven figure on her ``left`` and her ``right``, else on ``both``."""
    altered, body = sewn_for(sized, next_number(sized)), _in_her_unit(sized)
    if not altered.uneven:
        return (("both", predict(altered.halves[0], body)),)
    sides = zip(("left", "right"), altered.halves, strict=True)
    return tuple((side, predict(half, one_side(body, side))) for side, half in sides)


def _in_her_unit(sized: Sized) -> Body:
    """The body, its lengths told in the unit of the make."""
    return replace(sized.body, unit=sized.unit)


def one_side(body: Body, side: str) -> Body:
    """A body as it is on one side: what was taken there in the place of what was taken for both."""
    there = dict(body.left if side == "left" else body.right)
    kept = tuple((name, value) for name, value in body.measures if name not in there)
    return replace(body, measures=(*kept, *there.items()))


def read_toile(sized: Sized, saw: Sequence[Observation], number: int | None = None, date: str = "") -> ToileRead:
    """What was seen on a toile, answered.

    Args:
        number: which toile; None for the next one.

    Raises:
        InputError: nothing was seen, one thing twice, or nothing that this pattern has pieces for.
        AlterationError: the make's own alterations cannot be made.
    """
    which = number or next_number(sized)
    garment = sewn_for(sized, which).halves[0]
    readings = answer(saw, garment, _in_her_unit(sized))
    return ToileRead(which, date, tuple(saw), readings, unanswered(saw, garment),
                     tuple(stopped(one, garment) for one in readings))


def accepted(read: ToileRead, numbers: Sequence[int]) -> tuple[Reading, ...]:
    """The readings of these numbers (from 1), to be made.

    Raises:
        InputError: there is no such reading.
        AlterationError: two of them would correct one fold twice, or one cannot be made on these pieces.
    """
    taken = chosen(read.readings, numbers)
    for number in numbers:
        if read.stopped[number - 1]:
            raise AlterationError(read.stopped[number - 1])
    return taken


def read_toiles(sized: Sized) -> tuple[ToileRead, ...]:
    """Every toile that the make keeps, answered; those on which nothing was seen have no readings."""
    return tuple(read_toile(sized, toile.saw, n, toile.date) if toile.saw else ToileRead(n, toile.date, (), ())
                 for n, toile in enumerate(sized.make.toiles, 1))


def beside(reads: Sequence[ToileRead], sized: Sized) -> tuple[Beside, ...]:
    """The readings of all toiles beside each other, by alteration, in the order in which they came up."""
    keys = dict.fromkeys((r.alteration, tuple(sorted(r.options.items()))) for read in reads for r in read.readings)
    return tuple(Beside(name, options, tuple(_of(read, name, options) for read in reads),
                        tuple(_made(sized, read, name, options) for read in reads)) for name, options in keys)


def _of(read: ToileRead, name: str, options: tuple[tuple[str, str], ...]) -> Reading | None:
    """The likeliest reading of that alteration."""
    return next((r for r in read.readings if (r.alteration, tuple(sorted(r.options.items()))) == (name, options)), None)


def _made(sized: Sized, read: ToileRead, name: str, options: tuple[tuple[str, str], ...]) -> float:
    return sum(w.amount or 0.0 for w in sized.make.alterations
               if w.came_from == read.name and w.name == name and tuple(sorted(w.options.items())) == options)
