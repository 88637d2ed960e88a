"""Full bust and small bust on a darted bodice: cut waist, bust point, armhole, dart; open or lap; level the waist."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import cos, sin, sqrt

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Alteration, Change, Need, Options, Picture, Size, too_much
from toilewright.fit.frame import (
    BUST_POINT_BEYOND,
    bust_dart,
    bust_point,
    centre_of,
    down,
    need_edges,
    needed_piece,
    outward,
)
from toilewright.fit.moves.darts import axis
from toilewright.fit.moves.edges import corner, ends_at, redraw_across, redraw_edge, reline, soften
from toilewright.fit.moves.ring import Carried, Place, Region, carry, crossing, point_of
from toilewright.fit.result import Card, Order
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, turn, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart, EdgeKind
from toilewright.pattern.piece import Piece

NAME = "full bust"

HINGE_SHARE = 0.4
"""Of the armhole from the underarm up: where the cut meets it when there is no front notch (lower third to half)."""

WAIST_DART_STOPS = 18.0
"""mm below the bust point (15 to 20; common practice)."""

LEAST_DART = 6.0
"""mm; a dart narrower than this cannot be sewn (common practice)."""


WIDEST_SWING = 0.45
"""radians; how far the side may swing before armhole and side seam are misshapen (our own choice)."""


@dataclass(frozen=True, slots=True)
class _Cuts:
    """Where the cuts run: hinge on the armhole, the pivot at the bust, the foot of the long cut, level of the third."""

    dart: Dart
    waist_dart: Dart | None
    edge: str
    hinge: Place
    pivot: Point
    foot: Place
    level: Place
    crossing: Point


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Front wider by `amount` mm at the bust line on each half, longer with it; a negative amount makes a small bust.

    Armhole, shoulder and neck keep their lengths, and so do side seam and waist once the darts are sewn: what the
    waist gains goes into the waist dart, which is made if there is none.

    Options:
        piece: ``bodice front`` unless told otherwise.

    Raises:
        AlterationError: a dart or an edge is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, NAME, options, "bodice front")
    dart = bust_dart(piece, NAME)
    need_edges(piece, NAME, "armhole", dart.edge)
    cuts = _cuts(piece, dart)
    swing, opened, drop = _opening(piece, cuts, amount)
    carried, aim = _carry(piece, cuts, swing, opened, drop)
    altered = soften(carried.piece, "armhole", carried.at("armhole", cuts.hinge.at))
    level = tuple(carried.at(cuts.level.edge, cuts.level.at, after) for after in (False, True))
    altered = redraw_edge(altered, redraw_across(altered, cuts.level.edge, *level))
    altered = _waist_taken_in(altered, carried, cuts, amount, aim)
    altered = replace(_levelled(piece, altered, aim), landmarks=tuple(
        replace(m, at=aim) if m.name == "bust point" else m for m in altered.landmarks))
    w, low = point_of(piece, cuts.foot), altered.edge(cuts.edge).path
    up = down(piece) * -25
    opened_dart = altered.dart(dart.name)
    mouth = altered.edge(dart.edge).path.point_at((opened_dart.start + opened_dart.end) / 2)
    hinge = point_of(piece, cuts.hinge)
    near = (low.start, low.end, mouth, w - up / 2, corner(altered, "armhole", dart.edge), hinge + up)
    picture = Picture(_parts(cuts, carried.regions, ends_at(piece, dart.edge, "armhole")), (), (hinge,),
                      (Size(w + down(piece) * drop, w + opened, down(piece)),), near, {"bust point": aim})
    numbers = {"drop": drop, "dart": abs(opened_dart.end - opened_dart.start), "old dart": dart.end - dart.start}
    return Change(garment.with_piece(altered), {piece.name: picture}, numbers)


def _parts(cuts: _Cuts, regions: tuple[Region, ...], side_last: bool) -> tuple[Region, ...]:
    """The paper as it is cut: through the middle of the darts, whose halves go with the parts beside them."""
    mouth, foot = Place(cuts.dart.edge, (cuts.dart.start + cuts.dart.end) / 2), cuts.foot
    if side_last:
        return (regions[0], replace(regions[1], end=foot), replace(regions[2], start=foot, end=mouth),
                replace(regions[3], start=mouth))
    return (regions[0], replace(regions[1], end=mouth), replace(regions[2], start=mouth, end=foot),
            replace(regions[3], start=foot))


# -- where to cut -----------------------------------------------------------------------------------


def _cuts(piece: Piece, dart: Dart) -> _Cuts:
    low = next((e for e in ("waist", "hem") if piece.has_edge(e)), None)
    centre = centre_of(piece)
    if low is None or centre is None:
        raise AlterationError(f'"{NAME}" on "{piece.name}" needs the edges "centre front" and "waist" (or "hem"); name '
                              "them in the labels file.")
    way = down(piece)
    at = axis(piece, dart)
    drawn = bust_point(piece, dart)
    pivot = dart.apex + at * dot(drawn - dart.apex, at)  # on the dart's axis, so that both legs stay equal
    waist_dart = next((d for d in piece.darts_on(low) if abs(dot(d.apex - pivot, way * 1j)) < 40.0), None)
    foot = Place(low, (waist_dart.start + waist_dart.end) / 2) if waist_dart else crossing(piece, low, pivot, way)
    if foot is None:
        raise AlterationError(f'"{NAME}" on "{piece.name}" cuts from the bust point straight down, but does not reach '
                              f'"{low}"; compare the names of the edges in the labels file.')
    hinge = _hinge(piece)
    end = point_of(piece, foot)
    line = piece.line("lengthen or shorten")
    height = dot(line.start - pivot, way) if line else 0.0
    depth = dot(end - pivot, way)
    if not 0.25 * depth < height < 0.95 * depth:
        height = 0.6 * depth
    across = pivot + (end - pivot) * (height / depth)
    level = crossing(piece, centre, across, way * 1j)
    if level is None:
        raise AlterationError(f'"{NAME}" on "{piece.name}" levels the waist with a cut to "{centre}", which it does '
                              "not reach; compare the names of the edges in the labels file.")
    return _Cuts(dart, waist_dart, low, hinge, pivot, foot, level, across)


def _hinge(piece: Piece) -> Place:
    notch = next((n for n in piece.notches if n.edge == "armhole" and n.name == "front notch"), None)
    if notch is not None:
        return Place("armhole", notch.at)
    length = piece.edge("armhole").path.length
    return Place("armhole", HINGE_SHARE * length if not ends_at(piece, "armhole", "side seam")
                 else (1 - HINGE_SHARE) * length)


# -- how far it opens -------------------------------------------------------------------------------


def _opening(piece: Piece, cuts: _Cuts, amount: float) -> tuple[float, Point, float]:
    """Angle at the hinge, how the pivot moves, and how far that is down (mm)."""
    out, way = outward(piece, cuts.dart.edge), down(piece)
    arm = cuts.pivot - point_of(piece, cuts.hinge)
    x, y = dot(arm, out), dot(arm, way)
    radius = abs(arm)
    why, most = _most(piece, cuts, x, abs(y), amount > 0)
    if abs(amount) > abs(most):
        raise too_much(NAME, amount, piece.name, why, most)
    new_x = x + amount
    new_y = sqrt(radius * radius - new_x * new_x)
    swing = turn(arm, out * new_x + way * (new_y if y > 0 else -new_y))
    return swing, out * amount + way * (new_y - abs(y)), new_y - abs(y)


def _most(piece: Piece, cuts: _Cuts, x: float, y: float, opens: bool) -> tuple[str, float]:
    """What stops the opening (or the lap), and the most that fits (mm, signed).

    Args:
        x, y: from the hinge out and down to the pivot (mm).
    """
    def at(angle: float) -> float:
        return x * cos(angle) + y * sin(angle) - x

    if opens:
        return "swings the side so far that the armhole would not lie flat", at(WIDEST_SWING)
    first, second = piece.feet(cuts.dart)
    spare = abs(turn(first - cuts.pivot, second - cuts.pivot)) - LEAST_DART / abs(first - cuts.pivot)
    limits = [("uses up the whole bust dart", min(at(-max(spare, 0.0)), 0.0))]
    if cuts.waist_dart is not None:
        limits.append(("uses up the whole waist dart",
                       -max(cuts.waist_dart.end - cuts.waist_dart.start - LEAST_DART, 0.0)))
    return max(limits, key=lambda limit: limit[1])


def _carry(piece: Piece, cuts: _Cuts, swing: float, opened: Point, drop: float) -> tuple[Carried, Point]:
    """The four regions moved; and where the bust point then lies."""
    way = down(piece)
    dart, low = cuts.dart, cuts.edge
    first, second = Place(dart.edge, dart.start), Place(dart.edge, dart.end)
    if cuts.waist_dart:
        foot_in, foot_out = Place(low, cuts.waist_dart.start), Place(low, cuts.waist_dart.end)
    else:
        foot_in = foot_out = cuts.foot
    turned = Affine.turn(swing, point_of(piece, cuts.hinge))
    side, sunk = Affine.shift(opened), Affine.shift(way * drop)
    p, q = cuts.pivot, cuts.crossing
    if ends_at(piece, dart.edge, "armhole"):  # waist before side seam on the ring
        regions = (Region(cuts.hinge, cuts.level, (q, p), None), Region(cuts.level, foot_in, (q,), sunk),
                   Region(foot_out, first, (p,), side), Region(second, cuts.hinge, (p,), turned))
    else:
        regions = (Region(cuts.level, cuts.hinge, (p, q), None), Region(cuts.hinge, first, (p,), turned),
                   Region(second, foot_in, (p,), side), Region(foot_out, cuts.level, (q,), sunk))
    aim = p + opened / 2
    new_feet = [turned(f) if moved else side(f) for f, moved in zip(
        piece.feet(dart), (False, True) if ends_at(piece, dart.edge, "armhole") else (True, False), strict=True)]
    apexes = {dart.name: _point_short_of(p + opened, sum(new_feet) / 2, aim, abs(dart.apex - p))}
    if cuts.waist_dart:
        apexes[cuts.waist_dart.name] = cuts.waist_dart.apex + opened / 2
    return carry(piece, regions, apexes=apexes), aim


def _point_short_of(pivot: Point, mouth: Point, aim: Point, stops: float) -> Point:
    """The point on the new dart's axis that stops as far short of the bust point as the old one did."""
    along = unit(mouth - pivot)
    forward = dot(aim - pivot, along)
    off = abs(aim - (pivot + along * forward))
    reach = max(stops, BUST_POINT_BEYOND * 0.4)
    return pivot + along * (forward + sqrt(max(reach * reach - off * off, 1.0)))


def _waist_taken_in(piece: Piece, carried: Carried, cuts: _Cuts, amount: float, aim: Point) -> Piece:
    """Without a waist dart: the gap at the waist becomes one, or the waist is drawn across it."""
    if cuts.waist_dart is not None:
        return piece
    start, end = (carried.at(cuts.edge, cuts.foot.at, after) for after in (False, True))
    if amount < LEAST_DART or piece.edge(cuts.edge).kind is EdgeKind.HEM:
        return redraw_edge(piece, redraw_across(piece, cuts.edge, start, end))
    apex = aim + down(piece) * WAIST_DART_STOPS
    return replace(piece, darts=(*piece.darts, Dart("waist dart", cuts.edge, start, end, apex)))


def _levelled(before: Piece, piece: Piece, aim: Point) -> Piece:
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


def _card(order: Order, change: Change) -> Card:
    amount, n = order.amount.value, change.numbers
    by = f"{{{abs(amount):.1f} mm}}"
    full = amount > 0
    steps = (
        "Rule a line along the grain from the waist (middle of its dart) to the bust point and on to the armhole "
        "notch; another along the middle of the bust dart.",
        "Cut the first up to the armhole seam line, not through it, and snip the allowance from outside. Cut the "
        "second to the bust point, leaving a paper hinge.",
        f"{'Open' if full else 'Lap'} the cut by {by} at the bust point, its edges below it parallel: the dart "
        f"{'widens' if full else 'narrows'} by itself from {{{n['old dart']:.0f} mm}} to {{{n['dart']:.0f} mm}}.",
        f"Cut across the centre part, square to the grain, and move it {{{abs(n['drop']):.1f} mm}} "
        f"{'down' if full else 'up'}, until the waist is level. Tape; round off the armhole.",
        f"Mark the new bust point in the middle of the {'opening' if full else 'lap'}; the dart stops short of it as "
        f"before. True its mouth; {'take' if full else 'let'} {by} {'up in' if full else 'out of'} the waist dart.")
    check = (f"The front half is {by} {'wider' if full else 'narrower'} at the bust line.",
             "Armhole, shoulder, neck and the closed side seam are as long as before.")
    return Card("Full bust" if full else "Small bust", ("paper", "tape", "ruler", "French curve", "scissors"), steps,
                check, SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; Liechty and others (1992), from memory"

ALTERATION = Alteration(
    NAME, ("small bust", "full bust adjustment", "small bust adjustment"),
    (-25.0, 60.0), SOURCE, 2, apply, _card,
    {"small bust": -1.0, "small bust adjustment": -1.0},
    needs=(Need("bodice front", ("armhole",), ("bust dart",)),),
    instead='give length with "lengthen or shorten" and width with "waist in or out"')

