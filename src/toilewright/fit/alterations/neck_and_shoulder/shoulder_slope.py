"""Square and sloping shoulders: the tip is raised or lowered, and the armhole with it."""

from __future__ import annotations

from cmath import rect
from math import sqrt

from toilewright.fit.alterations.kinds import (
    FRONT_AND_BACK,
    Alteration,
    Change,
    Need,
    Options,
    Picture,
    Size,
    too_much,
)
from toilewright.fit.alterations.neck_and_shoulder.halves import halves, marks_at, towards_tip, where_it_is
from toilewright.fit.alterations.neck_and_shoulder.panels import (
    inner_edge,
    neck_point,
    panel_beside,
    panel_turned,
    shoulder_turned,
)
from toilewright.fit.frame import down
from toilewright.fit.moves.bow import ending_along
from toilewright.fit.moves.edges import (
    Redrawn,
    bend,
    corner,
    ends_at,
    redraw_edge,
    reline,
    shift_end,
    towards,
)
from toilewright.fit.result import Card, Order
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, turn
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "shoulder slope"

LEAST_FALL = 2.0
"""mm; by which the tip must stay below the neck point (our own choice)."""

STEEPEST = 0.7
"""How far a shoulder may fall for each mm of its length (our own choice)."""

SEAM_LEFT = 8.0
"""mm of the side seam that must stay between the underarm and a dart (common practice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Shoulder tip higher by `amount` mm (square; sloping when negative), and the armhole with it.

    Shoulder seam and armhole keep their lengths, so that the sleeve fits as before.

    Options:
        where: ``both`` unless told ``front`` or ``back`` alone.
        front, back: names of the pieces, ``bodice front`` and ``bodice back`` unless told otherwise.

    Raises:
        AlterationError: a piece or an edge is missing, or the amount does not fit.
    """
    pictures, at_seam = {}, 0.0
    for piece in halves(garment, NAME, options, "both", "shoulder", "armhole", "side seam"):
        panel = panel_beside(garment, piece)
        neck, tip = neck_point(piece, panel), corner(piece, "shoulder", "armhole")
        _check(piece, tip - neck, amount)
        angle = _angle(piece, tip - neck, amount)
        drawn = _sloped(piece, neck, angle, amount)
        garment = garment.with_piece(drawn)
        pictures[piece.name] = _picture(piece, drawn)
        if panel is not None:
            garment = garment.with_piece(panel_turned(panel, angle, amount > 0))
            at_seam = abs(angle) * panel.sewn_length("shoulder")
    return Change(garment, pictures, {"at seam": at_seam})


def _check(piece: Piece, along: Point, amount: float) -> None:
    fall = dot(along, down(piece))
    if amount > fall - LEAST_FALL:
        raise too_much(NAME, amount, piece.name, "lifts the tip above the neck point", max(fall - LEAST_FALL, 0.0))
    seam = towards(piece, "side seam", "armhole").length
    last = ends_at(piece, "side seam", "armhole")
    free = min((seam - d.end if last else d.start for d in piece.darts_on("side seam")), default=seam) - SEAM_LEFT
    most = min(STEEPEST * abs(along) - fall, free)
    if -amount > most:
        raise too_much(NAME, amount, piece.name, "brings the underarm down into the side seam's dart" if most == free
                       else "makes the shoulder too steep", -max(most, 0.0))


def _angle(piece: Piece, along: Point, amount: float) -> float:
    """By how much the shoulder turns about the neck point, until its tip lies higher by the amount (radians)."""
    way = down(piece)
    side = way * 1j if dot(along, way * 1j) > 0 else way * -1j
    fall = dot(along, way) - amount
    return turn(along, way * fall + side * sqrt(abs(along) ** 2 - fall * fall))


def _sloped(piece: Piece, neck: Point, angle: float, amount: float) -> Piece:
    tip, under = corner(piece, "shoulder", "armhole"), corner(piece, "armhole", "side seam")
    turned = Affine.turn(angle, neck)
    armhole, lift = _armhole(piece, turned(tip), angle, down(piece) * -amount)
    marks = marks_at(piece, tip, turned(tip)) | marks_at(piece, under, under + lift)
    side = shift_end(piece, "side seam", "armhole", Affine.shift(lift))
    moved = redraw_edge(piece, armhole, side, *shoulder_turned(piece, turned), landmarks=marks)
    return reline(piece, moved, "side seam", "armhole")


def _armhole(piece: Piece, goal: Point, turned: float, lift: Point) -> tuple[Redrawn, Point]:
    """The armhole carried along, square to the shoulder; and how far the underarm goes, so that its length stays."""
    path = piece.edge("armhole").path
    last = ends_at(piece, "armhole", "shoulder")
    tip = Affine.shift(goal - corner(piece, "armhole", "shoulder"))
    length = path.length

    def carried(share: float) -> Path:
        under = Affine.shift(lift * share)
        fresh = bend(path, under, tip) if last else bend(path, tip, under).reversed()
        whole = ending_along(fresh, fresh.end_tangent * rect(1.0, turned))
        return whole if last else whole.reversed()

    share = 1.0
    for _ in range(5):
        now, more = carried(share), carried(share + 0.01)
        share -= 0.01 * (now.length - length) / (more.length - now.length)
    fresh = carried(share)
    return Redrawn("armhole", fresh, (0.0, length), (0.0, fresh.length)), lift * share


def _picture(old: Piece, new: Piece) -> Picture:
    tips = [corner(p, "shoulder", "armhole") for p in (old, new)]
    unders = [corner(p, "armhole", "side seam") for p in (old, new)]
    out = towards_tip(old)
    neck = corner(old, "shoulder", inner_edge(old))
    return Picture(sizes=(Size(tips[0], tips[0] - down(old) * dot(tips[0] - tips[1], down(old)), out),
                          Size(unders[0], unders[1], out)),
                   near=(*tips, *unders, neck, unders[0] + down(old) * 40))


def _card(order: Order, change: Change) -> Card:
    by, up = f"{{{abs(order.amount.value):.1f} mm}}", order.amount.value > 0
    where, way = " and ".join(change.pictures), "up" if up else "down"
    steps = (f"Trace the armholes of {where} on paper, with shoulder tip, underarm and notches.",
             f"Mark the new shoulder tip {by} {'above' if up else 'below'} the old one and rule the shoulder from the "
             "neck point, as long as it was.",
             f"Move the tracing {way} until it touches the new tip, and draw the armhole anew: the underarm goes {way} "
             "with it.",
             f"Run the side seam {'on up' if up else 'out'} to the new underarm, front and back alike.")
    seam = change.numbers["at seam"]
    if seam:
        steps = (f"Lay the panels together at the top of their princess seams, which {'rise' if up else 'sink'} by "
                 f"{{{seam:.1f} mm}} at the shoulder: the panel at the centre turns about its neck point.", *steps)
    check = (f"The shoulder tips lie {by} {'higher' if up else 'lower'}; the shoulder seams are as long as before.",
             "The armholes measure what they did: the sleeve fits as before.",
             "Front and back side seams are equal.")
    return Card(f"{'Square' if up else 'Sloping'} shoulders", ("paper", "tape", "ruler", "French curve"), steps, check,
                SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; Liechty and others (1992), from memory"

ONE = "one shoulder lower"

ALTERATION = Alteration(
    NAME, ("square shoulders", "square shoulder", "sloping shoulders", "sloping shoulder", ONE),
    (-25.0, 20.0), SOURCE, 1, apply, _card, {"sloping shoulders": -1.0, "sloping shoulder": -1.0, ONE: -1.0},
    (where_it_is("both"), *FRONT_AND_BACK), (Need("", ("shoulder", "armhole", "side seam")),),
    instead="without a side seam, move the shoulder tips alone and fit the sleeve to the armhole anew", one_side=(ONE,))
