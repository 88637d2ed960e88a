"""Darts: two legs that come from the edge and meet in an apex."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from toilewright.geometry.meeting import ray_meeting
from toilewright.geometry.point import Point, turn
from toilewright.intake.corners import Bit, EndGrid
from toilewright.intake.raw import RawDart
from toilewright.intake.sketch import Place, Sketch

LEG = 18.0
"""mm; shorter legs are no dart's (the smallest elbow and neck darts are twice that)."""

REACH = 42.0
"""mm; how far from the outline a leg may stop: a wide hem or seam allowance."""

MEET = 1.2
"""mm; legs whose ends are nearer than this meet in an apex."""

SHORT_OF_APEX = 14.0
"""mm; legs that point at one another may stop this far short of the apex."""

MANY = 120
"""Lines of one piece that are tried as dart legs; a piece with more of them is hatched, not darted."""


@dataclass(frozen=True, slots=True)
class _Leg:
    """A bit seen as a dart leg: its number, foot, the outline's spot next to the foot, and its inner end."""

    bit: int
    foot: Point
    edge: Place
    tip: Point
    depth: float
    length: float


@dataclass(frozen=True, slots=True)
class DartLines:
    """Darts, the bits they are drawn with, and bits that look like a leg without a partner."""

    darts: tuple[RawDart, ...]
    bits: frozenset[int]
    single_legs: tuple[int, ...]


def find_darts(bits: Sequence[Bit], outline: Sketch, reach: float = REACH) -> DartLines:
    """Pair the legs among the bits of one piece.

    Legs may stop at the seam line, up to `reach` mm short of the outline. Of three lines that meet in one apex the
    middle one is the fold line. Lines that meet others at both ends (a diamond in the middle of the piece) are no legs.
    """
    legs = [leg for i, bit in enumerate(bits) if (leg := _leg(i, bit, outline, reach))]
    legs = legs[:MANY]
    pairs = sorted((abs(legs[a].tip - legs[b].tip) > MEET, -found[0], a, b, found[1])
                   for a, b in combinations(range(len(legs)), 2) if (found := _pair(legs[a], legs[b], outline)))
    ends = EndGrid(bits)
    used: set[int] = set()
    made: list[RawDart] = []
    for _, _, a, b, apex in pairs:
        one, two = legs[a], legs[b]
        if one.bit in used or two.bit in used or _diamond(one, two, apex, ends):
            continue
        used.update((one.bit, two.bit))
        used.update(leg.bit for leg in legs if abs(leg.tip - apex) < MEET and leg.bit not in used)
        used.update(i for i, _, far in ends.near(one.foot, MEET) if abs(far - two.foot) < MEET)
        made.append(_dart(one, two, apex, outline))
    single = tuple(leg.bit for leg in legs if leg.bit not in used and leg.edge.distance < 1.0
                   and bits[leg.bit].straight and leg.depth > max(25.0, 0.4 * leg.length))
    return DartLines(tuple(made), frozenset(used), single)


def _leg(i: int, bit: Bit, outline: Sketch, reach: float) -> _Leg | None:
    if bit.length < LEG or bit.length > 1.15 * abs(bit.b - bit.a):
        return None
    a, b = outline.nearest(bit.a), outline.nearest(bit.b)
    (foot, edge, tip, depth) = ((bit.a, a, bit.b, b.distance) if a.distance <= b.distance
                                else (bit.b, b, bit.a, a.distance))
    if edge.distance > reach or depth < edge.distance + 4 or depth < 8 or not outline.contains(tip):
        return None
    return _Leg(i, foot, edge, tip, depth, bit.length)


def _pair(one: _Leg, two: _Leg, outline: Sketch) -> tuple[float, Point] | None:
    """(angle between the legs, apex) when two legs make a dart."""
    if min(one.length, two.length) < 0.5 * max(one.length, two.length):
        return None
    apex = (one.tip + two.tip) / 2
    if abs(one.tip - two.tip) > MEET:
        met = ray_meeting(one.tip, one.tip - one.foot, two.tip, two.tip - two.foot)
        if met is None or max(abs(met - one.tip), abs(met - two.tip)) > SHORT_OF_APEX:
            return None
        if any(((met - leg.tip) * (leg.tip - leg.foot).conjugate()).real < -1e-9 for leg in (one, two)):
            return None
        apex = met
    spread = abs(turn(one.foot - apex, two.foot - apex))
    mouth = abs(one.foot - two.foot)
    gap = abs(one.edge.s - two.edge.s)
    round_way = min(gap, outline.length - gap)
    if not 0.02 < spread < 1.8 or mouth < 2.0 or round_way > 2.5 * mouth + 40:
        return None
    return spread, apex


def _diamond(one: _Leg, two: _Leg, apex: Point, bits: EndGrid) -> bool:
    """Do lines run on from both feet to a second common apex?"""
    ends = [[far for i, near, far in bits.near(leg.foot, MEET)
             if i not in (one.bit, two.bit) and bits.bits[i].length >= LEG and abs(far - apex) > 0.3 * leg.length]
            for leg in (one, two)]
    return any(abs(p - q) < MEET for p in ends[0] for q in ends[1])


def _dart(one: _Leg, two: _Leg, apex: Point, outline: Sketch) -> RawDart:
    """Feet in the order of the outline; a foot that reaches the outline lies on it exactly."""
    ahead = (two.edge.s - one.edge.s) % outline.length
    first, second = (one, two) if ahead < outline.length / 2 else (two, one)
    feet = [leg.edge.point if leg.edge.distance < 1.0 else leg.foot for leg in (first, second)]
    return RawDart(feet[0], feet[1], apex)
