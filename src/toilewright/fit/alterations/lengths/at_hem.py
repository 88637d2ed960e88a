"""Longer or shorter at the hem: the sides run on at their slope, or drawn anew to a hem that keeps its width."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Picture, Size, too_much
from toilewright.fit.alterations.lengths.crossing import HEM, LEAST_LEFT, NAME, meets
from toilewright.fit.follow import opposite
from toilewright.fit.frame import down
from toilewright.fit.moves.edges import Redrawn, bend, ends_at, redraw_edge, reline, run_on, shift_end, towards
from toilewright.geometry.affine import Affine
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

REDRAWN = 0.5
"""Of a side, from the hem up, that is drawn anew where the hem keeps its width (common practice: below the hip)."""


def hemmed(garment: Garment, name: str | None) -> list[str]:
    """Names of the piece and of those sewn to it from its hem up; without a name, when there is but one such set.

    Raises:
        AlterationError: there is no hem, or several.
    """
    having = [p.name for p in garment.pieces if p.has_edge(HEM)]
    listed = ", ".join(f'"{n}"' for n in having)
    if name is not None and name not in having:
        raise AlterationError(f'"{NAME}" at the hem of "{name}": there is no such piece with an edge "{HEM}"; name '
                              f"{listed or 'the edge in the labels file'}.")
    sets = [_joined(garment, first) for first in ([name] if name else having)]
    if not sets or any(set(s) != set(sets[0]) for s in sets):
        raise AlterationError(f'"{NAME}" at the hem: say which piece: {listed}.' if sets else
                              f'No piece of this pattern has an edge "{HEM}"; name it in the labels file.')
    return sets[0]


def _joined(garment: Garment, name: str) -> list[str]:
    found, todo = [], [name]
    while todo:
        one = todo.pop(0)
        if one in found:
            continue
        found.append(one)
        todo += [ref.piece for side in sides(garment.piece(one)) for ref in opposite(garment, one, side)
                 if meets(garment.piece(ref.piece), HEM, ref.edge)]
    return found


def sides(piece: Piece) -> tuple[str, str]:
    """The edges before and after the hem."""
    names = [e.name for e in piece.edges]
    i = names.index(HEM)
    return names[i - 1], names[(i + 1) % len(names)]


def longer(piece: Piece, amount: float, follow: bool) -> Piece:
    """The piece longer by `amount` mm at its hem (shorter when negative).

    Raises:
        AlterationError: so much is not there.
    """
    way = down(piece)
    room = min(_free(piece, side) for side in sides(piece)) - LEAST_LEFT
    if -amount > room:
        raise too_much(NAME, amount, piece.name, "takes up more than lies below the next corner or dart",
                       -max(room, 0.0))
    hem = piece.edge(HEM).path
    if follow:
        drawn = [run_on(piece, side, HEM, amount / dot(towards(piece, side, HEM).end_tangent, way))
                 for side in sides(piece)]
        goals = [_end(piece, d) for d in drawn]
    else:
        move = Affine.shift(way * amount)
        drawn = [shift_end(piece, side, HEM, move, REDRAWN * piece.edge(side).path.length) for side in sides(piece)]
        goals = [move(hem.start), move(hem.end)]
    fresh = bend(hem, Affine.shift(goals[0] - hem.start), Affine.shift(goals[1] - hem.end))
    marks = {m.name: goal for m in piece.landmarks for at, goal in zip((hem.start, hem.end), goals, strict=True)
             if abs(m.at - at) < 1e-3}
    out = redraw_edge(piece, *drawn, Redrawn(HEM, fresh, (0.0, hem.length), (0.0, fresh.length)), landmarks=marks)
    return reline(piece, out, HEM, *sides(piece))


def _end(piece: Piece, drawn: Redrawn) -> Point:
    """Where a side that was drawn anew meets the hem."""
    return drawn.path.end if ends_at(piece, drawn.edge, HEM) else drawn.path.start


def _free(piece: Piece, side: str) -> float:
    """mm of a side from the hem up to its first dart or its end."""
    length, at_end = piece.edge(side).path.length, ends_at(piece, side, HEM)
    return min((length - d.end if at_end else d.start for d in piece.darts_on(side)), default=length)


def picture_of(piece: Piece, amount: float) -> Picture:
    """The amount at the corner of the hem that is farther from the centre."""
    hem = piece.edge(HEM).path
    return Picture(sizes=(Size(hem.end, hem.end + down(piece) * amount, unit(hem.end - hem.start)),))
