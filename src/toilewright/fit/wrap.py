"""Is she covered in a wrap skirt: standing, sitting, stepping? Worked out from how the cloth goes round her.

Standing, the ends lie over each other by what the pieces have. Sitting, the seat spreads and both knees have to be gone
round; the cloth for it comes out of the overlap. Stepping, the legs part: the nearer the hem, the wider, and the cloth
has to go round both. What it needs beyond its own girth the free edge gives by travelling back over the overlap; what
even that does not give opens. Where nothing was measured, the shares of the body come from the US Army survey of 1988.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import hypot, pi

from toilewright.body.tape import Body
from toilewright.fit.flat.laid import HIP_DEPTH, LINE_ERROR, Laid, wrap_centre
from toilewright.fit.levels import place, width_at
from toilewright.known import Known, Origin
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece
from toilewright.units import show_length

STEP = 0.41
"""length of a step as a share of the stature: an easy pace (from memory of gait studies; a hurried one is longer)."""

SITS_WIDER = 0.068
"""by how much the hip's girth grows when she sits, as a share: the seat of 2,208 women of the US Army survey of 1988
was 42 mm broader sitting than standing at a hip of 967 mm; an oval keeps its depth."""

KNEES_APART = 80.0
"""mm between the knees of somebody who sits at ease (common practice, no published source)."""

SPARE = 80.0
"""mm of overlap that should be left, as cloth slides (a hand's breadth; common practice, no published source)."""

SEATED_SHARE = (1 / 3, 1 / 2)
"""of the waist: the overlap that is asked of a wrap which is to cover when seated (common practice)."""

_OF_HIP = {"thigh": 0.600, "knee": 0.378}
"""Girths of a leg as shares of the hip (women of the US Army survey of 1988)."""

_OF_STATURE = {"inside leg": 0.473, "knee height": 0.282, "waist height": 0.648}
"""Heights as shares of the stature (the same)."""

_USUAL = {"stature": 1650.0, "hip girth": 1000.0}
"""mm; taken where the tape sheet says neither (common practice)."""


_HAIR = 1.0
"""mm below the waist, where its width is taken: on the seam line itself it would be that of a point."""


class Pose(StrEnum):
    """What she does."""

    STANDING = "standing"
    SITTING = "sitting"
    STEPPING = "stepping"


@dataclass(frozen=True, slots=True)
class Level:
    """A wrap at one height.

    Attributes:
        depth: below the waist, along the cloth (mm).
        girth: once round, from centre to centre, the overlap not counted.
        overlap: how far one end lies over the other.
    """

    depth: float
    girth: float
    overlap: float


@dataclass(frozen=True, slots=True)
class Wrap:
    """A wrap skirt: its levels from the waist down, hem last; at least two. `spread`: how sure they are (mm)."""

    levels: tuple[Level, ...]
    spread: float = 0.0

    @property
    def length(self) -> float:
        """From the waist to the hem (mm)."""
        return self.levels[-1].depth

    def at(self, depth: float) -> Level:
        """The wrap at any depth, straight between the levels that are known."""
        depth = min(max(depth, 0.0), self.length)
        above = max((n for n in self.levels[:-1] if n.depth <= depth), key=lambda n: n.depth)
        below = min((n for n in self.levels if n.depth >= depth and n is not above), key=lambda n: n.depth)
        between = below.depth - above.depth
        share = (depth - above.depth) / between if between > 0 else 0.0
        return Level(depth, above.girth + share * (below.girth - above.girth),
                     above.overlap + share * (below.overlap - above.overlap))


@dataclass(frozen=True, slots=True)
class Legs:
    """What a wrap has to go round (mm).

    Attributes:
        hip, thigh, knee: girths. waist, crotch, knee_height: heights above the floor.
        hip_depth: below the waist. step: from toe to toe.
    """

    hip: float
    thigh: float
    knee: float
    waist: float
    crotch: float
    knee_height: float
    hip_depth: float
    step: float


@dataclass(frozen=True, slots=True)
class Covered:
    """One answer.

    Attributes:
        covered: does any overlap remain wherever the pose asks for cloth?
        left: overlap that remains where it is scarcest (less than nothing: how far it opens).
        depth: where that is, below the waist (mm).
        travels: how far the free edge goes back over the other end, at most.
        hem_opens: how far the ends part at the hem.
        text: one sentence.
    """

    pose: Pose
    covered: bool
    left: Known
    depth: float
    travels: float
    hem_opens: float
    text: str


def cover(wrap: Wrap, legs: Legs, unit: str = "cm") -> tuple[Covered, ...]:
    """Is she covered standing, sitting and stepping?

    >>> wrap = Wrap((Level(0, 740, 280), Level(210, 1060, 280), Level(650, 1150, 280)))
    >>> legs = Legs(980, 590, 370, 1040, 780, 465, 210, 680)
    >>> [c.covered for c in cover(wrap, legs)]
    [True, True, True]
    """
    depths = sorted({n.depth for n in wrap.levels if n.depth > 0} | {legs.hip_depth, wrap.length})
    depths = [d for d in depths if d <= wrap.length]
    return tuple(_answer(pose, wrap, [(d, _wants(pose, legs, wrap, d)) for d in depths], unit) for pose in Pose)


def legs_of(body: Body) -> Legs:
    """What is known of a body, filled up with the shares of the survey."""

    def taken(name: str, otherwise: float) -> float:
        found = body.get(name)
        return found.value if found else otherwise

    stature, hip = (taken(n, _USUAL[n]) for n in ("stature", "hip girth"))
    return Legs(hip, taken("thigh girth", _OF_HIP["thigh"] * hip), taken("knee girth", _OF_HIP["knee"] * hip),
                taken("waist height", _OF_STATURE["waist height"] * stature), _OF_STATURE["inside leg"] * stature,
                _OF_STATURE["knee height"] * stature, taken("waist to hip", HIP_DEPTH), STEP * stature)


def wrap_of(garment: Garment, body: Body | None = None) -> Wrap | None:
    """The wrap skirt of a garment, measured off its pieces; None where it has none that reaches beyond its centre."""
    known = body.get("waist to hip") if body else None
    laid = Laid(garment, known and known.value)
    front = next((p for p in laid.wrap if wrap_centre(p) is not None), None)
    if front is None:
        return None
    top, low = wrap_centre(front), _hem_level(front)
    if top is None or low is None:
        return None
    length = top.imag - low
    hip = known.value if known else HIP_DEPTH
    depths = sorted({_HAIR, min(hip, 0.8 * length), *(length * k / 6 for k in (2, 3, 4, 5))})
    levels = [_level(laid.wrap, depth) for depth in depths]
    hems = sum(2 * p.sewn_length("hem") for p in laid.wrap if p.has_edge("hem"))
    return Wrap((*levels, Level(length, hems - levels[-1].overlap, levels[-1].overlap)), _spread(garment))


def _spread(garment: Garment) -> float:
    """How sure an overlap is: of tissue, as sure as the tape that took it (mm)."""
    return max((error for name, _, error in garment.taken or () if name.startswith("overlap")), default=2 * LINE_ERROR)


def _hem_level(front: Piece) -> float | None:
    """Height of the hem at the end of a wrap, where it is straight across; None without a hem."""
    if not front.has_edge("hem"):
        return None
    hem, centre = front.edge("hem").path, wrap_centre(front)
    return None if centre is None else hem.point_at(hem.nearest(complex(centre.real, hem.bounds[1]))[0]).imag


def _level(pieces: Sequence[Piece], depth: float) -> Level:
    girth, overlap = 0.0, 0.0
    for piece in pieces:
        centre, side = wrap_centre(piece), place(piece, "side waist")
        top = centre if centre is not None else place(piece, "centre waist")
        if top is None or side is None:
            continue
        inside, outside = (top.real, float("inf")), (float("-inf"), top.real)
        if side.real < top.real:
            inside, outside = outside, inside
        girth += 2 * width_at(piece, top.imag - depth, inside if centre is not None else None)
        overlap += 2 * width_at(piece, top.imag - depth, outside) if centre is not None else 0.0
    return Level(depth, girth, overlap)


# -- what a pose asks for --------------------------------------------------------------------------


def _wants(pose: Pose, legs: Legs, wrap: Wrap, depth: float) -> float:
    """Girth of cloth that the pose asks for at a depth (mm)."""
    if depth <= legs.hip_depth:
        grown = SITS_WIDER if pose is Pose.SITTING else 0.0
        return legs.hip * (1 + grown) * min(depth / legs.hip_depth, 1.0)
    if pose is Pose.STANDING:
        return _round_both(legs, depth, 0.0, 0.0)
    if pose is Pose.SITTING:
        return _round_both(legs, depth, KNEES_APART * _down_leg(legs, depth, legs.knee_height), 0.0)
    return _round_both(legs, depth, 0.0, legs.step * _down_leg(legs, depth, 0.0))


def _down_leg(legs: Legs, depth: float, height: float) -> float:
    """How far a depth lies on the way from the crotch (0) down to a height above the floor (1)."""
    return min(max(depth - (legs.waist - legs.crotch), 0.0) / (legs.crotch - height), 1.0)


def _round_both(legs: Legs, depth: float, between: float, stride: float) -> float:
    """Round two legs that stand `between` apart sideways and `stride` one before the other (mm)."""
    leg = _leg(legs, depth)
    return leg + 2 * hypot(leg / pi + between, stride)


def _leg(legs: Legs, depth: float) -> float:
    """Girth of one leg at a depth: from the thigh at the crotch to the knee, and as much below."""
    return legs.thigh + _down_leg(legs, depth, legs.knee_height) * (legs.knee - legs.thigh)


# -- the answer --------------------------------------------------------------------------------------


def _answer(pose: Pose, wrap: Wrap, wanted: Sequence[tuple[float, float]], unit: str) -> Covered:
    rows = []
    for depth, girth in wanted:
        level = wrap.at(depth)
        travels = max(girth - level.girth, 0.0)
        rows.append((level.overlap - travels, depth, travels))
    left, depth, _ = min(rows)
    travels = max(row[2] for row in rows)
    opens = max(-rows[-1][0], 0.0)
    known = Known(left, Origin.READ, wrap.spread, f"overlap left {pose}, {depth:.0f} mm below the waist")
    text = _said(pose, wrap, known, depth, travels, opens, unit)
    return Covered(pose, left > 0.0, known, depth, travels, opens, text)


def _said(pose: Pose, wrap: Wrap, left: Known, depth: float, travels: float, opens: float, unit: str) -> str:
    def show(mm: float) -> str:
        return show_length(mm, unit)

    if left.value <= 0.0:
        hem = f", and by {show(opens)} at the hem" if opens > 0.5 and depth < wrap.length else ""
        return (f"{pose.capitalize()}, she is not covered: the free edge travels {show(travels)}, and {show(depth)} "
                f"below the waist the ends part by {show(-left.value)}{hem}.")
    way = f"the free edge travels {show(travels)}" if travels >= 0.5 else "nothing pulls the free edge back"
    said = f"{pose.capitalize()}, she is covered: {way}, and {show(left.value)} of overlap are left"
    if left.value < SPARE + (left.spread or 0.0):
        return f"{said}; that is less than a hand's breadth, so a fastening or a wider wrap is safer."
    share = wrap.levels[0].overlap / wrap.levels[0].girth
    if pose is Pose.SITTING and share < SEATED_SHARE[0] - 0.005:
        return (f"{said}; the trade asks a third to a half of the waist to cover when seated, and this wrap has "
                f"{100 * share:.0f} % of it.")
    return f"{said}."
