"""Hem level: let down or taken up in front, behind or at the sides, tapering to nothing at the next seam."""

from __future__ import annotations

from toilewright.errors import AlterationError
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
from toilewright.fit.alterations.waist_and_hip.side_shift import SIDE
from toilewright.fit.frame import CENTRES, outward
from toilewright.fit.moves.edges import corner, ends_at, redraw_edge, reline, run_on, shift_end
from toilewright.fit.result import Card, Order
from toilewright.geometry.affine import Affine
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME, HEM = "hem level", "hem"

AT = Option("at", "front", "back", "side")

MOST_SHARE = 0.3
"""Of its width by which a hem may dip or rise (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """The hem let down by `amount` mm (taken up when negative) at one place, tapering to nothing across the piece.

    Where a tier or frill hangs on the hem, its seam is made level and the tier goes along as it is.

    Options:
        at: the centre ``front``, the centre ``back``, or the ``side``, there front and back alike; when it is not
            given, the first of them that the pattern has.
        piece: only this piece.

    Raises:
        AlterationError: no piece has that edge down to its hem, or the amount does not fit.
    """
    at, below = chosen(NAME, options, AT), _hung_on_a_hem(garment)
    hemmed = [p for p in garment.pieces if p.has_edge(HEM)
              and (p.name not in below if "piece" not in options else p.name == options["piece"])]
    places = (at,) if "at" in options else AT.words
    at, found = next(((w, found) for w in places if (found := _moving(hemmed, w))), (at, []))
    if not found:
        who = f'"{options["piece"]}"' if "piece" in options else "no piece of this pattern"
        raise AlterationError(f'"{NAME}" at = "{at}": {who} has that edge down to a hem; ask for it at = '
                              '"front", "back" or "side", or correct the names of the edges in the labels file.')
    altered, pictures = garment, {}
    for piece, edge in found:
        most = MOST_SHARE * piece.edge(HEM).path.length
        if abs(amount) > most:
            raise too_much(NAME, amount, piece.name, "tilts the hem too steeply", most if amount > 0 else -most)
        altered = altered.with_piece(_let_down(piece, edge, amount))
        pictures[piece.name] = _picture(piece, altered.piece(piece.name), edge, amount)
    return Change(altered, pictures, {"at": float(AT.words.index(at))})


def _moving(hemmed: list[Piece], at: str) -> list[tuple[Piece, str]]:
    """The pieces whose hem moves, and along which edge."""
    return [(p, e) for p in hemmed if (e := _edge(p, at)) is not None]


def _hung_on_a_hem(garment: Garment) -> set[str]:
    """Names of tiers and frills: of these the seam above is made level, and they go along."""
    return {r.piece for seam in garment.seams for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a))
            if any(m.edge == HEM for m in mine) for r in theirs}


def _edge(piece: Piece, at: str) -> str | None:
    """The edge along which the hem moves: at the side, or at the centre of a front or a back."""
    names = (SIDE,) if at == "side" else tuple(c for c in CENTRES if at in c or at in piece.name)
    edges = [e.name for e in piece.edges]
    i = edges.index(HEM)
    return next((n for n in names if n in (edges[i - 1], edges[(i + 1) % len(edges)])), None)


def _let_down(piece: Piece, edge: str, by: float) -> Piece:
    here = corner(piece, edge, HEM)
    line = run_on(piece, edge, HEM, by)
    goal = line.path.end if ends_at(piece, edge, HEM) else line.path.start
    hem = shift_end(piece, HEM, edge, Affine.shift(goal - here))
    marks = {m.name: goal for m in piece.landmarks if abs(m.at - here) < 1e-3}
    return reline(piece, redraw_edge(piece, line, hem, landmarks=marks), edge, HEM)


def _picture(old: Piece, new: Piece, edge: str, by: float) -> Picture:
    a, b = (corner(p, edge, HEM) for p in (old, new))
    return Picture(sizes=(Size(a, b, outward(old, edge)),), near=())


def _card(order: Order, change: Change) -> Card:
    amount, at = order.amount.value, AT.words[int(change.numbers["at"])]
    by, let_down = f"{{{abs(amount):.1f} mm}}", amount > 0
    where = "side seam" if at == "side" else f"centre {at}"
    steps = (f"On {' and '.join(change.pictures)}, measure {by} {'down, on' if let_down else 'up'} along the {where} "
             "from the hem and mark.",
             f"Draw the hem anew from the mark to the {'centre' if at == 'side' else 'side seam'}, tapering to nothing "
             "there and square to both edges.",
             "Tape paper below where the hem was let down, and give it its old allowance." if let_down else
             "Cut off what lies below the new hem and its allowance.")
    check = (f"At the {where} the hem is {by} {'lower' if let_down else 'higher'}.",
             "Front and back side seams are equal." if at == "side" else "The side seams measure what they did.")
    title = f"Hem {'let down' if let_down else 'taken up'} at the {where}"
    return Card(title, ("paper", "tape", "ruler", "curve"), steps, check, SOURCE)


SOURCE = "common practice, no published source"

ALTERATION = Alteration(
    NAME, ("hem let down", "hem taken up", "level hem"),
    (-40.0, 50.0), SOURCE, 6, apply, _card, {"hem taken up": -1.0}, (AT, PIECE), (Need("", (HEM,)),),
    instead='a length at a line is had with "lengthen or shorten"')
