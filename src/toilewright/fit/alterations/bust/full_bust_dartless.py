"""Full bust and small bust on a front without darts: the same cuts; the side is darted, eased or gathered."""

from __future__ import annotations

from dataclasses import replace

from toilewright.errors import AlterationError, Finding, Severity
from toilewright.fit.alterations.bust.full_bust import picture_of
from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Need, Option, Options, chosen, too_much
from toilewright.fit.alterations.neck_and_shoulder.halves import needed_centre
from toilewright.fit.follow import allow_ease
from toilewright.fit.frame import BUST_POINT_BEYOND, down, need_edges, needed_piece, outward
from toilewright.fit.moves.bust_cut import LEAST_DART, OpenedBust, bust_cut, most_that_opens, open_bust, short_of
from toilewright.fit.moves.edges import redraw_across, redraw_edge, towards
from toilewright.fit.moves.ring import Place, crossing
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import Point
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart, Notch, Press
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

NAME = "full bust dartless"

SIDE = "side seam"

FULLNESS = Option("fullness", "dart", "ease", "gathers")

MOST_EASE = 13.0
"""mm that can be eased into the side seam at the bust; what is more shows as gathers (1/2 in; common practice)."""

SEAM_LEFT = 35.0
"""mm of side seam above a new dart, so that it clears the armhole seam (common practice)."""

BUST_SHARE = 0.38
"""Of the bust line from the centre front to the side: where the bust point usually lies (common practice)."""

SLOPES = 0.12
"""How far a new dart falls towards the side, for each mm of its length (common practice)."""

GATHERED = 30.0
"""mm above and below the opening over which the side seam is eased or gathered (common practice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Front wider by `amount` mm at the bust line on each half, longer with it; a negative amount makes a small bust.

    Armhole, shoulder and neck keep their lengths; the hem stays level.

    Options:
        piece: ``bodice front`` unless told otherwise.
        fullness: what opens at the side is sewn as a new ``dart``, or the side seam is longer by it and drawn in over
            the bust by ``ease`` or ``gathers``. A small bust laps, and the side seam is drawn in.

    Raises:
        AlterationError: an edge or the bust point is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, NAME, options, "bodice front")
    need_edges(piece, NAME, "armhole", SIDE)
    how = chosen(NAME, options, FULLNESS)
    pivot, findings = _pivot(piece)
    place = _at_side(piece, pivot)
    cut = bust_cut(piece, NAME, pivot, (place, place))
    why, most = most_that_opens(piece, cut, amount > 0)
    if abs(amount) > abs(most):
        raise too_much(NAME, amount, piece.name, why, most)
    opened = open_bust(piece, cut, amount)
    start, end = (opened.carried.at(SIDE, place.at, after) for after in (False, True))
    width = (end - start) if amount > 0 else -(end - start)
    picture = picture_of(piece, cut, opened)
    numbers = {"drop": opened.drop, "width": width}
    if how == "dart" and width >= LEAST_DART:
        altered = _darted(opened, pivot + opened.out, start, end)
        return Change(garment.with_piece(altered), {piece.name: picture}, numbers, findings)
    altered, grown = _drawn_in(piece, opened, start, end)
    if amount > 0:
        return Change(allow_ease(garment.with_piece(altered), piece.name, SIDE, grown), {piece.name: picture},
                      numbers | {"width": grown}, findings + _told(piece, how, grown))
    return Change(garment.with_piece(altered), {piece.name: picture}, numbers | {"width": grown}, findings)


def _pivot(piece: Piece) -> tuple[Point, tuple[Finding, ...]]:
    """The bust point; where none is marked, the usual place on the bust line, and a word about it."""
    drawn, line = piece.landmark("bust point"), piece.line("bust line")
    if drawn is not None:
        return drawn, ()
    if line is None:
        raise AlterationError(f'"{NAME}" on "{piece.name}" turns about the bust point, but the piece shows neither '
                              'that nor a "bust line"; mark one of them in the labels file.')
    centre = piece.edge(needed_centre(piece, NAME)).path
    inner, outer = sorted((line.start, line.end), key=lambda p: centre.nearest(p)[1])
    note = Finding("bust-point-supposed", f'"{piece.name}" does not show the bust point; it was supposed on the bust '
                   f"line, {show_both(BUST_SHARE * abs(outer - inner))} from the centre. Mark yours there.",
                   Severity.LOOK, piece.name)
    return inner + (outer - inner) * BUST_SHARE, (note,)


def _at_side(piece: Piece, pivot: Point) -> Place:
    """Where the new dart starts: beside the bust point and a little lower, clear of the armhole."""
    path = towards(piece, SIDE, "armhole")
    out, way = outward(piece, SIDE), down(piece)
    found = crossing(piece, SIDE, pivot, out + way * SLOPES)
    at = piece.edge(SIDE).path.length / 2 if found is None else found.at
    low, high = (SEAM_LEFT, path.length - SEAM_LEFT)
    return Place(SIDE, min(max(at, low), high))


def _darted(opened: OpenedBust, pivot: Point, start: float, end: float) -> Piece:
    piece = opened.piece
    path = piece.edge(SIDE).path
    middle = (path.point_at(start) + path.point_at(end)) / 2
    apex = short_of(pivot, middle, opened.aim, BUST_POINT_BEYOND)
    return replace(piece, darts=(*piece.darts, Dart("bust dart", SIDE, start, end, apex, _towards_hem(piece))))


def _towards_hem(piece: Piece) -> Press:
    """A bust dart is pressed down (common practice)."""
    names = [e.name for e in piece.edges]
    return Press.TO_START if names[names.index(SIDE) - 1] in ("hem", "waist") else Press.TO_END


def _drawn_in(before: Piece, opened: OpenedBust, start: float, end: float) -> tuple[Piece, float]:
    """The side seam drawn across the opening, with marks between which it is drawn in; and how much longer it is."""
    piece = redraw_edge(opened.piece, redraw_across(opened.piece, SIDE, start, end))
    grown = piece.sewn_length(SIDE) - before.sewn_length(SIDE)
    if grown > 0:
        length = piece.edge(SIDE).path.length
        marks = (max(start - GATHERED, 5.0), min(end + GATHERED, length - 5.0))
        piece = replace(piece, notches=(*piece.notches, *(Notch(n, SIDE, at) for n, at in zip(
            ("ease from here", "ease to here"), marks, strict=True))))
    return piece, grown


def _told(piece: Piece, how: str, grown: float) -> tuple[Finding, ...]:
    if how == "ease" and grown > MOST_EASE:
        return (Finding("much-ease", f"{grown / 10:.1f} cm is much to ease into a side seam; gather it, or make a dart "
                        'of it (fullness = "gathers" or "dart").', Severity.LOOK, piece.name, SIDE, asked=grown,
                        possible=MOST_EASE),)
    return ()


def _card(order: Order, change: Change) -> Card:
    amount, n = order.amount.value, change.numbers
    by, width, full = f"{{{abs(amount):.1f} mm}}", f"{{{abs(n['width']):.1f} mm}}", amount > 0
    how = order.options.get("fullness", "dart")
    last = ("The cut at the side overlaps; redraw the side seam across it and walk it against the back: what is "
            f"missing, {width}, is taken off the back at the hem." if not full else
            f"The cut at the side stands open by {width}: make a dart of it that stops {{{BUST_POINT_BEYOND:.0f} mm}} "
            "short of the new bust point, and true its mouth." if how == "dart" and n["width"] >= LEAST_DART else
            f"Redraw the side seam across the cut at the side. It is {width} longer now: mark {{{GATHERED:.0f} mm}} "
            f"above and below the cut, and {'gather' if how == 'gathers' else 'ease'} it onto the back between the "
            "marks.")
    steps = (
        "Rule a line along the grain from the lower edge to the bust point and on to the armhole notch; another from "
        "the side seam to the bust point, falling a little towards the side.",
        "Cut the first up to the armhole seam line, not through it, and snip the allowance from outside. Cut the "
        "second to the bust point, leaving a paper hinge.",
        f"{'Open' if full else 'Lap'} the long cut by {by} at the bust point, its edges below it parallel.",
        f"Cut across the centre part, square to the grain, and move it {{{abs(n['drop']):.1f} mm}} "
        f"{'down' if full else 'up'}, until the lower edge is level. Tape; round off the armhole.",
        last)
    check = (f"The front half is {by} {'wider' if full else 'narrower'} at the bust line.",
             "Armhole, shoulder and neck are as long as before.")
    return Card("Full bust without a dart" if full else "Small bust without a dart",
                ("paper", "tape", "ruler", "French curve", "scissors"), steps, check, SOURCE)


SOURCE = ("cuts: NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; Liechty and others (1992), from "
          "memory; ease and gathers: common practice")

ALTERATION = Alteration(
    NAME, ("full bust without darts", "small bust without darts", "new bust dart"),
    (-15.0, 50.0), SOURCE, 2, apply, _card, {"small bust without darts": -1.0}, (PIECE, FULLNESS),
    (Need("bodice front", ("armhole", SIDE), without=("bust dart", "princess seam")),),
    'with a bust dart, "full bust"; with a princess seam, "full bust princess"')
