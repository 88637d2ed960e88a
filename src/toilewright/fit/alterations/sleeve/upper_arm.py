"""Full or thin upper arm: the sleeve is cut down its middle and across its head, opened or lapped at the crossing."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

from toilewright.errors import GeometryError
from toilewright.fit.alterations.kinds import (
    PIECE,
    Alteration,
    Change,
    Need,
    Option,
    Options,
    Picture,
    Size,
    chosen,
    too_much,
)
from toilewright.fit.alterations.sleeve.head import CAP, UNDERARMS, Head, head_of, lines_follow, with_head, with_tip
from toilewright.fit.moves.edges import Redrawn, bend, corner, ends_at, redraw_edge
from toilewright.fit.moves.ring import Place, Region
from toilewright.fit.result import Card, Order
from toilewright.geometry.affine import Affine
from toilewright.geometry.point import Point, dot, turn, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "upper arm"

MOST_SHARE = 0.16
"""Of the width of the sleeve that one cut may give or take before the head is misshapen (our own choice)."""

HAIR = 0.05
"""mm from its end at which a cut that comes out at a corner meets the cap."""

FLATTEST = 0.995
"""Of both slopes of the head together that its width may measure: nearly flat, as in a shirt (our own choice)."""

HEAD = Option("head", "restore", "let fall")


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """The sleeve wider by `amount` mm at the upper arm (narrower when negative); underarm seams and hem as they were.

    Options:
        piece: ``sleeve`` unless told otherwise.
        head: ``restore``: the head is drawn anew at its old height, and grows; ``let fall``: it keeps its length, and
            gets lower as the sleeve gets wider.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    head = head_of(garment, NAME, options)
    across = head.ends[0] - head.ends[1]
    most = MOST_SHARE * abs(across)
    if abs(amount) > most:
        raise too_much(NAME, amount, head.sleeve.name, "pulls the head out of shape", most if amount > 0 else -most)
    swings, fell = _swings(head, unit(across) * amount / 2)
    _check_flat(head, swings, amount)
    halves = _halves(head, swings)
    if chosen(NAME, options, HEAD) == "let fall":
        fell = _as_long(head, swings, fell)
    sleeve = _redrawn(head, swings, head.bent(swings[0], Affine.shift(head.up * fell), swings[1]))
    altered, findings = with_head(garment, sleeve)
    return Change(altered, {sleeve.name: _picture(head, swings, halves, amount)}, {}, findings)


def _swings(head: Head, out: Point) -> tuple[tuple[Affine, Affine], float]:
    """How both underarm seams move: turned about the hem until their upper ends lie farther out by a vector.

    Their lengths are kept; where they lean differently they are slid a little, so that both ends stay level.

    Returns:
        the moves, and how far the ends rise (mm; negative when they fall).
    """
    turned = [_turned(head, side, way) for side, way in zip(head.sides, (out, -out), strict=True)]
    rises = [dot(move(p) - p, head.up) for move, p in zip(turned, head.ends, strict=True)]
    mean = sum(rises) / 2
    first, second = (move.then(Affine.shift(head.up * (mean - rise))) for move, rise in zip(turned, rises, strict=True))
    return (first, second), mean


def _turned(head: Head, side: str, by: Point) -> Affine:
    pivot = corner(head.sleeve, side, "hem")
    arm = corner(head.sleeve, side, CAP) - pivot
    along = unit(head.ends[0] - head.ends[1])
    sideways = dot(arm + by, along)
    if abs(sideways) >= abs(arm):
        raise GeometryError(f"The underarm seam cannot lean out by {abs(sideways) / 10:.1f} cm.")
    rest = arm - along * dot(arm, along)
    goal = along * sideways + unit(rest) * sqrt(abs(arm) ** 2 - sideways ** 2)
    return Affine.turn(turn(arm, goal), pivot)


def _check_flat(head: Head, swings: tuple[Affine, ...], amount: float) -> None:
    """Raise AlterationError where the two halves of the head no longer reach from underarm to underarm."""
    before, after = (abs(b - a) for a, b in (head.ends, [s(p) for s, p in zip(swings, head.ends, strict=True)]))
    most = FLATTEST * sum(abs(head.tip - p) for p in head.ends)
    if after > most:
        raise too_much(NAME, amount, head.sleeve.name, "leaves the head no height",
                       max(0.0, most - before) * amount / (after - before))


def _halves(head: Head, swings: tuple[Affine, ...]) -> tuple[Affine, Affine]:
    """How the two halves of the head move as they lie, the paper holding at the top and at both underarm corners."""
    (a, b), (c, d) = head.ends, (swing(p) for swing, p in zip(swings, head.ends, strict=True))
    first, second, gap = abs(head.tip - a), abs(head.tip - b), abs(d - c)
    along = (gap ** 2 + first ** 2 - second ** 2) / (2 * gap)
    square = unit(d - c) * 1j
    side = 1.0 if dot(square, head.up) > 0 else -1.0
    tip = c + unit(d - c) * along + square * side * sqrt(first ** 2 - along ** 2)
    return _carrying(a, head.tip, c, tip), _carrying(b, head.tip, d, tip)


def _carrying(a: Point, b: Point, to_a: Point, to_b: Point) -> Affine:
    return Affine.turn(turn(b - a, to_b - to_a), a).then(Affine.shift(to_a - a))


def _as_long(head: Head, swings: tuple[Affine, Affine], rise: float) -> float:
    """How far the top must rise for the head to keep its length (mm; the secant rule)."""
    def miss(by: float) -> float:
        return head.bent(swings[0], Affine.shift(head.up * by), swings[1]).path.length - head.cap.length

    x0, x1 = rise, rise - miss(rise)
    y0, y1 = miss(x0), miss(x1)
    for _ in range(12):
        if abs(y1) < 1e-6 or y1 == y0:
            break
        x0, x1, y0 = x1, x1 - y1 * (x1 - x0) / (y1 - y0), y1
        y1 = miss(x1)
    return x1


def _redrawn(head: Head, swings: tuple[Affine, ...], cap: Redrawn) -> Piece:
    sleeve, by_side = head.sleeve, dict(zip(head.sides, swings, strict=True))
    drawn = [Redrawn(e, sleeve.edge(e).path.mapped(by_side[e]), (0.0, n), (0.0, n))
             for e in UNDERARMS for n in (sleeve.edge(e).path.length,)]
    moved = dict(zip(head.ends, (s(p) for s, p in zip(swings, head.ends, strict=True)), strict=True))
    hem = sleeve.edge("hem").path
    first, last = (by_side[e] for e in sorted(UNDERARMS, key=lambda e: ends_at(sleeve, "hem", e)))
    fresh = bend(hem, Affine.shift(first(hem.start) - hem.start), Affine.shift(last(hem.end) - hem.end))
    drawn.append(Redrawn("hem", fresh, (0.0, hem.length), (0.0, fresh.length)))
    out = redraw_edge(sleeve, *drawn, cap, landmarks={
        m.name: to for m in sleeve.landmarks for old, to in moved.items() if abs(m.at - old) < 1e-3})
    out = replace(out, darts=tuple(replace(d, apex=by_side[d.edge](d.apex)) if d.edge in by_side else d
                                   for d in out.darts))
    return lines_follow(sleeve, with_tip(out, cap.at(head.top)))


def _picture(head: Head, swings: tuple[Affine, ...], halves: tuple[Affine, Affine], amount: float) -> Picture:
    """Four parts that hold together at the top, at the hem and at both underarm corners."""
    (a, b), hem = head.ends, head.sleeve.edge("hem").path
    share = dot(head.tip - a, b - a) / abs(b - a) ** 2
    middle = a + (b - a) * share
    low = hem.nearest(middle - head.up * abs(middle - head.tip) * 3)[0]
    low = low if 0.2 < low / hem.length < 0.8 else hem.length / 2
    foot, start, top = Place("hem", low), Place(CAP, HAIR), Place(CAP, head.top)
    end = Place(CAP, head.cap.length - HAIR)
    regions = (Region(foot, start, (middle,), swings[0]), Region(start, top, (middle,), halves[0]),
               Region(top, end, (middle,), halves[1]), Region(end, foot, (middle,), swings[1]))
    half = unit(b - a) * amount / 2
    return Picture(regions, (), (head.tip, a, b, hem.point_at(low)), (Size(middle - half, middle + half, -head.up),))


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by, full = f"{{{abs(amount):.1f} mm}}", amount > 0
    restore = order.options.get("head", "restore") == "restore"
    steps = (
        "On the sleeve, draw a line down its middle from the shoulder point to the hem, and a line across from one "
        "underarm corner to the other. Mark on the paper below where the top and the underarm corners lie.",
        "Cut along both lines up to the seam lines, not through them; snip the allowances from outside, so that a "
        "paper hinge is left at the top, at the hem and at both underarm corners.",
        f"{'Draw the cut' if full else 'Lap the cut down the middle until it is'} "
        f"{'apart until it stands open by ' if full else ''}{by} at the crossing; "
        f"the parts {'lap' if full else 'open'} across the head, which gets {'lower' if full else 'higher'}. Tape.",
        "Draw the head anew through its old top, from the balance marks up; below them leave it." if restore else
        "Leave the head as it lies; round it off at its top and at the underarm.",
        "Rule the hem straight across where its middle has moved.")
    check = (f"The sleeve is {by} {'wider' if full else 'narrower'} from underarm corner to underarm corner.",
             "Both underarm seams and the hem measure what they did.",
             "Measure the head against the armhole before you cut the cloth: the difference is what has to be eased in."
             if restore else "The head measures what it did.")
    return Card("Full upper arm" if full else "Thin upper arm", ("paper", "tape", "ruler", "French curve", "scissors"),
                steps, check, SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; most that fits: our own choice"

ALTERATION = Alteration(
    NAME, ("full upper arm", "thin upper arm", "full arm", "thin arm", "large upper arm", "small upper arm"),
    (-25.0, 50.0), SOURCE, 4, apply, _card, {"thin upper arm": -1.0, "thin arm": -1.0, "small upper arm": -1.0},
    (PIECE, HEAD), (Need("sleeve", (CAP, *UNDERARMS, "hem")),),
    instead='a sleeve cut in one with the bodice is widened with "waist in or out" at its side seam')
