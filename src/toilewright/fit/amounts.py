"""How much an alteration needs, from the tape against the pieces, where that can be computed.

Every amount is signed as its alteration says: high round back, longer, out, full bust (on each half), bust dart down,
dart point nearer to the bust point (or in) and shoulder forward are positive. Where flat pieces and a tape cannot tell,
the error says how to find out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import hypot, sqrt

from toilewright.body.tape import Body, missing
from toilewright.errors import AlterationError, NameUnknown
from toilewright.fit.ease import Girth, measure_garment
from toilewright.fit.handbook import DRAFTED_CUP, RULES
from toilewright.fit.levels import bodice_pieces, bust_point, centre_edge, fronts_first, place, upright
from toilewright.geometry.point import Point, unit
from toilewright.known import Known, Origin
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece
from toilewright.tolerance import WORTH_DOING
from toilewright.units import show_length

LENGTH_EASE = 5.0
"""mm by which a bodice usually is longer than the body, so that one can move (common practice, no published source)."""

ESTIMATED_BUST_POINT = 5.0
"""mm; how far a bust point told from its dart may be off (darts stop 1 to 2 1/2 in short: Threads no. 181)."""


@dataclass(frozen=True, slots=True)
class _Case:
    """One garment and one body, with what every rule asks of them."""

    name: str
    garment: Garment
    body: Body
    wanted: Mapping[str, float]
    options: Mapping[str, str]
    drafted_cup: float

    def show(self, mm: float) -> str:
        return show_length(mm, self.body.unit)

    def tape(self, measure: str) -> Known:
        """A measure that must be there."""
        taken = self.body.get(measure)
        if taken is None:
            raise AlterationError(f'The amount of "{self.name}" cannot be taken from the body: '
                                  f"{missing(self.body, measure)}")
        return taken

    def girth(self, where: str) -> Girth:
        """A size of the garment that must be measurable."""
        depth = self.body.get("waist to hip")
        rows = measure_garment(self.garment, depth and depth.value)
        for row in rows:
            if row.place.split(",")[0] == where:
                return row
        raise self.cannot(f"the pieces do not show the {where}", "measure it on a toile and write the amount")

    def cannot(self, why: str, way: str) -> AlterationError:
        return AlterationError(f'The amount of "{self.name}" cannot be computed here: {why}; {way}.')

    def bodice(self, side: str) -> Piece:
        """The bodice front or back, upright."""
        for piece in bodice_pieces(self.garment):
            if side in piece.name:
                return upright(piece)
        raise self.cannot(f"there is no bodice {side}", "write the amount yourself")

    def corner(self, piece: Piece, name: str) -> Point:
        found = place(piece, name)
        if found is None:
            raise self.cannot(f'"{piece.name}" shows no {name}', "name its edges in the labels file")
        return found

    def known(self, amount: float, reason: str, *spreads: float | None, origin: Origin = Origin.MEASURED) -> Known:
        """The amount with its reason; too small ones are called so."""
        if 0 < abs(amount) < WORTH_DOING:
            reason += (f" Under {self.show(WORTH_DOING)} an alteration is not worth doing: cloth, tape and hand are no "
                       "better.")
        return Known(amount, origin, hypot(*(s or 0.0 for s in spreads)), reason)


def auto_amount(alteration_name: str, garment: Garment, body: Body, wanted: Mapping[str, float] | None = None,
                options: Mapping[str, str] | None = None, drafted_cup: float = DRAFTED_CUP) -> Known:
    """The amount of an alteration (mm, signed), with its spread and one reason with numbers.

    Args:
        alteration_name: ``high round back``, ``forward shoulder``, ``bust dart height``, ``bust dart point``,
            ``full bust``, ``lengthen or shorten``, ``waist in or out`` or ``hip in or out``.
        wanted: by place, the ease she wants (mm), instead of what the handbooks ask.
        options: the alteration's further words: ``piece`` tells which piece is lengthened, ``way`` how the dart point
            goes.
        drafted_cup: for which full minus upper bust the pattern is drafted (mm), where its chart tells.

    Raises:
        AlterationError: a measure or a mark is missing, or a tape cannot tell; the sentence says what to do.
        NameUnknown: no amount can be taken for that name.
    """
    rule = _RULES.get(alteration_name)
    if rule is None:
        raise NameUnknown.among("alteration with an automatic amount", alteration_name, _RULES)
    return rule(_Case(alteration_name, garment, body, wanted or {}, options or {}, drafted_cup))


# -- back and shoulder -------------------------------------------------------------------------------


def _high_round_back(case: _Case) -> Known:
    back = case.bodice("back")
    centre = _centre_length(case, back)
    taken = case.tape("back neck point to waist")
    longer = taken.value + LENGTH_EASE - centre
    side = case.body.get("neck shoulder point to waist back")
    if side is None:
        words = (f"From nape to waist the back measures {case.show(taken.value)} and should have "
                 f"{case.show(LENGTH_EASE)} to move; the centre back of the piece measures {case.show(centre)}. "
                 'Measure "neck shoulder point to waist back" too: it tells a round back from a long one.')
        return _only_more(case, longer, words, taken.spread, 5.0)
    beside = _neck_to_waist(case, back)
    words = (f"From nape to waist the back measures {case.show(taken.value)}, the centre back of the piece "
             f"{case.show(centre)}; from the neck point to the waist the back measures {case.show(side.value)}, the "
             f"piece {case.show(beside)}: the difference is what the centre alone needs.")
    return _only_more(case, longer - (side.value + LENGTH_EASE - beside), words, taken.spread, side.spread)


def _only_more(case: _Case, amount: float, words: str, *spreads: float | None) -> Known:
    """A hump is added, never taken away."""
    if amount < 0:
        return case.known(0.0, f"{words} The piece is long enough there.", *spreads)
    return case.known(amount, words, *spreads)


def _centre_length(case: _Case, back: Piece) -> float:
    if not back.has_edge("centre back"):
        raise case.cannot(f'"{back.name}" has no edge "centre back"', "name its edges in the labels file")
    return back.edge("centre back").path.length


def _neck_to_waist(case: _Case, back: Piece) -> float:
    """Height of the neck point over the waist at the centre (mm)."""
    neck = case.corner(back, "neck point")
    return (neck - case.corner(back, "centre waist")).imag


def _forward_shoulder(case: _Case) -> Known:
    taken = case.body.get("forward shoulder")
    if taken is None:
        raise case.cannot(
            "a tape does not tell how far forward a shoulder lies",
            "on a toile or a well-fitting garment measure how far the shoulder bone lies in front of the seam, and "
            'write it in the tape sheet as "forward shoulder" or as the amount')
    return case.known(taken.value, f"The shoulder bone lies {case.show(taken.value)} in front of the seam of a garment "
                                   "that sits well at the neck.", taken.spread)


# -- bust --------------------------------------------------------------------------------------------


def _front_bust(case: _Case) -> tuple[Piece, Point, float]:
    """The front, its bust point, and how far that may be off (mm)."""
    for piece in fronts_first(bodice_pieces(case.garment)):
        front = upright(piece)
        spot = bust_point(front)
        if spot is not None:
            return front, spot.at, 0.5 if spot.origin is Origin.READ else ESTIMATED_BUST_POINT
    raise case.cannot("no piece shows a bust point or a bust dart", "mark the bust point in the labels file")


def _bust_dart_height(case: _Case) -> Known:
    front, bust, error = _front_bust(case)
    neck = case.corner(front, "neck point")
    taken = case.tape("neck shoulder point to bust point")
    across = abs((bust - neck).real)
    if taken.value <= across:
        raise case.cannot(f"{case.show(taken.value)} from the neck point do not reach the bust point, which lies "
                          f"{case.show(across)} to the side", "measure again")
    lower = bust.imag - (neck.imag - sqrt(taken.value**2 - across**2))
    return case.known(
        lower, f"From the neck point to the bust point the body measures {case.show(taken.value)}, the pattern "
        f"{case.show(abs(bust - neck))}, so the dart has to aim {case.show(abs(lower))} "
        f"{'lower' if lower >= 0 else 'higher'}.", taken.spread, error)


def _bust_dart_point(case: _Case) -> Known:
    front, bust, error = _front_bust(case)
    taken = case.tape("bust point width")
    centre = centre_edge(front)
    if centre is None:
        raise case.cannot(f'"{front.name}" has no edge "centre front"', "name its edges in the labels file")
    at = front.edge(centre).path
    drawn = abs((bust - at.point_at(at.nearest(bust)[0])).real)
    inward = drawn - taken.value / 2
    words = (f"The bust points lie {case.show(taken.value)} apart, so {case.show(taken.value / 2)} from the centre; "
             f"the pattern's lies {case.show(drawn)} from it: {case.show(abs(inward))} "
             f"{'in' if inward >= 0 else 'out'}")
    errors = ((taken.spread or 0.0) / 2, error)
    if case.options.get("way") == "in":
        return case.known(inward, f"{words}.", *errors)
    dart = next((d for d in front.darts if d.name == "bust dart"), None)
    if dart is None:
        raise case.cannot(f'"{front.name}" has no bust dart', "name the dart in the labels file")
    axis = unit(dart.apex - sum(front.feet(dart)) / 2)
    return case.known(inward * abs(axis.real), f"{words}, and the dart's point goes with it, along the dart.", *errors)


def _full_bust(case: _Case) -> Known:
    full, upper = case.tape("bust girth"), case.tape("upper bust girth")
    garment = case.girth("bust").value
    low, high = RULES["bust"].usual
    if "bust" in case.wanted:
        low = high = case.wanted["bust"]
    surplus = full.value - upper.value - case.drafted_cup
    lacks = full.value - garment.value
    # Room is added for the cup, but not beyond the usual ease; and taken off only as far as the usual ease remains.
    needed = min(surplus, lacks + (high or low)) if surplus > 0 else max(surplus, min(0.0, lacks + low))
    needed = max(needed, 0.0) if surplus > 0 else needed
    words = (f"Full minus upper bust is {case.show(full.value - upper.value)}, and the pattern is drafted for "
             f"{case.show(case.drafted_cup)}. The pieces measure {case.show(garment.value)} at the bust, the body "
             f"{case.show(full.value)}, so the ease is {case.show(-lacks)}")
    if abs(needed) < 1e-9:
        so = ("and that is enough: no room has to be added" if surplus > 0 else
              f"and taking room away would leave less than {case.show(low)}" if surplus < 0 else "and it fits")
        return case.known(0.0, f"{words}, {so}.", full.spread, upper.spread)
    return case.known(
        needed / 2, f"{words}; with {case.show(abs(needed))} {'more' if needed > 0 else 'less'} it is "
        f"{case.show(needed - lacks)}. Half of that on the half front.", (full.spread or 0.0) / 2,
        (upper.spread or 0.0) / 2)


# -- lengths and widths ------------------------------------------------------------------------------


def _lengthen(case: _Case) -> Known:
    name = case.options.get("piece", "")
    if name and not any(name == p.name for p in bodice_pieces(case.garment)):
        raise case.cannot(f'how long "{name}" should be is a matter of taste',
                          "measure on yourself where it is to end and write the amount")
    if "front" in name:
        return _lengthen_front(case)
    back = case.bodice("back")
    side = case.body.get("neck shoulder point to waist back")
    if side is not None:
        drawn = _neck_to_waist(case, back)
        words = "From the neck point down the back to the waist"
    else:
        side, drawn = case.tape("back neck point to waist"), _centre_length(case, back)
        words = "From nape to waist"
    longer = side.value + LENGTH_EASE - drawn
    return case.known(
        longer, f"{words} the body measures {case.show(side.value)} and should have {case.show(LENGTH_EASE)} to move; "
        f"the piece measures {case.show(drawn)}.", side.spread)


def _lengthen_front(case: _Case) -> Known:
    taken, drawn = case.tape("neck shoulder point to waist"), case.girth("front length").value
    longer = taken.value + LENGTH_EASE - drawn.value
    return case.known(
        longer, f"From the neck point over the bust to the waist the body measures {case.show(taken.value)} and should "
        f"have {case.show(LENGTH_EASE)} to move; the piece measures {case.show(drawn.value)}.", taken.spread,
        drawn.spread)


def _in_or_out(where: str) -> Callable[[_Case], Known]:
    def amount(case: _Case) -> Known:
        rule = RULES[where]
        taken, garment = case.tape(rule.measure), case.girth(where).value
        ease = garment.value - taken.value
        words = (f"The pieces measure {case.show(garment.value)} at the {where}, the body {case.show(taken.value)}: "
                 f"{case.show(ease)} of ease")
        if where in case.wanted:
            goal = case.wanted[where]
            return case.known(goal - ease, f"{words}; she wants {case.show(goal)}.", taken.spread, garment.spread)
        usual = rule.usual[1] or rule.usual[0]
        if ease < rule.minimum:
            return case.known(usual - ease, f"{words}; the handbooks ask {case.show(rule.minimum)} to "
                                            f"{case.show(usual)}.", taken.spread, garment.spread,
                              origin=Origin.HANDBOOK)
        more = f" (to bring it in, write the ease you want at the {where})" if ease > usual else ""
        return case.known(0.0, f"{words}, and the handbooks' least is {case.show(rule.minimum)}: enough{more}.",
                          taken.spread, garment.spread)
    return amount


_RULES: dict[str, Callable[[_Case], Known]] = {
    "high round back": _high_round_back,
    "forward shoulder": _forward_shoulder,
    "bust dart height": _bust_dart_height,
    "bust dart point": _bust_dart_point,
    "full bust": _full_bust,
    "lengthen or shorten": _lengthen,
    "waist in or out": _in_or_out("waist"),
    "hip in or out": _in_or_out("hip"),
}

USES: dict[str, tuple[str, ...]] = {
    "high round back": ("back neck point to waist", "neck shoulder point to waist back"),
    "forward shoulder": ("forward shoulder",),
    "bust dart height": ("neck shoulder point to bust point",),
    "bust dart point": ("bust point width",),
    "full bust": ("bust girth", "upper bust girth"),
    "lengthen or shorten": ("back neck point to waist", "neck shoulder point to waist back",
                            "neck shoulder point to waist"),
    "waist in or out": ("waist girth",),
    "hip in or out": ("hip girth", "waist to hip"),
}
"""By alteration, the measures that its amount is worked out from, on one piece or another."""
