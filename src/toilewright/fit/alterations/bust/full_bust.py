"""Full bust and small bust on a darted bodice: cut waist, bust point, armhole, dart; open or lap; level the waist."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration, Change, Need, Options, Picture, Size, too_much
from toilewright.fit.frame import bust_dart, bust_point, down, need_edges, needed_piece, on_axis, outward
from toilewright.fit.moves.bust_cut import (
    BustCut,
    OpenedBust,
    bust_cut,
    lapped_at,
    most_that_opens,
    open_bust,
    paper_parts,
)
from toilewright.fit.moves.edges import corner, ends_at
from toilewright.fit.moves.ring import Place, point_of
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart
from toilewright.pattern.piece import Piece

NAME = "full bust"


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Front wider by `amount` mm at the bust line on each half, longer with it; a negative amount makes a small bust.

    Armhole, shoulder and neck keep their lengths, and so do side seam and waist once the darts are sewn: what the
    waist gains goes into the waist dart, which is made if there is none.

    Options:
        piece: ``bodice front`` unless told otherwise.

    Raises:
        AlterationError: a dart or an edge is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, NAME, options, "bodice front")
    dart = bust_dart(piece, NAME)
    need_edges(piece, NAME, "armhole", dart.edge)
    cut = _cut(piece, dart, amount)
    why, most = most_that_opens(piece, cut, amount > 0)
    if abs(amount) > abs(most):
        for _ in range(4):  # where a lap is taken hold of depends on how much is lapped
            most = most_that_opens(piece, _cut(piece, dart, most), amount > 0)[1]
        raise too_much(NAME, amount, piece.name, why, most)
    opened = open_bust(piece, cut, amount)
    new = opened.piece.dart(dart.name)
    numbers = {"drop": opened.drop, "dart": new.end - new.start, "old dart": dart.end - dart.start}
    return Change(garment.with_piece(opened.piece), {piece.name: picture_of(piece, cut, opened)}, numbers)


def _cut(piece: Piece, dart: Dart, amount: float) -> BustCut:
    feet = Place(dart.edge, dart.start), Place(dart.edge, dart.end)
    pivot = on_axis(piece, dart)
    if amount < 0:
        pivot = on_axis(piece, dart, lapped_at(piece, bust_point(piece, dart), outward(piece, dart.edge), amount))
    return bust_cut(piece, NAME, pivot, feet, dart)


def picture_of(piece: Piece, cut: BustCut, opened: OpenedBust) -> Picture:
    """The four parts of paper, the hinge, how far the cut opens at its foot, and where the bust point then is."""
    side, way = cut.mouth[0].edge, down(piece)
    foot, hinge, low = point_of(piece, cut.foot), point_of(piece, cut.hinge), opened.piece.edge(cut.low).path
    middle = sum(opened.carried.at(p.edge, p.at, after) for p, after in zip(cut.mouth, (False, True), strict=True)) / 2
    mouth = opened.piece.edge(side).path.point_at(middle)
    near = (low.start, low.end, mouth, foot + way * 12.5, corner(opened.piece, "armhole", side), hinge - way * 25)
    return Picture(paper_parts(cut, opened.carried.regions, ends_at(piece, side, "armhole")), (), (hinge,),
                   (Size(foot + way * opened.drop, foot + opened.out, way),), near, {"bust point": opened.aim})


def _card(order: Order, change: Change) -> Card:
    amount, n = order.amount.value, change.numbers
    by = f"{{{abs(amount):.1f} mm}}"
    full = amount > 0
    steps = (
        "Rule a line along the grain from the waist (middle of its dart) to the bust point and on to the armhole "
        "notch; another along the middle of the bust dart.",
        "Cut the first up to the armhole seam line, not through it, and snip the allowance from outside. Cut the "
        "second to the bust point, leaving a paper hinge.",
        f"{'Open' if full else 'Lap'} the cut by {by} at the bust point, its edges below it parallel: the dart "
        f"{'widens' if full else 'narrows'} by itself from {{{n['old dart']:.0f} mm}} to {{{n['dart']:.0f} mm}}.",
        f"Cut across the centre part, square to the grain, and move it {{{abs(n['drop']):.1f} mm}} "
        f"{'down' if full else 'up'}, until the waist is level. Tape; round off the armhole.",
        f"Mark the new bust point in the middle of the {'opening' if full else 'lap'}; the dart stops short of it as "
        f"before. True its mouth; {'take' if full else 'let'} {by} {'up in' if full else 'out of'} the waist dart.")
    check = (f"The front half is {by} {'wider' if full else 'narrower'} at the bust line.",
             "Armhole, shoulder, neck and the closed side seam are as long as before.")
    return Card("Full bust" if full else "Small bust", ("paper", "tape", "ruler", "French curve", "scissors"), steps,
                check, SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; Liechty and others (1992), from memory"

ALTERATION = Alteration(
    NAME, ("small bust", "full bust adjustment", "small bust adjustment"),
    (-25.0, 60.0), SOURCE, 2, apply, _card,
    {"small bust": -1.0, "small bust adjustment": -1.0},
    needs=(Need("bodice front", ("armhole",), ("bust dart",)),),
    instead='with a princess seam, "full bust princess"; without darts, "full bust dartless"')

