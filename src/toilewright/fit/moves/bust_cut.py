"""The cut of a full bust: waist, bust point and armhole, the side to the bust point, and across the centre to level.

The part beside the armhole swings about a hinge there, the part beside the side seam moves out and down with it, the
part at the centre below the third cut goes down until the waist is level. Lapped, the same makes a small bust.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import cos, sin, sqrt

from toilewright.errors import AlterationError, GeometryError
from toilewright.fit.frame import BUST_POINT_BEYOND, centre_of, down, outward
from toilewright.fit.moves.edges import ends_at, redraw_across, redraw_edge, reline, soften
from toilewright.fit.moves.ring import Carried, Place, Region, carry, crossing, point_of
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, turn, unit
from toilewright.pattern.parts import Dart, EdgeKind
from toilewright.pattern.piece import Piece

HINGE_SHARE = 0.4
"""Of the armhole from the underarm up: where the cut meets it when there is no front notch (lower third to half)."""

WAIST_DART_STOPS = 18.0
"""mm below the bust point (15 to 20; common practice)."""

LEAST_DART = 6.0
"""mm; a dart narrower than this cannot be sewn (common practice)."""

WIDEST_SWING = 0.45
"""radians; how far the side may swing before armhole and side seam are misshapen (our own choice)."""


@dataclass(frozen=True, slots=True)
class BustCut:
    """Where the cuts run.

    Attributes:
        mouth: the feet of the dart that is cut along; twice the same place where there is none yet.
        dart, waist_dart: what is there.
        low: the edge at which the long cut starts, at `foot`.
        hinge: on the armhole.
        pivot: at the bust, where the cuts meet.
        level: where the third cut reaches the centre; it leaves the long cut at `crossing`.
        bust: the bust point as it is marked; the pivot where it is not.
    """

    mouth: tuple[Place, Place]
    dart: Dart | None
    waist_dart: Dart | None
    low: str
    hinge: Place
    pivot: Point
    foot: Place
    level: Place
    crossing: Point
    bust: Point


@dataclass(frozen=True, slots=True)
class OpenedBust:
    """The piece with its cuts opened and healed, all but the side; where the bust point now is; how far it all went."""

    piece: Piece
    carried: Carried
    aim: Point
    out: Point
    drop: float


def bust_cut(piece: Piece, name: str, pivot: Point, mouth: tuple[Place, Place], dart: Dart | None = None) -> BustCut:
    """The cuts of a full bust.

    Args:
        name: of the alteration, for what it says when something is missing.

    Raises:
        AlterationError: an edge is missing, or a cut does not reach its edge.
    """
    low = next((e for e in ("waist", "hem") if piece.has_edge(e)), None)
    centre = centre_of(piece)
    if low is None or centre is None:
        raise AlterationError(f'"{name}" on "{piece.name}" needs the edges "centre front" and "waist" (or "hem"); name '
                              "them in the labels file.")
    way = down(piece)
    waist_dart = next((d for d in piece.darts_on(low) if abs(dot(d.apex - pivot, way * 1j)) < 40.0), None)
    foot = Place(low, (waist_dart.start + waist_dart.end) / 2) if waist_dart else crossing(piece, low, pivot, way)
    if foot is None:
        raise AlterationError(f'"{name}" on "{piece.name}" cuts from the bust point straight down, but does not reach '
                              f'"{low}"; compare the names of the edges in the labels file.')
    end = point_of(piece, foot)
    line = piece.line("lengthen or shorten")
    height = dot(line.start - pivot, way) if line else 0.0
    depth = dot(end - pivot, way)
    if not 0.25 * depth < height < 0.95 * depth:
        height = 0.6 * depth
    across = pivot + (end - pivot) * (height / depth)
    level = crossing(piece, centre, across, way * 1j)
    if level is None:
        raise AlterationError(f'"{name}" on "{piece.name}" levels the waist with a cut to "{centre}", which it does '
                              "not reach; compare the names of the edges in the labels file.")
    return BustCut(mouth, dart, waist_dart, low, armhole_hinge(piece), pivot, foot, level, across,
                   pivot if (marked := piece.landmark("bust point")) is None else marked)


def armhole_hinge(piece: Piece) -> Place:
    """Where a cut from the bust meets the armhole: at its notch, or in its lower half."""
    notch = next((n for n in piece.notches if n.edge == "armhole" and n.name == "front notch"), None)
    if notch is not None:
        return Place("armhole", notch.at)
    length = piece.edge("armhole").path.length
    from_side = not ends_at(piece, "armhole", "side seam") if piece.has_edge("side seam") else True
    return Place("armhole", HINGE_SHARE * length if from_side else (1 - HINGE_SHARE) * length)


# -- how far it opens -------------------------------------------------------------------------------


def opening(piece: Piece, pivot: Point, hinge: Place, out: Point, amount: float) -> tuple[float, float]:
    """Angle at the hinge, and how far the pivot sinks (mm), when it moves out by an amount."""
    way = down(piece)
    arm = pivot - point_of(piece, hinge)
    x, y = dot(arm, out), dot(arm, way)
    new_x = x + amount
    if abs(new_x) >= abs(arm):
        raise GeometryError(f"The bust point does not move {abs(amount) / 10:.1f} cm across about the armhole's hinge.")
    new_y = sqrt(abs(arm) ** 2 - new_x * new_x)
    return turn(arm, out * new_x + way * (new_y if y > 0 else -new_y)), new_y - abs(y)


def lapped_at(piece: Piece, bust: Point, out: Point, amount: float) -> Point:
    """Where the part beside the armhole is taken hold of so that, lapped, it undoes an opening by as much.

    An opening leaves the bust point half way between the two lips; what is lapped is the outer one.
    """
    way = down(piece)
    arm = bust - point_of(piece, armhole_hinge(piece))
    x, y = dot(arm, out), dot(arm, way)
    return bust - (out * amount - way * (x * amount / y)) / 2 if abs(y) > abs(x) / 4 else bust


def most_that_opens(piece: Piece, cut: BustCut, opens: bool) -> tuple[str, float]:
    """What stops the opening (or the lap), and the most that fits (mm, signed)."""
    arm = cut.pivot - point_of(piece, cut.hinge)
    x, y = dot(arm, outward(piece, cut.mouth[0].edge)), abs(dot(arm, down(piece)))

    def at(angle: float) -> float:
        return x * cos(angle) + y * sin(angle) - x

    if opens:
        return "swings the side so far that the armhole would not lie flat", at(WIDEST_SWING)
    limits = [("swings the side so far that the armhole would not lie flat", at(-WIDEST_SWING))]
    if cut.dart is not None:
        first, second = piece.feet(cut.dart)
        spare = abs(turn(first - cut.pivot, second - cut.pivot)) - LEAST_DART / abs(first - cut.pivot)
        limits.append(("uses up the whole bust dart", min(at(-max(spare, 0.0)), 0.0)))
    if cut.waist_dart is not None:
        limits.append(("uses up the whole waist dart",
                       -max(cut.waist_dart.end - cut.waist_dart.start - LEAST_DART, 0.0)))
    return max(limits, key=lambda limit: limit[1])


def open_bust(piece: Piece, cut: BustCut, amount: float) -> OpenedBust:
    """Open the cuts by an amount at the bust point (lap when negative), and draw anew what they broke.

    Armhole, shoulder and neck keep their lengths; what the waist gains goes into the waist dart, which is made where
    there is none. The bust dart grows by itself; a new one is left as a gap in the side.
    """
    out = outward(piece, cut.mouth[0].edge)
    swing, drop = opening(piece, cut.pivot, cut.hinge, out, amount)
    moved = out * amount + down(piece) * drop
    aim = cut.bust + moved / 2
    carried = _carried(piece, cut, swing, moved, drop, aim)
    altered = soften(carried.piece, "armhole", carried.at("armhole", cut.hinge.at))
    level = tuple(carried.at(cut.level.edge, cut.level.at, after) for after in (False, True))
    altered = redraw_edge(altered, redraw_across(altered, cut.level.edge, *level))
    altered = _waist_taken_in(altered, carried, cut, amount, aim)
    altered = replace(levelled(piece, altered, aim), landmarks=tuple(
        replace(m, at=aim) if m.name == "bust point" else m for m in altered.landmarks))
    return OpenedBust(altered, carried, aim, moved, drop)


def _carried(piece: Piece, cut: BustCut, swing: float, moved: Point, drop: float, aim: Point) -> Carried:
    """The four regions moved."""
    first, second = cut.mouth
    feet = (Place(cut.low, cut.waist_dart.start), Place(cut.low, cut.waist_dart.end)) if cut.waist_dart else (
        cut.foot, cut.foot)
    turned = Affine.turn(swing, point_of(piece, cut.hinge))
    side, sunk = Affine.shift(moved), Affine.shift(down(piece) * drop)
    p, q = cut.pivot, cut.crossing
    upper_last = ends_at(piece, first.edge, "armhole")
    if upper_last:  # waist before side seam on the ring
        regions = (Region(cut.hinge, cut.level, (q, p), None), Region(cut.level, feet[0], (q,), sunk),
                   Region(feet[1], first, (p,), side), Region(second, cut.hinge, (p,), turned))
    else:
        regions = (Region(cut.level, cut.hinge, (p, q), None), Region(cut.hinge, first, (p,), turned),
                   Region(second, feet[0], (p,), side), Region(feet[1], cut.level, (q,), sunk))
    apexes = {}
    if cut.dart is not None:
        maps = (side, turned) if upper_last else (turned, side)
        middle = sum(m(f) for m, f in zip(maps, piece.feet(cut.dart), strict=True)) / 2
        apexes[cut.dart.name] = short_of(p + moved, middle, aim, abs(cut.dart.apex - cut.bust))
    if cut.waist_dart is not None:
        apexes[cut.waist_dart.name] = cut.waist_dart.apex + moved / 2
    return carry(piece, regions, apexes=apexes)


def short_of(pivot: Point, mouth: Point, aim: Point, stops: float) -> Point:
    """The point on the axis from a pivot to the middle of a mouth that stops so far short of the bust point (mm)."""
    along = unit(mouth - pivot)
    forward = dot(aim - pivot, along)
    off = abs(aim - (pivot + along * forward))
    reach = max(stops, BUST_POINT_BEYOND * 0.4)
    return pivot + along * (forward + sqrt(max(reach * reach - off * off, 1.0)))


def _waist_taken_in(piece: Piece, carried: Carried, cut: BustCut, amount: float, aim: Point) -> Piece:
    """Without a waist dart: the gap at the waist becomes one, or the waist is drawn across it."""
    if cut.waist_dart is not None:
        return piece
    start, end = (carried.at(cut.low, cut.foot.at, after) for after in (False, True))
    if amount < LEAST_DART or piece.edge(cut.low).kind is EdgeKind.HEM:
        return redraw_edge(piece, redraw_across(piece, cut.low, start, end))
    return replace(piece, darts=(*piece.darts, Dart("waist dart", cut.low, start, end,
                                                    aim + down(piece) * WAIST_DART_STOPS)))


def levelled(before: Piece, piece: Piece, aim: Point) -> Piece:
    """Lines across the grain that the cuts have tilted, drawn level again: through the bust point or their side end."""
    across = down(piece) * 1j
    lines = []
    for old, new in zip(before.lines, piece.lines, strict=True):
        a, b = new.path.start, new.path.end
        was = old.path.end - old.path.start
        if abs(dot(b - a, across * 1j)) > 1e-6 and abs(dot(was, across * 1j)) < 0.02 * abs(was):
            through = aim if old.name == "bust line" else max((a, b), key=lambda p: abs(dot(p - aim, across)))
            ends = [p + across * 1j * dot(through - p, across * 1j) for p in (a, b)]
            new = replace(new, path=Path.line(*ends))
        lines.append(new)
    return reline(before, replace(piece, lines=tuple(lines)), *(e.name for e in piece.edges))


def paper_parts(cut: BustCut, regions: tuple[Region, ...], side_last: bool) -> tuple[Region, ...]:
    """The paper as it is cut: through the middle of the darts, whose halves go with the parts beside them."""
    mouth, foot = Place(cut.mouth[0].edge, (cut.mouth[0].at + cut.mouth[1].at) / 2), cut.foot
    if side_last:
        return (regions[0], replace(regions[1], end=foot), replace(regions[2], start=foot, end=mouth),
                replace(regions[3], start=mouth))
    return (regions[0], replace(regions[1], end=mouth), replace(regions[2], start=mouth, end=foot),
            replace(regions[3], start=foot))
