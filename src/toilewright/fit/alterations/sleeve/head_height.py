"""Sleeve head higher or lower: cut across above the balance marks, and opened or lapped evenly."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Need, Options, Picture, Size, too_much
from toilewright.fit.alterations.sleeve.head import CAP, UNDERARMS, Head, head_of, with_head, with_tip
from toilewright.fit.moves.opening import open_right_across
from toilewright.fit.moves.ring import Place, point_of
from toilewright.fit.result import Card, Order
from toilewright.geometry.meeting import line_meetings
from toilewright.geometry.point import dot
from toilewright.pattern.garment import Garment

NAME = "sleeve head height"

LEVEL = 0.5
"""Of the height of the head, where the cut lies at least (common practice: above the balance marks)."""

MOST_SHARE = 0.25
"""Of its height that the head may gain or lose (our own choice)."""

CLEAR = 6.0
"""mm between the balance marks and the cut."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """The sleeve head higher by `amount` mm (lower when negative); the width of the sleeve and its underarm stay.

    Options:
        piece: ``sleeve`` unless told otherwise.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    head = head_of(garment, NAME, options)
    most = MOST_SHARE * head.height
    if abs(amount) > most:
        raise too_much(NAME, amount, head.sleeve.name, "pulls the head out of shape", most if amount > 0 else -most)
    before, after = _cut(head)
    # The later cut of the two is healed first: what lies before it on the cap keeps its place.
    raised, carried = open_right_across(head.sleeve, after, before, amount, "hem", head.up)
    new = next((n.at for n in raised.notches if n.name == "shoulder point" and n.edge == CAP), None)
    raised = with_tip(raised, raised.edge(CAP).path.nearest(head.tip + head.up * amount)[0] if new is None else new)
    altered, findings = with_head(garment, raised)
    here = point_of(head.sleeve, before)
    out = (here - point_of(head.sleeve, after)) / abs(here - point_of(head.sleeve, after))
    picture = Picture(carried.regions, sizes=(Size(here, here + head.up * amount, out),))
    return Change(altered, {head.sleeve.name: picture}, {}, findings)


def _cut(head: Head) -> tuple[Place, Place]:
    """Where a line square to the grain meets the cap before its top and after it."""
    foot = sum(head.ends) / 2
    marks = (dot(head.cap.point_at(s) - foot, head.up) + CLEAR for s in head.notches)
    low = max(LEVEL * head.height, *marks)
    through = foot + head.up * min(low, 0.8 * head.height)
    far = head.up * 3000j
    hits = [m.on_first for m in line_meetings(head.cap, through - far, through + far)]
    return Place(CAP, max(s for s in hits if s < head.top)), Place(CAP, min(s for s in hits if s > head.top))


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by, up = f"{{{abs(amount):.1f} mm}}", amount > 0
    steps = ("On the sleeve, draw a line across the head, square to the grain, just above the balance marks.",
             f"Cut along it and move the upper part {by} up along the grain, over paper; tape." if up else
             f"Rule a second line {by} above it, and fold the one onto the other; tape.",
             "Draw the head smoothly across the step on both sides; below the balance marks leave it.")
    check = (f"The head is {by} {'higher' if up else 'lower'}; width and underarm are as before.",
             "Measure the head against the armhole before you cut the cloth: the difference has to be eased in.")
    return Card(f"Sleeve head {'higher' if up else 'lower'}", ("paper", "tape", "ruler", "French curve", "scissors"),
                steps, check, SOURCE)


SOURCE = "Texas AgriLife Extension E-372; level of the cut and most that fits: common practice, no published source"

ALTERATION = Alteration(
    NAME, ("higher sleeve head", "lower sleeve head", "raise sleeve head", "cap height"),
    (-20.0, 25.0), SOURCE, 4, apply, _card, {"lower sleeve head": -1.0}, (PIECE,),
    (Need("sleeve", (CAP, *UNDERARMS, "hem")),),
    instead='a sleeve without a head of its own follows "armhole depth"')
