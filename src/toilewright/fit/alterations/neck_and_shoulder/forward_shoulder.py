"""Forward shoulder: the seam comes forward at its tip, tapering to nothing at the neck, or as much at both ends."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import (
    FRONT_AND_BACK,
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
from toilewright.fit.alterations.neck_and_shoulder.halves import halves
from toilewright.fit.alterations.neck_and_shoulder.panels import (
    PRINCESS,
    inner_edge,
    neck_point,
    panel_beside,
    panel_turned,
    shoulder_turned,
)
from toilewright.fit.follow import move_cap_notch
from toilewright.fit.moves.edges import Redrawn, corner, ends_at, redraw_edge, run_on, shift_end, towards
from toilewright.fit.result import Card, Order
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, reflected, turn, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "forward shoulder"

NECK = Option("neck", "taper", "parallel")

LEFT_OVER = 15.0
"""mm of armhole that must stay between the new tip and the nearest notch (common practice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Front armhole shorter by `amount` mm at the tip, back armhole longer by it; the cap's shoulder point follows.

    Both shoulder seams keep their difference. A negative amount brings the seam back.

    Options:
        neck: ``taper``: the seam stays where it is at the neck; ``parallel``: it comes forward there too (for a neck
            that is carried forward), and the back neck gains what the front neck loses. Facings follow.
        front, back: names of the pieces, ``bodice front`` and ``bodice back`` unless told otherwise.

    Raises:
        AlterationError: a piece or an edge is missing, or the amount does not fit.
    """
    front, back = halves(garment, NAME, options, "both", "shoulder", "armhole")
    loser, winner = (front, back) if amount > 0 else (back, front)
    panels = [panel_beside(garment, p) for p in (loser, winner)]
    by = abs(amount)
    along = chosen(NAME, options, NECK) == "parallel"
    if along and any(panels):
        raise AlterationError(f'"{NAME}" with neck = "parallel" does not reach the neck past a princess seam; let it '
                              'taper, and bring the neck forward with "forward neck".')
    surplus = winner.sewn_length("shoulder") - loser.sewn_length("shoulder")
    necks = [neck_point(p, q) for p, q in zip((loser, winner), panels, strict=True)]
    cut = _taken(loser, by, amount, necks[0])
    neck = _neck_share(loser, cut) if along else 0.0
    if along:
        cut, winner = _with_neck(cut, -neck), _with_neck(winner, neck)
        necks[1] = neck_point(winner, None)
    beyond = abs(corner(winner, "shoulder", inner_edge(winner)) - necks[1])
    long = cut.sewn_length("shoulder") + surplus + _dart_widths(winner) + beyond
    grown = _given(winner, by, long, necks[1])
    altered = move_cap_notch(garment.with_piece(cut).with_piece(grown), front.name, amount)
    for old, new, panel, start, rises in zip((loser, winner), (cut, grown), panels, necks, (False, True), strict=True):
        if panel is not None:
            tips = [corner(p, "shoulder", "armhole") - start for p in (old, new)]
            altered = altered.with_piece(panel_turned(panel, turn(*tips), rises))
    pictures = {loser.name: _picture(loser, cut, (cut.edge("shoulder").path,)),
                winner.name: _picture(garment.piece(winner.name), grown, ())}
    return Change(altered, pictures, {"by": by, "neck": neck, "panels": float(any(panels))})


def _picture(old: Piece, new: Piece, cuts: tuple[Path, ...]) -> Picture:
    tips, necks = ([corner(p, "shoulder", e) for p in (old, new)] for e in ("armhole", inner_edge(old)))
    armhole, inner = towards(old, "armhole", "shoulder"), towards(old, inner_edge(old), "shoulder")
    out = unit(tips[0] - necks[0])
    sizes = (Size(*tips, out), *([Size(*necks, -out)] if abs(necks[0] - necks[1]) > 1.0 else []))
    return Picture((), cuts, (), sizes, (*tips, armhole.point_at(0.55 * armhole.length), *necks,
                                         inner.point_at(inner.length - 50.0)))


def _neck_share(old: Piece, new: Piece) -> float:
    """How much of the neck is lost when the new shoulder seam is to run parallel to the old one (mm of arc)."""
    point, tip = corner(old, "shoulder", "neck"), corner(old, "shoulder", "armhole")
    square = unit(tip - point) * 1j
    asked = abs(dot(corner(new, "shoulder", "armhole") - tip, square))
    path = towards(old, "neck", "shoulder")
    most = path.length / 2
    by = asked
    for _ in range(4):
        by = min(by * asked / max(abs(dot(path.point_at(path.length - by) - point, square)), 1e-6), most)
    if by >= most:
        raise AlterationError(f'"{NAME}" with neck = "parallel" on "{old.name}" takes half of the neck; let it taper, '
                              "or ask for less.")
    return by


def _with_neck(piece: Piece, by: float) -> Piece:
    """The neck longer by `by` mm at the shoulder (shorter when negative), the shoulder's end going along."""
    neck = run_on(piece, "neck", "shoulder", by)
    goal = neck.path.end if ends_at(piece, "neck", "shoulder") else neck.path.start
    here = corner(piece, "shoulder", "neck")
    marks = {m.name: goal for m in piece.landmarks if abs(m.at - here) < 1e-3}
    return redraw_edge(piece, neck, shift_end(piece, "shoulder", "neck", Affine.shift(goal - here)), landmarks=marks)


def _dart_widths(piece: Piece) -> float:
    return sum(d.end - d.start for d in piece.darts_on("shoulder"))


def _taken(piece: Piece, by: float, amount: float, neck: Point) -> Piece:
    """The piece that loses `by` mm of armhole at the shoulder tip."""
    path = towards(piece, "armhole", "shoulder")
    length, at_end = path.length, ends_at(piece, "armhole", "shoulder")
    marks = [n.at if at_end else length - n.at for n in piece.notches if n.edge == "armhole"]
    most = length - max(marks, default=0.5 * length) - LEFT_OVER
    if by > most:
        raise too_much(NAME, amount, piece.name, "brings the shoulder seam down to the armhole's notch",
                       max(most, 0.0) * (1 if amount > 0 else -1))
    kept = path.split(length - by)[0]
    return _with_tip(piece, kept, at_end, neck)


def _given(piece: Piece, by: float, shoulder: float, neck: Point) -> Piece:
    """The piece that gains `by` mm of armhole beyond its tip, which then lies `shoulder` mm from the neck point."""
    path = towards(piece, "armhole", "shoulder")
    at_end = ends_at(piece, "armhole", "shoulder")
    tip, along = path.end, path.end_tangent
    chord = by
    for _ in range(3):
        new_tip = _apart(tip, chord, neck, shoulder, along)
        way = unit(new_tip - tip)
        bow = Path.cubic(tip, tip + along * chord / 3,
                         new_tip - unit(reflected(along, 0j, way)) * chord / 3, new_tip)
        chord *= by / bow.length
    return _with_tip(piece, Path.joined((path, bow)), at_end, neck)


def _apart(a: Point, from_a: float, b: Point, from_b: float, along: Point) -> Point:
    """The point at given distances from two points, ahead of the first one as seen along a direction."""
    gap = abs(b - a)
    x = (gap * gap + from_a * from_a - from_b * from_b) / (2 * gap)
    rest = from_a * from_a - x * x
    if rest < 0:
        raise AlterationError(f'"{NAME}" cannot keep both shoulder seams equal here: the shoulder does not meet the '
                              "armhole squarely; true the shoulder tip first.")
    base = a + (b - a) / gap * x
    sides = [base + (b - a) / gap * 1j * s * sqrt(rest) for s in (1, -1)]
    return max(sides, key=lambda p: dot(p - a, along))


def _with_tip(piece: Piece, armhole: Path, at_end: bool, neck: Point) -> Piece:
    old, new = piece.edge("armhole").path.length, armhole.length
    keep = min(old, new)
    tip = armhole.end
    if at_end:
        drawn = Redrawn("armhole", armhole, (0.0, keep, max(old, keep + 1e-9)), (0.0, keep, new))
    else:
        drawn = Redrawn("armhole", armhole.reversed(), (0.0, old - keep, old), (0.0, new - keep, new))
    here = corner(piece, "shoulder", "armhole")
    if piece.has_edge(PRINCESS):
        shoulder, seam = shoulder_turned(piece, Affine.turn(turn(here - neck, tip - neck), neck))
        ends = {"end": tip} if ends_at(piece, "shoulder", "armhole") else {"start": tip}
        lines = replace(shoulder, path=shoulder.path.with_ends(**ends)), seam
    else:
        lines = (shift_end(piece, "shoulder", "armhole", Affine.shift(tip - here)),)
    return redraw_edge(piece, drawn, *lines, landmarks={"shoulder tip": tip})


def _card(order: Order, change: Change) -> Card:
    by = f"{{{change.numbers['by']:.1f} mm}}"
    on, off = ("front", "back") if order.amount.value > 0 else ("back", "front")
    along = change.numbers["neck"] > 0
    steps = (
        f"On the {on}, measure {by} down the armhole seam line from the shoulder tip "
        + (f"and {{{change.numbers['neck']:.1f} mm}} down the neck from the neck point, and rule the new shoulder seam "
           "between the marks." if along else "and rule a line from there to the neck point: the new shoulder seam."),
        f"Cut the {'strip' if along else 'wedge'} off and tape it to the {off} shoulder, seam line to seam line"
        + ("." if along else ", its point at the neck."),
        "Lay both shoulders together: trim the tip so that the seams match as they did before.",
        f"Run the armhole{' and the neck' if along else ''} smoothly across the seam.",
        f"Move the shoulder notch of the sleeve head {by} towards the {on}; turn the facings' shoulders in the "
        "same way.")
    if change.numbers["panels"]:
        steps = ("Lay the panels of front and back together at the top of their princess seams; draw on both.", *steps)
    check = (f"The {on} armhole is {by} shorter, the {off} armhole {by} longer; together they measure what they did.",
             "The whole neck is as long as before.")
    return Card("Forward shoulder", ("paper", "tape", "ruler", "scissors"), steps, check, SOURCE)


SOURCE = "Texas AgriLife Extension E-372; USDA Home Economics Research Report 32 (1966)"

ALTERATION = Alteration(
    NAME, ("forward shoulders", "forward shoulder seam"),
    (-20.0, 30.0), SOURCE, 1, apply, _card, options=(*FRONT_AND_BACK, NECK),
    needs=(Need("bodice front", ("shoulder", "neck")), Need("bodice back", ("shoulder", "neck"))),
    instead='without a shoulder seam, turn the sleeve forward with "sleeve pitch"')
