"""Sleeve length: longer or shorter above or below the elbow, so that the elbow stays where hers is."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Need, Option, Options, chosen
from toilewright.fit.alterations.lengths import lengthen
from toilewright.fit.alterations.sleeve.head import CAP, UNDERARMS
from toilewright.fit.frame import down, needed_piece
from toilewright.fit.moves.edges import corner
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import dot
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME, LINE = "sleeve length", "elbow line"

WHERE = Option("where", "as marked", "above elbow", "below elbow", "hem")


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """The sleeve longer by `amount` mm (shorter when negative); head and hem keep their widths.

    Options:
        piece: ``sleeve`` unless told otherwise.
        where: ``as marked``: at its lengthen or shorten line; ``above elbow`` or ``below elbow``: half way between the
            elbow line and the underarm or the hem; ``hem``.

    Raises:
        AlterationError: the line is missing, or the amount does not fit.
    """
    where = chosen(NAME, options, WHERE)
    sleeve = needed_piece(garment, NAME, options, "sleeve")
    if where == "hem" or (where == "as marked" and sleeve.line(lengthen.NAME) is None):
        return lengthen.apply(garment, amount, {"piece": sleeve.name, "line": "hem"})
    if where == "as marked":
        return lengthen.apply(garment, amount, {"piece": sleeve.name})
    return lengthen.apply(garment, amount, {"piece": sleeve.name, "up": f"{_height(sleeve, where):.2f} mm"})


def _height(sleeve: Piece, where: str) -> float:
    """Where to cut, above the lowest point of the sleeve (mm)."""
    line = sleeve.line(LINE)
    if line is None:
        raise AlterationError(f'"{NAME}" where = "{where}" needs the line "{LINE}" on "{sleeve.name}", which the piece '
                              'does not have; leave out where, or use where = "hem".')
    way = down(sleeve)
    lowest = max(dot(p, way) for e in sleeve.edges for p in e.path.flatten(0.5))
    elbow = dot((line.start + line.end) / 2, way)
    end = max(dot(corner(sleeve, CAP, e), way) for e in UNDERARMS) if where == "above elbow" else min(
        dot(corner(sleeve, "hem", e), way) for e in UNDERARMS)
    return lowest - (elbow + end) / 2


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by, more = f"{{{abs(amount):.1f} mm}}", amount > 0
    title = f"Sleeve {'longer' if more else 'shorter'}"
    if not any(picture.regions for picture in change.pictures.values()):
        return lengthen.hem_card(title, " and ".join(change.pictures), amount)
    where = {"above elbow": "half way between the underarm and the elbow line",
             "below elbow": "half way between the elbow line and the hem",
             "as marked": "at the marked line"}[order.options.get("where", "as marked")]
    steps = (f"On the sleeve, {where}, rule a line across, square to the grain.",
             f"Cut along it and move the parts {by} apart along the grain, over paper; tape." if more else
             f"Rule a second line {by} above it, and fold the one onto the other; tape.",
             "Draw both underarm seams smoothly across the step.",
             "An elbow dart or elbow line must lie at her elbow when the arm is bent: measure from the underarm.")
    check = (f"The sleeve is {by} {'longer' if more else 'shorter'} along the grain.",
             "The head measures what it did; both underarm seams are equally long.")
    return Card(title, ("paper", "tape", "ruler", "scissors"), steps, check, SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372"

ALTERATION = Alteration(
    NAME, ("longer sleeve", "shorter sleeve", "lengthen sleeve", "shorten sleeve"),
    (-80.0, 100.0), SOURCE, 0, apply, _card, {"shorter sleeve": -1.0, "shorten sleeve": -1.0}, (WHERE, PIECE),
    (Need("sleeve", (CAP, *UNDERARMS, "hem")),),
    instead='a sleeve in two pieces, or cut in one with the bodice, is lengthened with "lengthen or shorten"')
