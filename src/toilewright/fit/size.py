"""Size advice: by the envelope's chart first, then by the ease that is really in the pieces.

Bodices are chosen by the bust, unless full minus upper bust is 5 cm or more, then by the upper bust with bust room
added (Texas AgriLife Extension E-372); close skirts by the hip, full ones by the waist (the same family of leaflets).
A straight size is preferred when its real ease will do at every place.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from toilewright.body.tape import Body
from toilewright.errors import InputError
from toilewright.fit.chart_size import MeasureSize, by_measure, drafted_cup, nearest_size
from toilewright.fit.ease import Ease, measure_ease
from toilewright.fit.handbook import DRAFTED_CUP, RULES
from toilewright.fit.levels import bodice_pieces, skirt_pieces
from toilewright.pattern.nest import BodyChart, Pattern
from toilewright.tolerance import WORTH_DOING
from toilewright.units import show_length

FULL_BUST = 50.0
"""mm; from this full minus upper bust on, choose by the upper bust (5 cm or 2 in; Texas AgriLife Extension E-372)."""

TOO_LOOSE = 60.0
"""mm; beyond both the handbooks and the design, a garment hangs (about one and a half sizes; our own rule)."""

FULL_SKIRT = 200.0
"""mm; a skirt with more hip ease than this is full, and chosen by the waist (our own rule)."""

PLACES = ("bust", "waist", "hip")


@dataclass(frozen=True, slots=True)
class SizeAdvice:
    """What to cut.

    Attributes:
        size: the straight size, or the size of bust, neck and shoulders when blended.
        blend: (place, size) when more than one size is advised; empty for a straight size.
        chart_size: what the envelope's chart alone says; None without a chart.
        by_measure: the nearest size of the chart for each measure.
        reasons: sentences with numbers, the decision first.
        table: for the sizes around the advised one, the real ease at each place.
    """

    size: str
    blend: tuple[tuple[str, str], ...]
    chart_size: str | None
    by_measure: tuple[MeasureSize, ...]
    reasons: tuple[str, ...]
    table: tuple[tuple[str, tuple[Ease, ...]], ...]

    @property
    def straight(self) -> bool:
        """Is one size enough?"""
        return not self.blend

    @property
    def by_place(self) -> dict[str, str]:
        """Size at bust, waist and hip."""
        return dict(self.blend) or dict.fromkeys(PLACES, self.size)


def advise(pattern: Pattern, body: Body, wanted: Mapping[str, float] | None = None) -> SizeAdvice:
    """Which size, or sizes, to cut for a body, and why.

    Args:
        wanted: by place, the ease she wants in mm, where not what the handbooks and the design give.

    Raises:
        InputError: the tape sheet has none of the measures that a size could be chosen by.
    """
    return _Adviser(pattern, body, dict(wanted or {})).advice()


@dataclass(frozen=True, slots=True)
class _Start:
    """Where the search begins: the place that decides, the index of the size, and why."""

    place: str
    at: int
    reason: str
    room_added: bool = False
    chart_size: str | None = None


class _Adviser:
    """One pattern and one body side by side; keeps the ease of each size once measured."""

    def __init__(self, pattern: Pattern, body: Body, wanted: dict[str, float]) -> None:
        self.pattern, self.body, self.wanted = pattern, body, wanted
        self.unit = body.unit
        self._rows: dict[int, tuple[Ease, ...]] = {}
        self.by_measure = by_measure(pattern.chart, body)

    def advice(self) -> SizeAdvice:
        start = self._start()
        at, down = self._size_down(start)
        reasons = [start.reason, *down]
        blend = self._blend(at, start)
        if blend:
            pairs = ", ".join(f"{p} {self._name(i)}" for p, i in blend.items())
            reasons.insert(0, f"Blend the sizes: {pairs}.")
            reasons += self._buys(at, blend)
        else:
            reasons.insert(0, f"Cut the straight size {self._name(at)}.")
            reasons += self._enough(at) + self._would_buy(at, start)
        around = range(max(at - 2, 0), min(at + 3, len(self.pattern.sizes)))
        return SizeAdvice(
            self._name(at), tuple((p, self._name(i)) for p, i in blend.items()),
            start.chart_size, self.by_measure,
            (*reasons, *self._missing()), tuple((self._name(i), self.rows(i)) for i in around))

    # -- what the pieces give --------------------------------------------------------------------

    def rows(self, at: int) -> tuple[Ease, ...]:
        if at not in self._rows:
            self._rows[at] = measure_ease(self.pattern.garments[at], self.body)
        return self._rows[at]

    def ease(self, at: int, place: str) -> float | None:
        """Ease at a place in one size; None when it cannot be told.

        A wrap skirt that comes with a dress does not decide: it can be wrapped closer or wider.
        """
        found = [r for r in self.rows(at) if r.place.split(",")[0] == place and r.ease is not None]
        return found[0].ease.value if found and found[0].ease else None

    def _name(self, at: int) -> str:
        return self.pattern.sizes[at]

    def _show(self, mm: float) -> str:
        return show_length(mm, self.unit)

    def _designed(self, at: int, place: str) -> float | None:
        """Ease that the design gives a body of the chart."""
        chart_value = self.pattern.chart and self.pattern.chart.value(RULES[place].measure, self._name(at))
        taken = self.body.get(RULES[place].measure)
        ease = self.ease(at, place)
        if not chart_value or taken is None or ease is None:
            return None
        return ease + taken.value - chart_value

    def _least(self, place: str) -> float:
        return self.wanted[place] - 10.0 if place in self.wanted else RULES[place].minimum

    def _most(self, at: int, place: str) -> float:
        usual = RULES[place].usual[1] or RULES[place].usual[0]
        if place in self.wanted:
            return self.wanted[place] + TOO_LOOSE
        return max(usual, self._designed(at, place) or 0.0) + TOO_LOOSE

    def _will_do(self, at: int, place: str) -> bool:
        ease = self.ease(at, place)
        return ease is None or self._least(place) - WORTH_DOING <= ease <= self._most(at, place)

    def _enough_at(self, at: int, place: str) -> bool:
        """Is the least ease there, or can it not be told?"""
        ease = self.ease(at, place)
        return ease is None or ease >= self._least(place)

    # -- where to begin --------------------------------------------------------------------------

    def _start(self) -> _Start:
        place = self._deciding_place()
        chart = self.pattern.chart
        if chart is None or chart.row(RULES[place].measure) is None:
            return self._by_pieces(place)
        if place == "bust":
            return self._by_bust(chart)
        taken = self.body.get(RULES[place].measure)
        assert taken is not None
        kind = {"hip": "a close skirt is chosen by the hip", "waist": "a full skirt is chosen by the waist"}[place]
        if not self._skirt_only():
            kind = "the bust was not measured"
        return self._chart_start(chart, place, RULES[place].measure, taken.value, kind)

    def _chart_start(self, chart: BodyChart, place: str, measure: str, value: float, why: str,
                     room_added: bool = False) -> _Start:
        size = nearest_size(chart, measure, value)
        assert size is not None
        row = chart.value(measure, size) or 0.0
        here = nearest_size(chart, measure, value, self.pattern.sizes)
        if here is None:
            return self._by_pieces(place)
        beyond = ""
        if abs(row - value) > TOO_LOOSE / 2 and size in (chart.sizes[0], chart.sizes[-1]):
            beyond = f" That is {self._show(abs(row - value))} off: the body lies beyond the chart."
        if here != size:
            beyond = f" The pattern does not hold size {size}; {here} is the nearest that it holds."
        said = f'By the chart, "{measure}" of {self._show(value)} is nearest to size {size} ({self._show(row)}); {why}.'
        return _Start(place, self.pattern.sizes.index(here), said + beyond, room_added, size)

    def _by_bust(self, chart: BodyChart) -> _Start:
        full, upper = self.body.get("bust girth"), self.body.get("upper bust girth")
        assert full is not None
        if upper is None or full.value - upper.value < FULL_BUST:
            why = "bodices are chosen by the bust"
            if upper is None:
                why += " (take the upper bust too: when it is 5 cm or more smaller, it decides)"
            return self._chart_start(chart, "bust", "bust girth", full.value, why)
        cup = full.value - upper.value
        if chart.row("upper bust girth") is not None:
            start = self._chart_start(chart, "bust", "upper bust girth", upper.value, self._cup_words(cup), True)
        else:
            as_bust = upper.value + DRAFTED_CUP
            start = self._chart_start(chart, "bust", "bust girth", as_bust, self._cup_words(cup) + (
                f", as upper bust plus the {self._show(DRAFTED_CUP)} for which patterns usually are drafted"), True)
        drafted = drafted_cup(chart, self._name(start.at))
        extra = cup - drafted
        if extra < 10.0:
            return start
        return _Start(start.place, start.at, start.reason + f" Add about {self._show(extra)} of bust room: the pattern "
                      f"is drafted for {self._show(drafted)} (alteration \"full bust\").", True, start.chart_size)

    def _cup_words(self, cup: float) -> str:
        return (f"full minus upper bust is {self._show(cup)}, and from {self._show(FULL_BUST)} on bodices are chosen "
                "by the upper bust")

    def _deciding_place(self) -> str:
        have = {p: self.body.get(RULES[p].measure) is not None for p in PLACES}
        if not any(have.values()):
            raise InputError(f'No size can be chosen for {self.body.name}: the tape sheet has none of "bust girth", '
                             '"waist girth" and "hip girth"; measure the one that this pattern is chosen by.')
        if not self._skirt_only():
            order = ("bust", "hip", "waist")
        else:
            order = ("waist", "hip", "bust") if self._full_skirt() else ("hip", "waist", "bust")
        return next(p for p in order if have[p])

    def _skirt_only(self) -> bool:
        garment = self.pattern.garments[0]
        skirts = (*skirt_pieces(garment, wrapped=False), *skirt_pieces(garment, wrapped=True))
        return bool(skirts) and not bodice_pieces(garment)

    def _full_skirt(self) -> bool:
        middle = len(self.pattern.sizes) // 2
        ease = self._designed(middle, "hip")
        return (ease if ease is not None else self.ease(middle, "hip") or 0.0) > FULL_SKIRT

    def _by_pieces(self, place: str) -> _Start:
        """Without a chart: the smallest size with the usual ease."""
        goal = self.wanted.get(place, RULES[place].usual[0])
        for at in range(len(self.pattern.sizes)):
            ease = self.ease(at, place)
            if ease is not None and ease >= goal - 0.5:
                return _Start(place, at, f"Without a chart for the {place}, the pieces decide: size {self._name(at)} "
                                         f"is the smallest with {self._show(goal)} of ease there ({self._show(ease)}).")
        last = len(self.pattern.sizes) - 1
        return _Start(place, last, f"No size has {self._show(goal)} of ease at the {place}; size {self._name(last)} is "
                                   "the largest.")

    # -- what the real ease says to it -----------------------------------------------------------

    def _size_down(self, start: _Start) -> tuple[int, list[str]]:
        """A smaller size where the pieces carry a size or more beyond what the handbooks ask."""
        place, at = start.place, start.at
        usual = RULES[place].usual
        ease, below = self.ease(at, place), self.ease(at - 1, place) if at else None
        if place in self.wanted or ease is None or below is None or usual[1] is None or below < usual[1]:
            return at, []
        smaller = at
        while smaller and (self.ease(smaller - 1, place) or 0.0) >= usual[0] and all(
                self._enough_at(smaller - 1, p) for p in PLACES):
            smaller -= 1
        if smaller == at:
            return at, []
        return smaller, [
            f"But the pieces of size {self._name(at)} measure {self._show(ease)} more than the body at the {place}, "
            f"and the handbooks ask {self._show(usual[0])} to {self._show(usual[1])}: size {self._name(smaller)} "
            f"still gives {self._show(self.ease(smaller, place) or 0.0)}.",
            f"If it is to be as loose as it is drawn, cut size {self._name(at)}; a toile will tell."]

    def _blend(self, at: int, start: _Start) -> dict[str, int]:
        """Sizes by place where the straight size will not do; empty when it will."""
        chosen = {}
        for place in PLACES:
            if self.ease(at, place) is None:
                continue
            # Room for a full bust is added by its own alteration, not by a larger size.
            settled = place == "bust" and start.room_added
            chosen[place] = at if settled or self._will_do(at, place) else self._nearest_that_will_do(at, place)
        return chosen if len(set(chosen.values())) > 1 else {}

    def _nearest_that_will_do(self, at: int, place: str) -> int:
        every = range(len(self.pattern.sizes))
        good = [i for i in every if self._will_do(i, place)]
        if good:
            return min(good, key=lambda i: (abs(i - at), i))
        too_small = (self.ease(at, place) or 0.0) < self._least(place)
        return every[-1] if too_small else every[0]

    # -- in words --------------------------------------------------------------------------------

    def _enough(self, at: int) -> list[str]:
        out = []
        for place in PLACES:
            ease = self.ease(at, place)
            if ease is None:
                continue
            said = f"In size {self._name(at)} the pieces give {self._show(ease)} of real ease at the {place}"
            least = self._least(place)
            if ease >= least - WORTH_DOING:
                out.append(f"{said}: the handbooks' least is {self._show(RULES[place].minimum)}.")
            else:
                way = ("let it out there" if least - ease <= TOO_LOOSE else
                       "that is more than letting out can give, so look for a pattern in larger sizes")
                out.append(f"{said}: {self._show(least - ease)} less than needed; {way}.")
        return out

    def _buys(self, at: int, blend: Mapping[str, int]) -> list[str]:
        out = []
        for place, i in blend.items():
            here, there = self.ease(at, place), self.ease(i, place)
            if i == at or here is None or there is None:
                continue
            if here < self._least(place):
                why = f"less than the least of {self._show(self._least(place))}"
            else:
                why = f"more than the {self._show(self._most(at, place))} at which it would hang"
            out.append(f"Straight, size {self._name(at)} would have {self._show(here)} of real ease at the {place}, "
                       f"{why}; size {self._name(i)} has {self._show(there)}.")
            if not self._will_do(i, place):
                lacks = "gives enough" if there < self._least(place) else "is narrow enough"
                out.append(f"No size {lacks} at the {place}; alter the rest by hand (\"{place} in or out\").")
        return out

    def _would_buy(self, at: int, start: _Start) -> list[str]:
        """What the chart's other sizes would change, when the straight size will do."""
        out = []
        for row in self.by_measure:
            if row.place not in PLACES or row.place == start.place or row.measure != RULES[row.place].measure:
                continue
            i = self.pattern.sizes.index(row.size) if row.size in self.pattern.sizes else at
            here, there = self.ease(at, row.place), self.ease(i, row.place)
            if i != at and here is not None and there is not None:
                out.append(f"The chart alone says size {row.size} for the {row.place}; a blend would bring the ease "
                           f"there from {self._show(here)} to {self._show(there)}, which is not needed.")
        return out

    def _missing(self) -> list[str]:
        rows = self.rows(0)
        out = [r.verdict for r in rows if r.ease is None and r.place in PLACES]
        if not any(r.place.split(",")[0] in PLACES for r in rows):
            out.append("The pieces do not show where bust, waist and hip lie, so their real ease is not known; name "
                       "their edges in the labels file before you cut.")
        return out
