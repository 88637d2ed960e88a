"""Full elbow: the sleeve is cut across at the elbow from its back seam, and opened; a dart or ease takes it up."""

from __future__ import annotations

from dataclasses import replace

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
    chosen,
    too_much,
)
from toilewright.fit.alterations.sleeve.head import CAP, UNDERARMS
from toilewright.fit.follow import allow_ease
from toilewright.fit.frame import needed_piece
from toilewright.fit.moves.darts import widen_dart
from toilewright.fit.moves.edges import ends_at, soften
from toilewright.fit.moves.opening import open_cut
from toilewright.fit.moves.ring import Carried, Place, crossing, point_of
from toilewright.fit.moves.through_dart import open_through_dart
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart, Press
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

NAME, LINE = "elbow", "elbow line"
FRONT, BACK = UNDERARMS

TAKES_UP = Option("takes up", "elbow dart", "ease")

LEAST_DART = 6.0
"""mm; a narrower dart is not worth sewing (common practice)."""

DART_SHARE = 0.25
"""Of the width of the sleeve, the length of a new elbow dart (6 to 8 cm; common practice)."""

STEEPEST = 0.2
"""How far the cut may open for each mm of its length before the lower sleeve swings out of line (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """The back seam longer by `amount` mm over the elbow (shorter when negative); the front seam and the head stay.

    Options:
        piece: ``sleeve`` unless told otherwise.
        takes up: what the back seam gains goes into the ``elbow dart``, which is made where there is none, or is
            ``ease``.

    Raises:
        AlterationError: an edge or the elbow line is missing, or the amount does not fit.
    """
    sleeve = needed_piece(garment, NAME, options, "sleeve")
    dart = next(iter(sleeve.darts_on(BACK)), None)
    cut, hinge = _cut(sleeve, dart)
    a, h = point_of(sleeve, cut), point_of(sleeve, hinge)
    most = STEEPEST * abs(h - a)
    if amount > most:
        raise too_much(NAME, amount, sleeve.name, "swings the lower sleeve out of line", most)
    eased = chosen(NAME, options, TAKES_UP) == "ease"
    least = 0.0 if dart is None else LEAST_DART - (dart.end - dart.start)
    if amount < (-most if eased else least):
        raise too_much(NAME, amount, sleeve.name, "leaves no dart to take in at the elbow", min(least, 0.0))
    if dart is None:
        healed, carried = open_cut(sleeve, cut, hinge, amount, CAP)
        opened = healed if eased else _new_dart(carried, cut, hinge)
    else:
        opened, carried = open_through_dart(sleeve, dart.name, hinge, amount, CAP)
        opened = widen_dart(opened, dart.name, -amount) if eased else opened
    findings: list[Finding] = []
    altered = garment
    if eased:
        altered = allow_ease(garment, sleeve.name, BACK, amount)
        findings.append(Finding("elbow-eased", f"The back seam of the sleeve is now {show_both(abs(amount))} "
                                f"{'longer' if amount > 0 else 'shorter'} against the front; ease the longer one in "
                                "over the elbow.", Severity.NOTE, sleeve.name, BACK))
    picture = Picture(carried.regions, (), (h,), (Size(a, a + unit(a - h) * 1j * _turn(sleeve) * amount, unit(a - h)),))
    return Change(altered.with_piece(opened), {sleeve.name: picture}, {"dart": float(dart is not None)},
                  tuple(findings))


def _cut(sleeve: Piece, dart: Dart | None) -> tuple[Place, Place]:
    """From the dart, or from the elbow line, on the back seam, to the elbow line on the front seam."""
    line = sleeve.line(LINE)
    if line is None:
        raise AlterationError(f'"{NAME}" on "{sleeve.name}" needs the line "{LINE}", which the piece does not have; '
                              'name it in the labels file, or give width with "upper arm".')
    middle, along = (line.start + line.end) / 2, line.end - line.start
    cut, hinge = crossing(sleeve, BACK, middle, along), crossing(sleeve, FRONT, middle, along)
    if cut is None or hinge is None:
        raise AlterationError(f'The line "{LINE}" of "{sleeve.name}" does not reach both underarm seams; draw it from '
                              "seam to seam.")
    return (cut if dart is None else Place(BACK, (dart.start + dart.end) / 2)), hinge


def _new_dart(carried: Carried, cut: Place, hinge: Place) -> Piece:
    """The piece as it was carried, with what opened as the mouth of an elbow dart."""
    out = soften(carried.piece, hinge.edge, carried.at(hinge.edge, hinge.at))
    start, end = carried.at(BACK, cut.at), carried.at(BACK, cut.at, after=True)
    mouth = sum(out.edge(BACK).path.point_at(s) for s in (start, end)) / 2
    far = out.edge(FRONT).path.point_at(carried.at(FRONT, hinge.at))
    press = Press.TO_END if ends_at(out, BACK, "hem") else Press.TO_START
    dart = Dart("elbow dart", BACK, start, end, mouth + (far - mouth) * DART_SHARE, press)
    return replace(out, darts=(*out.darts, dart))


def _turn(sleeve: Piece) -> float:
    """+1 when the hem lies counter-clockwise from a look out over the back seam, else -1."""
    return -1.0 if ends_at(sleeve, BACK, CAP) else 1.0


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by, full = f"{{{abs(amount):.1f} mm}}", amount > 0
    where = "through the elbow dart" if change.numbers["dart"] else "on the elbow line"
    eased = order.options.get("takes up") == "ease"
    steps = (f"On the sleeve, draw a line {where} from the back seam to the front seam.",
             "Cut along it from the back to the seam line of the front, not through it; snip the allowance there from "
             "outside, so that a paper hinge is left.",
             (f"Open the cut by {by} at the back seam, over paper; tape." if full else
              f"Lap the cut by {by} at the back seam; tape."),
             "Draw the back seam smoothly across the cut." if eased else
             f"The back seam is now {by} {'longer' if full else 'shorter'}: make the elbow dart so much "
             f"{'wider' if full else 'narrower'}; fold it and true its mouth.",
             "Round off the front seam at the hinge.")
    check = ("The front seam and the head measure what they did.",
             f"The back seam is {by} {'longer' if full else 'shorter'} than the front against before; ease it in over "
             "the elbow." if eased else "With the dart closed, back and front seam differ no more than before.")
    return Card(f"{'Full' if full else 'Thin'} elbow", ("paper", "tape", "ruler", "scissors"), steps, check, SOURCE)


SOURCE = "Liechty, Pottberg-Steineckert and Rasband (1992), from memory; length of the dart: common practice"

ALTERATION = Alteration(
    NAME, ("full elbow", "thin elbow", "elbow room"),
    (-10.0, 30.0), SOURCE, 4, apply, _card, {"thin elbow": -1.0}, (PIECE, TAKES_UP),
    (Need("sleeve", (CAP, FRONT, BACK, "hem"), lines=(LINE,)),),
    instead='a sleeve that ends above the elbow is widened with "upper arm"')
