"""How much at the bust: its room, and where the dart aims."""

from __future__ import annotations

from math import sqrt

from toilewright.fit.flat.laid import Laid
from toilewright.fit.levels import place
from toilewright.fit.prescribe.case import Case, Rule
from toilewright.geometry.point import Point, unit
from toilewright.known import Known
from toilewright.pattern.piece import Piece


def _full_bust(case: Case) -> Known:
    full, upper, drawn = case.tape("bust girth"), case.tape("upper bust girth"), case.read("bust")
    low, high = case.ease_range("bust")
    lacks = full.value - drawn.value
    surplus = full.value - upper.value - case.drafted_cup
    frame = case.drafted.chart.get("upper bust girth")
    if frame is not None and case.said("bust"):
        # What the whole of her is larger than the chart's body is a matter of the size, not of the bust.
        surplus = lacks + high - (upper.value - frame)
    words = (f"Your full bust is {case.show(full.value - upper.value)} more than your upper bust, and the pattern is "
             f"drafted for {case.show(case.drafted_cup)}; this bodice measures {case.show(drawn.value)} at the bust "
             f"and you {case.show(full.value)}, an ease of {case.show(-lacks)}")
    # Room is added for the cup, but not beyond the usual ease; and taken off only as far as the usual ease remains.
    needed = max(min(surplus, lacks + high), 0.0) if surplus > 0 else max(surplus, min(0.0, lacks + low))
    if abs(needed) < 1e-9:
        so = ("and that is enough: no room has to be added" if surplus > 0 else
              f"and taking room away would leave less than {case.show(low)}" if surplus < 0 else "and it fits")
        return case.known(0.0, f"{words}, {so}.", full.spread, upper.spread)
    return case.known(
        needed / 2, f"{words}; with {case.show(abs(needed))} {'more' if needed > 0 else 'less'} it is "
        f"{case.show(needed - lacks)}: {'open' if needed > 0 else 'lap'} half of that on the half front.",
        (full.spread or 0.0) / 2, (upper.spread or 0.0) / 2)


def _bust_dart_height(case: Case) -> Known:
    front, bust = _front(case)
    neck = place(front, "neck point")
    if neck is None:
        raise case.cannot(f'"{front.name}" shows no neck point', "name its edges in the labels file")
    drawn, taken = case.read("neck point to bust point"), case.tape("neck shoulder point to bust point")
    aims = taken.value + case.ease("neck point to bust point", 0.0)
    across = abs((bust - neck).real)
    if aims <= across:
        raise case.cannot(f"{case.show(taken.value)} from the neck point do not reach the bust point, which lies "
                          f"{case.show(across)} to the side", "measure again")
    lower = bust.imag - (neck.imag - sqrt(aims**2 - across**2))
    return case.known(
        lower, f"Your bust point is {case.show(taken.value)} below the shoulder neck point; this front aims at "
        f"{case.show(drawn.value)}; {'lower' if lower >= 0 else 'raise'} the dart {case.show(abs(lower))}.",
        taken.spread, drawn.spread)


def _bust_dart_point(case: Case) -> Known:
    front, _ = _front(case)
    drawn, taken = case.read("bust point to centre"), case.tape("bust point width")
    dart = next((d for d in front.darts if d.name == "bust dart"), None)
    if dart is None and case.options.get("way") != "in":
        raise case.cannot(f'"{front.name}" has no bust dart', "name the dart in the labels file")
    inward = drawn.value - taken.value / 2
    at = case.flat.get("dart point to centre")
    if at is not None and dart is not None:
        inward = at.value - taken.value / 2 - case.ease("dart point to centre", at.value - drawn.value)
    words = (f"Your bust points are {case.show(taken.value)} apart, {case.show(taken.value / 2)} from the centre; this "
             f"front has its bust point at {case.show(drawn.value)}; move the point of the dart "
             f"{case.show(abs(inward))} {'in' if inward >= 0 else 'out'}")
    errors = ((taken.spread or 0.0) / 2, drawn.spread)
    if case.options.get("way") == "in" or dart is None:
        return case.known(inward, f"{words}.", *errors)
    axis = unit(dart.apex - sum(front.feet(dart)) / 2)
    return case.known(inward * abs(axis.real), f"{words}, along the dart.", *errors)


def _front(case: Case) -> tuple[Piece, Point]:
    """The front that shows the bust point, and where it lies on it."""
    found = Laid(case.garment).bust
    if found is None:
        raise case.cannot("no piece shows a bust point or a bust dart", "mark the bust point in the labels file")
    return found[0], found[1].at


ROOM = (
    Rule("bust dart point", ("bust point width",), _bust_dart_point, lambda case: ({"way": "in"},)),
    Rule("full bust", ("bust girth", "upper bust girth"), _full_bust),
    Rule("full bust princess", ("bust girth", "upper bust girth"), _full_bust),
    Rule("full bust dartless", ("bust girth", "upper bust girth"), _full_bust),
)

RULES = (Rule("bust dart height", ("neck shoulder point to bust point",), _bust_dart_height),)
