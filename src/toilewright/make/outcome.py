"""One make, computed from its recipe: size, ease, alterations, walk."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from toilewright.body.tape import Body, Wish, read_tape
from toilewright.errors import Finding, InputError, Severity
from toilewright.fit.alterations import ALTERATIONS, alter, find_alteration
from toilewright.fit.amounts import auto_amount
from toilewright.fit.blend import blend
from toilewright.fit.ease import Ease, measure_ease
from toilewright.fit.prescribe import Drafted
from toilewright.fit.result import Altered, Order
from toilewright.fit.sides import ease_on_both
from toilewright.fit.size import SizeAdvice, advise
from toilewright.known import Known, Origin, asked
from toilewright.make.covering import wrap_findings
from toilewright.make.drafted import cup_of, drafted_of
from toilewright.make.finishing import Extra, finished
from toilewright.make.reading import Reading, read_pattern
from toilewright.make.recipe import AUTO, Make, read_make, wishes
from toilewright.pattern.garment import Garment
from toilewright.pattern.walk import SeamWalk, walk
from toilewright.tolerance import WORTH_DOING

NAMES = {name: (one.name, one.signs.get(name, 1.0)) for one in ALTERATIONS for name in (one.name, *one.aliases)}
"""Every name and alias of an alteration, the name it stands for, and the sign it gives to an amount."""


@dataclass(frozen=True)
class Sized:
    """A recipe up to the choice of size.

    Attributes:
        advice: what the chart and the real ease say; None when the tape sheet has no measure to choose by.
        sizes: (place, size name) that was chosen; one row ("all", size) for a straight size.
        before: the pieces in that size, as bought.
        ease: real ease as bought.
    """

    make: Make
    body: Body
    reading: Reading
    advice: SizeAdvice | None
    sizes: tuple[tuple[str, str], ...]
    before: Garment
    ease: tuple[Ease, ...]

    @property
    def unit(self) -> str:
        """In which she likes to read lengths."""
        return self.make.unit or self.body.unit

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What deserves a look before anything is altered."""
        return (*self.body.findings, *self.reading.findings, *wrap_findings(self.before, self.body, self.unit))

    @cached_property
    def cup(self) -> float:
        """Full minus upper bust for which the chosen size is drafted (mm)."""
        return cup_of(self.reading.pattern, self.sizes)

    @cached_property
    def drafted(self) -> Drafted:
        """What else the chosen size was drafted for."""
        return drafted_of(self.reading.pattern, self.sizes)

    @property
    def size_name(self) -> str:
        """The size in words: "5", or "bust 5, waist 6, hip 6"."""
        if len(self.sizes) == 1:
            return self.sizes[0][1]
        return ", ".join(f"{place} {size}" for place, size in self.sizes)


@dataclass(frozen=True)
class Outcome:
    """A whole make.

    Attributes:
        altered: the pieces after all alterations, and each alteration that was made.
        skipped: alterations that came out too small to be worth doing, with their reason.
        ease: real ease after the alterations.
        walks: every seam of the altered pieces.
        walks_before: every seam as bought.
        findings: everything that deserves a look.
        extras: pieces that are cut beside the pattern's, in `altered` too, each with its order of work.
        whole: the garment as if no piece had been divided by a join: the toile, and what is compared with the pattern.
    """

    sized: Sized
    altered: Altered
    skipped: tuple[tuple[str, Known], ...]
    ease: tuple[Ease, ...]
    walks: tuple[SeamWalk, ...]
    walks_before: tuple[SeamWalk, ...]
    findings: tuple[Finding, ...]
    extras: tuple[Extra, ...]
    whole: Garment


def advise_size(make_file: str | os.PathLike[str]) -> Sized:
    """The recipe of a make file up to the choice of size, with the real ease of the pieces.

    Raises:
        InputError: an entry or a file that cannot be used, said with its place.
    """
    make = read_make(os.fspath(make_file), NAMES)
    return size_up(make, read_tape(make.tape), read_pattern(make.pattern, make.labels))


def size_up(make: Make, body: Body, reading: Reading) -> Sized:
    """A recipe with its body and its pattern at hand, up to the choice of size.

    Raises:
        InputError: a size that the pattern has not, or too few measures to choose one by.
    """
    advice = None
    if make.size == AUTO:
        advice = advise(reading.pattern, body, dict(make.ease))
        sizes = advice.blend or (("all", advice.size),)
    else:
        sizes = make.sizes or (("all", make.size),)
        advice = _advice_if_possible(reading, body, make)
    before = _garment(reading, sizes)
    return Sized(make, body, reading, advice, tuple(sizes), before, measure_ease(before, body))


def run_make(make_file: str | os.PathLike[str]) -> Outcome:
    """Compute a whole make: choose the size, alter, walk.

    Raises:
        InputError: an entry or a file that cannot be used, said with its place.
        AlterationError: an alteration that this pattern cannot take, or not by that much.
    """
    return make_up(advise_size(make_file))


def make_up(sized: Sized) -> Outcome:
    """Everything after the choice of size: alter, measure again, walk.

    Raises:
        InputError: the pattern sheet has to be put right first.
        InputError: an allowance, a corner or an extra piece that cannot be made.
        AlterationError: an alteration that this pattern cannot take, or not by that much.
    """
    must_be_settled(sized.reading)
    orders, skipped, left_out = _orders(sized)
    altered = alter(sized.before, orders)
    findings = (*sized.body.findings, *sized.reading.findings, *left_out,
                *wrap_findings(altered.garment, sized.body, sized.unit),
                *altered.findings, *(f for d in altered.done for f in d.findings))
    done = finished(altered.garment, sized.make)
    altered = replace(altered, garment=done.garment, walks=walk(done.garment) if done.extras else altered.walks)
    return Outcome(sized, altered, skipped, ease_on_both(altered.halves, sized.body), altered.walks,
                   walk(altered.bought), tuple(dict.fromkeys((*findings, *done.findings))), done.extras,
                   done.whole)


def altered_of(sized: Sized) -> Altered:
    """The pieces after all alterations, and no more than that.

    Raises:
        InputError: the pattern sheet has to be put right first.
        AlterationError: an alteration that this pattern cannot take, or not by that much.
    """
    must_be_settled(sized.reading)
    return alter(sized.before, _orders(sized)[0])


def _advice_if_possible(reading: Reading, body: Body, make: Make) -> SizeAdvice | None:
    """A size was asked for, so a tape sheet too short for advice is no obstacle."""
    try:
        return advise(reading.pattern, body, dict(make.ease))
    except InputError:
        return None


def _garment(reading: Reading, sizes: Sequence[tuple[str, str]]) -> Garment:
    chosen = dict(sizes)
    if "all" in chosen:
        return reading.pattern.at(chosen["all"])
    return blend(reading.pattern, chosen)


def must_be_settled(reading: Reading) -> None:
    """What stops a sheet (an open outline, one that crosses itself) is said before anything is made from it."""
    stops = [f.text for f in reading.findings if f.severity is Severity.STOP]
    if stops:
        more = f" ({len(stops)} things; `toilewright read` lists them all)" if len(stops) > 1 else ""
        raise InputError(f"Nothing was made, because the sheet has to be put right first{more}: {stops[0]}")


def _orders(sized: Sized) -> tuple[tuple[Order, ...], tuple[tuple[str, Known], ...], tuple[Finding, ...]]:
    """Alterations with their amounts; those worked out and too small to show are set apart.

    Standing ones that have no place on this pattern (a forward shoulder on a skirt) are left out with a note.
    """
    orders, skipped, left_out = [], [], []
    for wish in wishes(sized.make, sized.body, NAMES):
        if wish not in sized.make.alterations and not has_place(wish, sized.before):
            left_out.append(Finding(
                "standing-left-out", f'"{wish.name}", which the tape sheet of {sized.body.name} asks for always, was '
                "left out: this pattern has no piece for it.", Severity.NOTE))
            continue
        known = amount_of(wish, sized)
        if wish.amount is None and abs(known.value) < WORTH_DOING:
            skipped.append((wish.name, known))
        else:
            orders.append(Order(wish.name, known, dict(wish.options)))
    return tuple(orders), tuple(skipped), tuple(left_out)


def has_place(wish: Wish, garment: Garment) -> bool:
    """Does the pattern have the pieces on which this alteration is made?"""
    return find_alteration(wish.name)[0].has_place(garment, wish.options)


def asked_for(wish: Wish) -> Known:
    """An amount that was written down, with where it comes from."""
    if wish.came_from:
        said = "Read off" if "toile" in wish.came_from else "This is"
        return Known(wish.amount, Origin.TOILE, wish.spread, f"{said} {wish.came_from}.")
    if wish.makes:
        return Known(wish.amount, Origin.ASKED, wish.spread,
                     f"The toiles of {wish.makes} make{'s' if wish.makes > 1 else ''} asked for it.")
    return asked(wish.amount)


def amount_of(wish: Wish, sized: Sized) -> Known:
    """The amount that was asked for, or the one worked out from the body against the pieces as bought.

    Raises:
        AlterationError: it cannot be worked out; the sentence says what is missing.
    """
    if wish.amount is not None:
        return asked_for(wish)
    return auto_amount(wish.name, sized.before, sized.body, dict(sized.make.ease), wish.options, sized.cup,
                       sized.drafted)
