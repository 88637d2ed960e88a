"""Measures that were not taken, from those that were: a guide for the next toile, never a line to cut cloth by.

A multivariate normal of the logarithms of the tape measures of the US Army survey of 1988 (2,208 women, 1,774 men),
conditioned on what is known with the tape's error as noise. Bodies unlike the sample get wider intervals.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from toilewright.body.conditioning import Narrowed, left_out, narrow
from toilewright.body.measures import find_measure
from toilewright.body.survey import Survey, survey
from toilewright.body.tape import Body
from toilewright.known import Known, Origin
from toilewright.units import show_length

NEVER_CUT_FROM = ("back neck point to waist", "neck shoulder point to bust point", "neck shoulder point to waist",
                  "neck shoulder point to waist back", "bust point width", "upper bust girth")
"""Measures in which bodies of the same girths differ so much that cloth is never cut by an estimate of them."""

NINETY = 1.6449
"""standard deviations to either side that hold 90 % of a normal distribution."""

HEAVY_TAIL = 20.0
"""degrees of freedom of the multivariate t whose conditional spread widens the estimates of unusual bodies; chosen so
that the intervals keep their promise for large women of another survey (see benchmarks/bench_estimates.py)."""

DOES_NOT_FIT = 3.5
"""standard deviations from what all the other measures say beyond which an entry is asked about: fewer than one honest
sheet in a hundred is troubled (see benchmarks/bench_estimates.py)."""

UNSURVEYED = 0.08
"""standard deviation of the logarithm of a measure that the survey lacks: like the most variable ones that it has."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """One measure that was not taken.

    Attributes:
        name: ISO 8559-1.
        known: the likeliest value (mm; degrees for an angle), spread half of the 90 % interval.
        low, high: the 90 % interval.
        may_cut: may cloth be cut by it? Never by those of :data:`NEVER_CUT_FROM`.
        wider: by how much the interval was widened because this body is unlike the sample (1: not at all).
    """

    name: str
    known: Known
    low: float
    high: float
    may_cut: bool
    wider: float


@dataclass(frozen=True, slots=True)
class Unlikely:
    """An entry of the tape sheet that does not fit the others.

    Attributes:
        name: ISO 8559-1.
        taken: what the sheet says.
        expected: what the others say, with half of its 90 % interval.
        off: how many standard deviations lie between the two, with its sign.
    """

    name: str
    taken: float
    expected: Known
    off: float


@dataclass(frozen=True, slots=True)
class NextMeasure:
    """A measure that would be worth taking.

    Attributes:
        name: ISO 8559-1.
        narrows: by how much the half intervals of what is wanted would shrink altogether, by weight (mm).
        most: the wanted measure that it would help most.
    """

    name: str
    narrows: float
    most: str


def survey_for(body: Body) -> str:
    """``men`` for a sheet with the posture note "man", else ``women``."""
    return "men" if any(note.strip().lower() == "man" for note in body.posture) else "women"


def estimate(body: Body, name: str) -> Known | None:
    """What the other measures of a body say about one, whether it was taken or not.

    Returns:
        The likeliest value, its spread half of the 90 % interval; None where nothing else was taken, or where the
        survey lacks that measure.

    Raises:
        NameUnknown: there is no such measure.
    """
    wanted = find_measure(name).name
    known = _Given.of(body, without=wanted)
    if not known.names or wanted not in known.model.names:
        return None
    return known.estimate(wanted).known


def estimates(body: Body, model: Survey | None = None) -> tuple[Estimate, ...]:
    """Every measure that was not taken and can be estimated from those that were.

    Args:
        model: the distribution to go by; the one for this body when left out.
    """
    known = _Given.of(body, model=model)
    if not known.names:
        return ()
    return tuple(known.estimate(name) for name in known.model.names if body.get(name) is None)


def unlikely(body: Body, model: Survey | None = None) -> tuple[Unlikely, ...]:
    """The entries that do not fit the others, the worst first; each is judged without those found before it."""
    found: list[Unlikely] = []
    known = _Given.of(body, model=model)
    while worst := known.worst():
        found.append(worst)
        known = known.without(worst.name)
    return tuple(found)


def next_measures(body: Body, wanted: Mapping[str, float] | Iterable[str]) -> tuple[NextMeasure, ...]:
    """Which measure to take next, the most useful first.

    Args:
        wanted: the measures on which open decisions hang, with their weights where they differ.
    """
    weights = {find_measure(n).name: (wanted[n] if isinstance(wanted, Mapping) else 1.0) for n in wanted}
    open_ones = {n: w for n, w in weights.items() if body.get(n) is None}
    known = _Given.of(body)
    untaken = [name for name in known.model.names if body.get(name) is None]
    found = _gains(known, untaken, {n: w for n, w in open_ones.items() if n in untaken})
    found += [_untold(name, weight) for name, weight in open_ones.items() if name not in untaken]
    return tuple(sorted((n for n in found if n.narrows > 0.0), key=lambda n: -n.narrows))


def _untold(name: str, weight: float) -> NextMeasure:
    measure = find_measure(name)
    middle = (measure.low + measure.high) / 2
    return NextMeasure(name, weight * max(NINETY * UNSURVEYED * abs(middle) - measure.spread, 0.0), name)


@dataclass(frozen=True, slots=True)
class _Given:
    """The survey, and what was taken of it: values a body can have, and the tape's noise in their logarithms."""

    model: Survey
    names: tuple[str, ...]
    values: tuple[float, ...]
    noise: tuple[float, ...]
    unit: str

    @classmethod
    def of(cls, body: Body, without: str = "", model: Survey | None = None) -> _Given:
        model = model or survey(survey_for(body), body.waist_place)
        taken = [(n, k) for n in model.names if n != without and (k := body.get(n)) and _believable(n, k.value)]
        return cls(model, tuple(n for n, _ in taken), tuple(k.value for _, k in taken),
                   tuple(_tape_noise(n, k.value) for n, k in taken), body.unit)

    def without(self, name: str) -> _Given:
        kept = [k for k, n in enumerate(self.names) if n != name]
        names, values, noise = (tuple(row[k] for k in kept) for row in (self.names, self.values, self.noise))
        return _Given(self.model, names, values, noise, self.unit)

    def rows(self) -> list[int]:
        return [self.model.names.index(n) for n in self.names]

    def off(self) -> list[float]:
        return [math.log(v) - self.model.mean[i] for v, i in zip(self.values, self.rows(), strict=True)]

    def covariance(self) -> list[list[float]]:
        rows = self.rows()
        table = [[self.model.covariance[i][j] for j in rows] for i in rows]
        for k, i in enumerate(rows):
            table[k][k] += self.noise[k] + self.model.differs[i]
        return table

    def narrowed(self) -> Narrowed:
        return narrow(self.covariance(), self.off())

    def wider(self, distance: float) -> float:
        """How much wider than a usual body's the intervals are: never narrower."""
        return math.sqrt(max(1.0, (HEAVY_TAIL + distance) / (HEAVY_TAIL + len(self.names))))

    def estimate(self, name: str) -> Estimate:
        now = self.narrowed()
        i = self.model.names.index(name)
        weights = now.weights([self.model.covariance[i][j] for j in self.rows()])
        wider = self.wider(now.distance)
        rest = self.model.covariance[i][i] + self.model.differs[i] - sum(w * w for w in weights)
        middle, half = self.model.mean[i] + now.shift(weights), NINETY * wider * math.sqrt(rest)
        low, high = math.exp(middle - half), math.exp(middle + half)
        known = Known(math.exp(middle), Origin.ESTIMATED, (high - low) / 2,
                      _reason(name, self, low, high, self.unit))
        return Estimate(name, known, low, high, name not in NEVER_CUT_FROM, wider)

    def worst(self) -> Unlikely | None:
        if len(self.names) < 3:
            return None
        off, covariance = self.off(), self.covariance()
        found = []
        for k, (distance, variance) in enumerate(left_out(covariance, off)):
            found.append((abs(distance) / math.sqrt(variance), k, distance, variance))
        size, k, distance, variance = max(found)
        others = self.without(self.names[k])
        wider = others.wider(others.narrowed().distance)
        if size / wider < DOES_NOT_FIT:
            return None
        told = others.estimate(self.names[k])
        return Unlikely(self.names[k], self.values[k], told.known, math.copysign(size / wider, distance))


def _gains(given: _Given, untaken: list[str], wanted: Mapping[str, float]) -> list[NextMeasure]:
    """For every measure not taken, by how much it would narrow those wanted."""
    now, model, rows = given.narrowed(), given.model, given.rows()
    place = {name: model.names.index(name) for name in untaken}
    weights = {name: now.weights([model.covariance[i][j] for j in rows]) for name, i in place.items()}
    middle = {name: math.exp(model.mean[i] + now.shift(weights[name])) for name, i in place.items()}

    def shared(a: str, b: str) -> float:
        told = sum(x * y for x, y in zip(weights[a], weights[b], strict=True))
        return model.covariance[place[a]][place[b]] - told

    found = []
    for name in untaken:
        heard = shared(name, name) + model.differs[place[name]] + _tape_noise(name, middle[name])
        shrinks = {}
        for one, weight in wanted.items():
            before = shared(one, one) + model.differs[place[one]]
            after = before - shared(one, name) ** 2 / heard
            left = find_measure(one).spread if one == name else NINETY * middle[one] * math.sqrt(after)
            shrinks[one] = weight * max(NINETY * middle[one] * math.sqrt(before) - left, 0.0)
        if shrinks:
            found.append(NextMeasure(name, sum(shrinks.values()), max(shrinks, key=shrinks.__getitem__)))
    return found


def _believable(name: str, value: float) -> bool:
    measure = find_measure(name)
    return measure.low <= value <= measure.high


def _tape_noise(name: str, value: float) -> float:
    """Variance of the logarithm that the tape adds: its largest allowed error holds nine of ten measurings."""
    return (find_measure(name).spread / NINETY / value) ** 2


def _reason(name: str, given: _Given, low: float, high: float, unit: str) -> str:
    """One sentence: from what, how sure, and that cloth is not cut by it."""
    first = " and ".join(given.names[:2]) + (" and others" if len(given.names) > 2 else "")
    shown = (f"{low:.0f} to {high:.0f} degrees" if find_measure(name).is_angle else
             f"{show_length(low, unit)} to {show_length(high, unit)}")
    cut = "; measure it before cloth is cut by it" if name in NEVER_CUT_FROM else ""
    return f"{name} was not taken; going by {first}, nine of ten bodies of a survey of 1988 would have {shown}{cut}."
