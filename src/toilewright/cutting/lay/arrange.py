"""From pieces and a cloth to a lay: every way to fold it that is left open is tried, the shortest is kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Protocol

from toilewright.cutting.cloth import Cloth, Fold
from toilewright.cutting.lay.certificate import certify
from toilewright.cutting.lay.drafts import Draft, drafts
from toilewright.cutting.lay.folding import end_of, forbidden
from toilewright.cutting.lay.matching import Matching
from toilewright.cutting.lay.order import in_order
from toilewright.cutting.lay.plan import Certificate, CutPiece, Laid, Lay, Section
from toilewright.cutting.lay.sections import Part, key_of
from toilewright.errors import GeometryError, InputError, ToilewrightError
from toilewright.geometry.point import Point
from toilewright.packing.problem import Packing, Problem, Stop, Tell
from toilewright.units import show_both, show_length

SKETCH = 0.25
"""Share of the time in which the ways to lay the cloth are compared; the rest goes to the best of them."""

SHORT = 5.0
"""seconds; in less than this the ways are compared by their first fits alone, and the best of them gets all of it."""

GLANCE = 0.01
"""seconds; a search of that length gives its first fit."""

WORTH_SAYING = 10.0
"""mm; a saving below this is not worth a sentence."""


class Pack(Protocol):
    """A search: places every item of a problem on its strip, as short as it can in the time."""

    def __call__(self, problem: Problem, seconds: float = 10.0, seed: int = 0, tell: Tell | None = None,
                 stop: Stop | None = None) -> Packing:
        """The best packing found; InputError or GeometryError, in one sentence, where nothing fits."""
        ...


@dataclass(frozen=True, slots=True)
class Search:
    """How to search.

    Attributes:
        pack: the search.
        seconds: for the whole lay.
        seed, tell, stop: as the search takes them.
    """

    pack: Pack
    seconds: float = 10.0
    seed: int = 0
    tell: Tell | None = None
    stop: Stop | None = None


@dataclass(frozen=True, slots=True)
class _Packed:
    """A draft with its packings, section by section."""

    draft: Draft
    packings: tuple[Packing, ...]
    starts: tuple[float, ...]

    @property
    def length(self) -> float:
        return max((s + p.length for s, p in zip(self.starts, self.packings, strict=True)), default=0.0)


@dataclass(slots=True)
class _Clock:
    """Carries lengths and seconds of earlier searches into what is told."""

    search: Search
    gone: float = 0.0
    best: float = field(default=float("inf"))

    def told(self, before: float, after: float) -> Tell | None:
        tell = self.search.tell
        if tell is None:
            return None

        def pass_on(length: float, seconds: float) -> None:
            self.best = min(self.best, before + length + after)
            tell(self.best, self.gone + seconds)
        return pass_on


def arrange(pieces: Sequence[CutPiece], cloth: Cloth, search: Search, *, gap: float = 0.0, free_fold: bool = False,
            matching: Matching | None = None) -> Lay:
    """Lay pieces on a cloth; the lay has passed its certificate.

    Args:
        pieces: all that is cut from this cloth, of one make or of several.
        gap: least distance between two pieces (mm).
        free_fold: choose how the cloth lies, whatever the cloth says.
        matching: what stripes and checks ask.

    Raises:
        InputError: a piece does not fit on the cloth, or the cloth is too short; said with what would do.
        GeometryError: the lay did not pass its own check.
    """
    if not pieces:
        raise InputError(f'Nothing is cut from the cloth "{cloth.name}".')
    matching = matching or Matching()
    choices = drafts(pieces, cloth, matching, free_fold)
    clock = _Clock(search)
    tried, problems = _sketched(choices, cloth, search, gap, matching, clock)
    if not tried:
        raise problems[0]
    best = min(tried, key=lambda t: t.length)
    share = search.seconds * (1.0 - SKETCH if search.seconds >= SHORT else 1.0)
    found = [best]
    if (len(choices) > 1 or best.packings == ()) and not _stopped(search):
        found.append(_packed(best.draft, cloth, search, share, gap, matching, clock, best))
    best = min(found, key=lambda t: t.length)
    notes = (*_saving(best, tried, free_fold), *best.draft.notes, *matching.notes,
             *dict.fromkeys(n for p in pieces for n in p.notes))
    lay = _lay(best, cloth, search.seed, notes)
    lay = replace(lay, certificate=certify(lay, pieces, matching.meetings, gap))
    if not lay.certificate.passed:
        raise GeometryError("The lay did not pass its own check and is not shown: "
                            + " ".join(c.said for c in lay.certificate.checks if not c.passed)
                            + " Please report this with your make file.")
    return lay


# -- searching --------------------------------------------------------------------------------------


def _sketched(choices: Sequence[Draft], cloth: Cloth, search: Search, gap: float, matching: Matching,
              clock: _Clock) -> tuple[list[_Packed], list[ToilewrightError]]:
    """Every draft packed in a share of the time; the whole time where there is only one."""
    done, problems = [], []
    share = search.seconds * SKETCH / len(choices) if search.seconds >= SHORT else min(search.seconds, GLANCE)
    if len(choices) == 1:
        share = search.seconds
    for draft in choices:
        if done and _stopped(search):
            break
        try:
            done.append(_packed(draft, cloth, search, share, gap, matching, clock))
        except ToilewrightError as problem:
            problems.append(problem)
    return done, problems


def _packed(draft: Draft, cloth: Cloth, search: Search, seconds: float, gap: float, matching: Matching, clock: _Clock,
            before: _Packed | None = None) -> _Packed:
    """The sections of a draft, one after the other.

    Args:
        before: an earlier packing of the same draft, for what to expect of later sections.

    Raises:
        InputError: the cloth is too short.
    """
    weights = [sum(s.item.count for s in part.slots) for part in draft.parts]
    packings: list[Packing] = []
    starts: list[float] = []
    start = 0.0
    for k, part in enumerate(draft.parts):
        part = matching.at(part, start)
        share = seconds * weights[k] / sum(weights)
        problem = Problem(part.way.height, tuple(s.item for s in part.slots), forbidden(cloth, part.way, start),
                          _left(cloth, start), gap)
        if k and before and _stopped(search) and _stays_right(cloth, matching, start, before.starts[k]):
            packings += before.packings[k:]
            starts += [s - before.starts[k] + start for s in before.starts[k:]]
            break
        rest = _expected(draft.parts[k + 1:], before.packings[k + 1:] if before else ())
        found = _pack_one(problem, part, cloth, search, share, start, clock.told(start, rest))
        clock.gone += share
        packings.append(found)
        starts.append(start)
        start += found.length + gap
    return _Packed(draft, tuple(packings), tuple(starts))


def _stopped(search: Search) -> bool:
    return search.stop is not None and search.stop()


def _stays_right(cloth: Cloth, matching: Matching, start: float, before: float) -> bool:
    """May an earlier packing of a section be kept where the section begins elsewhere?"""
    return start <= before and not (cloth.flaws or cloth.outline or matching.along)


def _pack_one(problem: Problem, part: Part, cloth: Cloth, search: Search, seconds: float, start: float,
              tell: Tell | None) -> Packing:
    if problem.longest is None:
        return search.pack(problem, seconds=seconds, seed=search.seed, tell=tell, stop=search.stop)
    if problem.longest > 0.0:
        try:
            return search.pack(problem, seconds=seconds, seed=search.seed, tell=tell, stop=search.stop)
        except (InputError, GeometryError):
            pass
    raise _too_short(problem, part, cloth, search, seconds, start)


def _too_short(problem: Problem, part: Part, cloth: Cloth, search: Search, seconds: float, start: float) -> InputError:
    """What to say when the cloth is too short: by how much, and which piece stays over."""
    free = search.pack(replace(problem, longest=None), seconds=seconds, seed=search.seed, stop=search.stop)
    end = max(problem.longest or 0.0, 0.0)
    over = [part.slots[p.item].piece for p in free.placed
            if max(q.real for q in p.outline(replace(problem, longest=None))) > end + 1e-6]
    names = list(dict.fromkeys(key_of(p) for p in over)) or [key_of(part.slots[-1].piece)]
    said = " and ".join(part for part in (", ".join(f'"{n}"' for n in names[:-1]), f'"{names[-1]}"') if part)
    lacks = max(free.length - end, 1.0)
    return InputError(f"The cloth \"{cloth.name}\" is {show_both(start + end)} long and about {show_both(lacks)} too "
                      f"short for these pieces; {said} {'stay' if len(names) > 1 else 'stays'} over: take a longer "
                      "piece, or cut that from another cloth.")


def _left(cloth: Cloth, start: float) -> float | None:
    end = end_of(cloth)
    return None if end is None else end - start


def _expected(parts: Sequence[Part], packings: Sequence[Packing]) -> float:
    """The length that later sections will take, from an earlier packing or from their areas (mm)."""
    if packings:
        return sum(p.length for p in packings)
    return sum(_area(part) / part.way.height / 0.8 for part in parts)


def _area(part: Part) -> float:
    from toilewright.cutting.lay.pieces import area_of

    return sum(abs(area_of(s.item.outline)) * s.item.count for s in part.slots)


# -- the lay ----------------------------------------------------------------------------------------


def _lay(packed: _Packed, cloth: Cloth, seed: int, notes: tuple[str, ...]) -> Lay:
    sections = tuple(Section(start, p.length, part.way.depth) for start, p, part in
                     zip(packed.starts, packed.packings, packed.draft.parts, strict=True))
    how = "; then ".join(dict.fromkeys(p.how for p in packed.packings if p.how))
    end = max((q.real for one in _laid(packed) for q in one.outline), default=0.0)
    return Lay(replace(cloth, fold=packed.draft.fold), sections, in_order(tuple(_laid(packed))), end, Certificate(()),
               how, seed, all(p.repeatable for p in packed.packings), notes)


def _laid(packed: _Packed) -> Iterator[Laid]:
    """Every cut piece, copies numbered in the order in which they lie along the cloth."""
    copies: dict[tuple[str, str], int] = {}
    for k, (part, packing, start) in enumerate(zip(packed.draft.parts, packed.packings, packed.starts, strict=True)):
        for placed in sorted(packing.placed, key=lambda p: (p.item, p.at.real, p.at.imag)):
            slot = part.slots[placed.item]
            at: Point = placed.at + start
            for layer in slot.layers:
                key = (slot.piece.make, slot.piece.name)
                copies[key] = copies.get(key, 0) + 1
                yield Laid(slot.piece, copies[key], layer, placed.pose, at, k)


def _saving(best: _Packed, tried: Sequence[_Packed], free_fold: bool) -> tuple[str, ...]:
    """What the chosen way saves against the other ways to fold."""
    others = {t.draft.fold: t.length for t in sorted(tried, key=lambda t: -t.length) if t.draft.fold != best.draft.fold}
    if not free_fold or not others:
        return ()
    fold, length = min(others.items(), key=lambda pair: pair[1])
    saved = length - best.length
    more = (f", which saves about {show_length(saved)} against laying it {_SAID[fold]}" if saved >= WORTH_SAYING
            else f"; {_SAID[fold]} it would take about as much")
    return (f"The cloth lies {_SAID[best.draft.fold]}{more}.",)


_SAID = {Fold.OPEN: "open, in one layer", Fold.LENGTHWISE: "folded lengthwise", Fold.DEPTH: "folded to a depth",
         Fold.PART: "part folded, part open"}
