"""High round back: more length at the centre back for a back that is round just under the neck."""

from __future__ import annotations

from dataclasses import replace
from math import asin

from toilewright.errors import AlterationError, Finding, Severity
from toilewright.fit.alterations.kinds import (
    PIECE,
    Alteration,
    Change,
    Need,
    Option,
    Options,
    Picture,
    Size,
    too_much,
)
from toilewright.fit.follow import allow_ease
from toilewright.fit.frame import down, need_edges, needed_piece, outward
from toilewright.fit.moves.darts import swing_dart
from toilewright.fit.moves.edges import Redrawn, bend, corner, ends_at, redraw_edge, soften, straight
from toilewright.fit.moves.ring import Carried, Place, crossing, point_of
from toilewright.fit.moves.slash import slash_spread
from toilewright.fit.result import Card, Order
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.geometry.point import dot, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart, Press
from toilewright.pattern.piece import Piece
from toilewright.tolerance import WORTH_DOING
from toilewright.units import show_both

NAME = "high round back"

CUT_SHARE = 0.42
"""Of the way from the nape down to the underarm: the cut lies a third to half way (NMSU C-228 and other leaflets)."""

DART_LENGTH = 65.0
"""mm; of the neck or shoulder dart (6 to 8 cm; common practice, no published source)."""

TAKES_UP = ("neck dart", "shoulder dart", "ease")


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Centre back longer by `amount` mm; armhole, shoulder and the sewn neck keep their lengths.

    Options:
        piece: ``bodice back`` unless told otherwise.
        takes up: what the neck gains goes into a ``neck dart``, a ``shoulder dart``, or is ``ease``; when not given,
            a neck dart from 5 mm on, else ease.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, NAME, options, "bodice back")
    need_edges(piece, NAME, "centre back", "neck", "shoulder", "armhole", "side seam")
    if amount < 0:
        raise AlterationError(f'"{NAME}" by {show_both(amount)} asks for a shorter centre back; fold the surplus '
                              'out with "lengthen or shorten" instead, or give a positive amount.')
    carried, cut, hinge = _spread(piece, amount)
    raised, gained = _straightened(piece, carried, cut, amount)
    raised = soften(raised, "armhole", carried.at("armhole", hinge.at))
    how = _takes_up(piece, options, gained)
    findings: list[Finding] = []
    altered = garment
    if how == "ease":
        altered = allow_ease(garment, piece.name, "neck", gained)
        findings.append(Finding("neck-eased", f"The back neck is {show_both(gained)} longer on each half; ease it "
                                "onto the facing, with the facing on top.", Severity.NOTE, piece.name, "neck"))
    else:
        level = abs(point_of(piece, cut) - corner(piece, "centre back", "neck"))
        raised = _neck_dart(raised, gained, level if how == "shoulder dart" else DART_LENGTH)
        if how == "shoulder dart":
            shoulder = raised.edge("shoulder").path.length
            raised = swing_dart(raised, "neck dart", Place("shoulder", shoulder / 2), "shoulder dart", "centre back")
            raised = _shorten(raised, "shoulder dart")
    a, h = point_of(piece, cut), point_of(piece, hinge)
    tip = corner(piece, "shoulder", "armhole")
    picture = Picture(carried.regions, (), (h,), (Size(a, a - down(piece) * amount, -outward(piece)),),
                      (a + down(piece) * 30, h, tip, corner(raised, "centre back", "neck")))
    numbers = {"way": float(TAKES_UP.index(how)), "gained": gained,
               "level": abs(a - corner(piece, "centre back", "neck")), "reach": abs(h - a)}
    return Change(altered.with_piece(raised), {piece.name: picture}, numbers, tuple(findings))


def _spread(piece: Piece, amount: float) -> tuple[Carried, Place, Place]:
    way = down(piece)
    nape, underarm = corner(piece, "centre back", "neck"), corner(piece, "armhole", "side seam")
    level = nape + way * (CUT_SHARE * dot(underarm - nape, way))
    cut, hinge = crossing(piece, "centre back", level, way * 1j), crossing(piece, "armhole", level, way * 1j)
    if cut is None or hinge is None:
        raise AlterationError(
            f'"{NAME}" on "{piece.name}" cuts from the centre back out to the armhole, {CUT_SHARE:.0%} of the way down '
            "to the underarm, but the cut does not reach both edges; compare the names of the edges in the labels.")
    arm = point_of(piece, cut) - point_of(piece, hinge)
    most = 0.25 * abs(arm)
    if amount > most:
        raise too_much(NAME, amount, piece.name, "turns the neck further than cloth lies flat", most)
    turned = asin(amount / abs(arm)) * (1 if dot(1j * arm, -way) > 0 else -1)
    return slash_spread(piece, cut, hinge, turned, "side seam"), cut, hinge


def _straightened(piece: Piece, carried: Carried, cut: Place, amount: float) -> tuple[Piece, float]:
    """Centre back redrawn straight up, the neck drawn out to it; and what the neck gained (mm)."""
    after = carried.piece
    up = -down(piece) * amount
    centre = piece.edge("centre back").path
    nape = corner(piece, "centre back", "neck")
    top_first = not ends_at(piece, "centre back", "neck")
    if straight(centre):
        line = Path.line(centre.start + (up if top_first else 0), centre.end + (0 if top_first else up))
    else:
        first, second = centre.split(cut.at)
        first, second = (first.moved(up), second) if top_first else (first, second.moved(up))
        line = Path.joined((first, Path.line(first.end, second.start), second))
    old_c = after.edge("centre back").path
    gap = (carried.at("centre back", cut.at), carried.at("centre back", cut.at, after=True))
    put = (cut.at, cut.at + amount)
    new_centre = Redrawn("centre back", line, (0.0, *gap, old_c.length), (0.0, *put, line.length))
    neck = after.edge("neck").path
    at_end = ends_at(after, "neck", "centre back")
    here = neck.end if at_end else neck.start
    turned = unit(piece.edge("neck").path.end_tangent / neck.end_tangent if at_end
                  else piece.edge("neck").path.start_tangent / neck.start_tangent)
    goal = nape + up
    move = Affine(turned, 0j, goal - turned * here)
    drawn = bend(neck, Affine(), move) if at_end else bend(neck, move, Affine())
    gained = drawn.length - neck.length
    new_neck = Redrawn("neck", drawn, (0.0, neck.length), (0.0, drawn.length))
    return redraw_edge(after, new_centre, new_neck, landmarks={"nape": goal}), gained


def _takes_up(piece: Piece, options: Options, gained: float) -> str:
    asked = options.get("takes up", "neck dart" if gained >= WORTH_DOING else "ease")
    if asked not in TAKES_UP:
        raise AlterationError(f'"{NAME}" cannot take up the neck by "{asked}"; it can by a neck dart, a shoulder dart, '
                              "or ease.")
    if any(d.name == "neck dart" for d in piece.darts) and asked != "ease":
        if "takes up" not in options:
            return "ease"
        raise AlterationError(f'"{piece.name}" has a neck dart already, and a second one cannot lie beside it; choose '
                              "ease for what the neck gains.")
    return asked


def _neck_dart(piece: Piece, width: float, depth: float) -> Piece:
    """A dart half way along the neck, square to it, as wide as the neck has grown."""
    path = piece.edge("neck").path
    middle = path.length / 2
    start, end = path.point_at(middle - width / 2), path.point_at(middle + width / 2)
    apex = (start + end) / 2 + unit(end - start) * 1j * depth
    press = Press.TO_END if ends_at(piece, "neck", "centre back") else Press.TO_START
    dart = Dart("neck dart", "neck", middle - width / 2, middle + width / 2, apex, press)
    return replace(piece, darts=(*piece.darts, dart))


def _shorten(piece: Piece, name: str) -> Piece:
    """The dart no longer than it should be, its width kept."""
    dart = piece.dart(name)
    first, second = piece.feet(dart)
    middle = (first + second) / 2
    length = abs(dart.apex - middle)
    apex = middle + (dart.apex - middle) * min(1.0, DART_LENGTH / length)
    return replace(piece, darts=tuple(replace(d, apex=apex) if d.name == name else d for d in piece.darts))


def _taken_up(how: str) -> str:
    long = f"{{{DART_LENGTH:.0f} mm}} long"
    return {"neck dart": f"fold that into a small dart half way along the neck, {long}.",
            "ease": "ease it onto the facing.",
            "shoulder dart": "fold that into a dart half way along the neck, down to the cut; slash from the middle of "
                             f"the shoulder to its point, close it, and make the dart that opens {long}."}[how]


def _card(order: Order, change: Change) -> Card:
    n = change.numbers
    up = f"{{{order.amount.value:.1f} mm}}"
    steps = (
        f"On the back, measure {{{n['level']:.1f} mm}} down from the neck along the centre back and draw a line from "
        "there to the armhole, square to the grain.",
        "Cut along the line from the centre back to the armhole seam line, not through it; snip the allowance there "
        "from outside, so that a paper hinge is left on the seam line.",
        f"Lay paper underneath and raise the neck part until the cut stands open by {up} at the centre back. Tape.",
        "Redraw the centre back straight up from the part below the cut, and draw the neck out to meet it square.",
        f"The neck is now {{{n['gained']:.1f} mm}} longer on this half: {_taken_up(TAKES_UP[int(n['way'])])}",
        "Round off the hollow of the armhole at the hinge with a curve.")
    check = (f"The centre back is {up} longer.", "Armhole and shoulder measure what they did.",
             "The grain line below the cut has not moved.")
    return Card("High round back", ("paper", "tape", "ruler", "French curve", "scissors"), steps, check, SOURCE)


SOURCE = ("NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372 (the cut, the hinge, the straight centre "
          "back); length of the dart: common practice")

ALTERATION = Alteration(
    NAME, ("dowager's hump", "round back", "rounded neck"),
    (3.0, 35.0), SOURCE, 1, apply, _card, options=(PIECE, Option("takes up", *TAKES_UP)),
    needs=(Need("bodice back", ("centre back", "neck", "shoulder", "armhole", "side seam")),),
    instead='a longer back can be had with "lengthen or shorten"')

