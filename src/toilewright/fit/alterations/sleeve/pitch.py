"""Sleeve pitch: the sleeve turned in its armhole, for an arm that hangs farther forward or back."""

from __future__ import annotations

from dataclasses import replace

from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Need, Options, Picture, Size, too_much
from toilewright.fit.alterations.sleeve.head import CAP, UNDERARMS, Head, head_of, lines_follow, with_tip
from toilewright.fit.moves.edges import Redrawn, bend, corner, ends_at, redraw_edge, towards
from toilewright.fit.result import Card, Order
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, turn
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "sleeve pitch"

MOST_SHARE = 0.5
"""Of the way from the underarm to the nearest balance mark that the seam may move (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """The sleeve turned forward by `amount` mm along its head (back when negative); both halves of the head stay.

    Every mark of the head moves towards the back on the sleeve, so that what lies before it comes forward when it is
    sewn in; the underarm seam moves as much: the strip that the front loses is added at the back.

    Options:
        piece: ``sleeve`` unless told otherwise.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    head = head_of(garment, NAME, options)
    low, high = head.notches
    most = MOST_SHARE * min(low, head.cap.length - high)
    if abs(amount) > most:
        raise too_much(NAME, amount, head.sleeve.name, "moves the underarm seam up to the balance marks",
                       most if amount > 0 else -most)
    loser, winner = UNDERARMS if amount > 0 else UNDERARMS[::-1]
    sleeve, strip = _turned(head, loser, winner, abs(amount))
    tips = head.tip, sleeve.edge(CAP).path.point_at(head.top)
    picture = Picture(cuts=(strip,), sizes=(Size(*tips, head.up),))
    return Change(garment.with_piece(sleeve), {sleeve.name: picture})


def _turned(head: Head, loser: str, winner: str, by: float) -> tuple[Piece, Path]:
    """The sleeve with a strip `by` mm wide moved from one underarm seam to the other, and the line it is cut along."""
    sleeve = head.sleeve
    whole = towards(sleeve, CAP, loser)
    kept, strip = whole.split(whole.length - by)
    here, there = whole.end, whole.start
    sewn_on = Affine.turn(turn(corner(sleeve, loser, "hem") - here, corner(sleeve, winner, "hem") - there), here).then(
        Affine.shift(there - here))
    cap = Path.joined((strip.reversed().mapped(sewn_on).reversed(), kept.with_ends(start=there)))
    moves = {loser: kept.end - here, winner: cap.start - there}
    length = sleeve.edge(CAP).path.length
    drawn = [Redrawn(CAP, cap if ends_at(sleeve, CAP, loser) else cap.reversed(), (0.0, length), (0.0, length))]
    for edge, move in moves.items():
        path = sleeve.edge(edge).path
        drawn.append(Redrawn(edge, path.moved(move), (0.0, path.length), (0.0, path.length)))
    out = redraw_edge(sleeve, *drawn, _hem(sleeve, moves))
    out = replace(out, darts=tuple(replace(d, apex=d.apex + moves[d.edge]) if d.edge in moves else d
                                   for d in out.darts))
    return lines_follow(sleeve, with_tip(out, head.top)), out.edge(loser).path


def _hem(sleeve: Piece, moves: dict[str, Point]) -> Redrawn:
    path = sleeve.edge("hem").path
    last, first = UNDERARMS if ends_at(sleeve, "hem", UNDERARMS[0]) else UNDERARMS[::-1]
    fresh = bend(path, Affine.shift(moves[first]), Affine.shift(moves[last]))
    return Redrawn("hem", fresh, (0.0, path.length), (0.0, fresh.length))


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by = f"{{{abs(amount):.1f} mm}}"
    loser, winner = ("front", "back") if amount > 0 else ("back", "front")
    steps = (f"On the sleeve head, move the shoulder point and every balance mark {by} towards the {winner}, along the "
             "seam line.",
             f"Rule a line {by} inside the underarm seam of the {loser}, from head to hem, and cut the strip off.",
             f"Tape the strip to the underarm seam of the {winner}, seam line to seam line.",
             "Draw head and hem smoothly over the join.")
    check = ("From the underarm to the shoulder point both halves of the head measure what they did.",
             "Both underarm seams are equally long.",
             f"Sewn in by its marks, the sleeve hangs farther {'forward' if amount > 0 else 'back'}.")
    return Card(f"Sleeve turned {'forward' if amount > 0 else 'back'}", ("paper", "tape", "ruler", "scissors"), steps,
                check, SOURCE)


SOURCE = "Liechty, Pottberg-Steineckert and Rasband (1992), from memory; moving the strip: common practice"

ALTERATION = Alteration(
    NAME, ("sleeve pitched forward", "sleeve pitched back", "turn sleeve forward", "turn sleeve back"),
    (-15.0, 20.0), SOURCE, 4, apply, _card, {"sleeve pitched back": -1.0, "turn sleeve back": -1.0}, (PIECE,),
    (Need("sleeve", (CAP, *UNDERARMS, "hem")),),
    instead='a sleeve without a head of its own cannot be turned; try "forward shoulder"')
