"""Full bust and small bust on a princess seam: both panels bowed out at the bust, and cut across there for length."""

from __future__ import annotations

from dataclasses import dataclass, replace

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Alteration, Change, Need, Option, Options, Picture, Size, chosen, too_much
from toilewright.fit.alterations.neck_and_shoulder.halves import needed_centre
from toilewright.fit.frame import down, need_edges, needed_piece, outward
from toilewright.fit.moves.bow import bowed
from toilewright.fit.moves.bust_cut import levelled
from toilewright.fit.moves.edges import match_length, redraw_edge
from toilewright.fit.moves.opening import open_cut, open_right_across
from toilewright.fit.moves.ring import Place, Region, crossing, point_of
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "full bust princess"

FRONT, SIDE_FRONT = Option("front", of="piece"), Option("side front", of="piece")

LENGTH = Option("length", "across", "leave")

SEAM, SIDE = "princess seam", "side seam"

STEEPEST = 0.16
"""mm by which one panel's seam may move for each mm of it below the bust: more makes a beak (our own choice)."""

LENGTH_SHARE = 0.7
"""mm that the front grows longer over the bust for each mm that half of it grows wider (about what the cuts of a
darted bodice give; common practice, no published source)."""


@dataclass(frozen=True, slots=True)
class _Panel:
    """A panel before and after: where its cut lay, how it was carried, and how far its seam moved."""

    old: Piece
    new: Piece
    level: Place
    regions: tuple[Region, ...]
    out: Point


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Front wider by `amount` mm at the bust on each half; a negative amount makes a small bust.

    Half of it is let out at the princess seam of each panel, tapering to nothing above and below. The centre panel is
    longer over the bust, the side panel as much along the princess seam and not at all along the side seam. Armhole,
    shoulder, neck, waist and side seam keep their lengths.

    Options:
        front, side front: names of the panels, ``bodice front`` and ``bodice side front`` unless told otherwise.
        length: cut ``across`` at the bust for length, or ``leave`` it.

    Raises:
        AlterationError: a panel or an edge is missing, or the amount does not fit.
    """
    centre_panel = needed_piece(garment, NAME, {"piece": options.get("front", "bodice front")}, "")
    side_panel = needed_piece(garment, NAME, {"piece": options.get("side front", "bodice side front")}, "")
    need_edges(centre_panel, NAME, SEAM)
    need_edges(side_panel, NAME, SEAM, SIDE)
    levels = [_level(p) for p in (centre_panel, side_panel)]
    for piece, level in zip((centre_panel, side_panel), levels, strict=True):
        below = min(level.at, piece.edge(SEAM).path.length - level.at)
        if abs(amount) / 2 > STEEPEST * below:
            most = 2 * STEEPEST * below
            raise too_much(NAME, amount, piece.name, "makes a beak in the princess seam", most if amount > 0 else -most)
    longer = LENGTH_SHARE * amount if chosen(NAME, options, LENGTH) == "across" else 0.0
    front = _centre(centre_panel, levels[0], amount / 2, longer)
    side = _side(side_panel, levels[1], amount / 2, longer)
    was = side_panel.sewn_length(SEAM) - centre_panel.sewn_length(SEAM)
    wedge = longer  # opens a little more or less than the centre panel, for what the two bows differ by
    for _ in range(3 if longer else 0):
        wedge += front.new.sewn_length(SEAM) + was - side.new.sewn_length(SEAM)
        side = _side(side_panel, levels[1], amount / 2, wedge)
    low = next(e for e in ("waist", "hem") if side_panel.has_edge(e))
    new_side = match_length(side.new, SEAM, low, front.new.sewn_length(SEAM) + was)
    pictures = {panel.old.name: _picture(panel) for panel in (side, front)}
    return Change(garment.with_piece(front.new).with_piece(new_side), pictures,
                  {"each": amount / 2, "across": longer})


def _level(piece: Piece) -> Place:
    """Where the princess seam passes the bust point: at its mark, its landmark, or its bust line."""
    notch = next((n for n in piece.notches if n.edge == SEAM and n.name == "bust notch"), None)
    if notch is not None:
        return Place(SEAM, notch.at)
    line = piece.line("bust line")
    point = piece.landmark("bust point") or (line and min((line.start, line.end),
                                                          key=lambda p: piece.edge(SEAM).path.nearest(p)[1]))
    if point is None:
        raise AlterationError(f'"{NAME}" on "{piece.name}" needs a "bust point", a "bust line", or a "bust notch" on '
                              'the princess seam; mark one in the labels file.')
    return Place(SEAM, piece.edge(SEAM).path.nearest(point)[0])


def _bowed(piece: Piece, level: Place, out: Point) -> tuple[Piece, Place]:
    drawn = bowed(piece, SEAM, level.at, out)
    return redraw_edge(piece, drawn), Place(SEAM, drawn.at(level.at))


def _centre(piece: Piece, level: Place, by: float, longer: float) -> _Panel:
    """The panel at the centre: bowed out, and cut right across at the bust."""
    out = outward(piece, SEAM) * by
    new, at = _bowed(piece, level, out)
    centre = needed_centre(piece, NAME)
    other = crossing(new, centre, point_of(new, at), down(piece) * 1j)
    if not longer or other is None:
        return _Panel(piece, new, level, (), out)
    opened, carried = open_right_across(new, at, other, longer, "neck", down(piece))
    pointed = _pointed(piece, opened, point_of(new, at), out, at.at + _gain(new, opened) / 2)
    return _Panel(piece, pointed, level, carried.regions, out)


def _side(piece: Piece, level: Place, by: float, longer: float) -> _Panel:
    """The panel at the side: bowed out, and cut at the bust to a hinge on the side seam."""
    out = -outward(piece, SIDE) * by
    new, at = _bowed(piece, level, out)
    hinge = crossing(new, SIDE, point_of(new, at), down(piece) * 1j)
    if not longer or hinge is None:
        return _Panel(piece, new, level, (), out)
    low = next(e for e in ("waist", "hem") if piece.has_edge(e))
    opened, carried = open_cut(new, at, hinge, longer, low)
    pointed = _pointed(piece, opened, point_of(new, at), out, at.at + _gain(new, opened) / 2)
    return _Panel(piece, pointed, level, carried.regions, out)


def _gain(before: Piece, after: Piece) -> float:
    return after.edge(SEAM).path.length - before.edge(SEAM).path.length


def _pointed(before: Piece, piece: Piece, wanted: Point, out: Point, at: float) -> Piece:
    """The seam as far out as wanted in the middle of the opening, at arc length `at`; bust point and mark put there."""
    short = dot(wanted - piece.edge(SEAM).path.point_at(at), unit(out))
    drawn = bowed(piece, SEAM, at, unit(out) * short)
    piece, at = redraw_edge(piece, drawn), drawn.at(at)
    point = piece.edge(SEAM).path.point_at(at)
    marked = replace(
        piece, landmarks=tuple(replace(m, at=point) if m.name == "bust point" else m for m in piece.landmarks),
        notches=tuple(replace(n, at=at) if n.edge == SEAM and n.name == "bust notch" else n for n in piece.notches))
    return levelled(before, marked, point)


def _picture(panel: _Panel) -> Picture:
    at = point_of(panel.old, panel.level)
    return Picture(panel.regions, sizes=(Size(at, at + panel.out, -down(panel.old)),))


def _card(order: Order, change: Change) -> Card:
    n, full = change.numbers, order.amount.value > 0
    each, by = f"{{{abs(n['each']):.1f} mm}}", f"{{{abs(order.amount.value):.1f} mm}}"
    length = f"{{{abs(n['across']):.1f} mm}}"
    steps = [
        f"On both panels, measure {each} {'out from' if full else 'in from'} the princess seam at the bust point and "
        "mark.",
        "Draw the seam anew through the mark, to nothing at its upper end and at the waist, as round as before."]
    if order.options.get("length") != "leave":
        steps += [
            "Cut the centre panel across at the bust point, square to the grain, and "
            f"{'open' if full else 'lap'} it by {length}.",
            "Cut the side panel at the bust point up to the side seam, not through it, and "
            f"{'open' if full else 'lap'} it by as much at the princess seam: the upper part swings. Tape both; fair "
            "the seams."]
    steps.append("Walk the two panels along each other from the bust point, and true the difference at the waist.")
    check = (f"The front half is {by} {'wider' if full else 'narrower'} at the bust line.",
             "Armhole, shoulder, neck, waist and side seam are as long as before.")
    return Card(f"{'Full' if full else 'Small'} bust, princess seam", ("paper", "tape", "ruler", "French curve"),
                tuple(steps), check, SOURCE)


SOURCE = ("redrawn seam, cut across: NMSU Cooperative Extension C-228; on princess seams: Liechty and others (1992), "
          "from memory; halves: common practice")

ALTERATION = Alteration(
    NAME, ("small bust princess", "full bust on a princess seam", "small bust on a princess seam"),
    (-25.0, 50.0), SOURCE, 2, apply, _card,
    {"small bust princess": -1.0, "small bust on a princess seam": -1.0}, (FRONT, SIDE_FRONT, LENGTH),
    (Need("bodice front", (SEAM,)), Need("bodice side front", (SEAM, SIDE, "armhole"))),
    instead='with a bust dart, "full bust"; without darts, "full bust dartless"')
