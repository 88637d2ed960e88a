"""An edge moved sideways at one place, the shift tapering to nothing (or to another one) on both sides of it."""

from __future__ import annotations

from toilewright.fit.moves.edges import STAY, Redrawn, bend, sums
from toilewright.geometry.affine import Affine
from toilewright.geometry.fairing import hermite
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, turn
from toilewright.pattern.piece import Piece
from toilewright.tolerance import JOINT

NEAR_END = 40.0
"""mm over which an edge is drawn anew to end in another direction (our own choice)."""


def bowed(piece: Piece, edge: str, at: float, by: Point, ends: tuple[Point, Point] = (0j, 0j),
          span: tuple[float, float] | None = None) -> Redrawn:
    """An edge that moves by a vector at arc length `at`, evenly less on both sides of it.

    Args:
        ends: how far the ends of the span move (mm).
        span: arc lengths between which the edge is redrawn; the whole edge when not given.
    """
    path = piece.edge(edge).path
    low, high = span or (0.0, path.length)
    head, first, second, rest = _parts(path, low, at, high)
    shift = Affine.shift(by)
    before = bend(first, Affine.shift(ends[0]), shift)
    after = bend(second, shift, Affine.shift(ends[1]))
    # Both parts are given one direction where they meet, so that no corner shows: a straight part keeps its own.
    miss = turn(before.end_tangent, after.start_tangent) - turn(first.end_tangent, second.start_tangent)
    share = 0.0 if before.handles[-1] is None else 1.0 if after.handles[0] is None else 0.5
    here = before.end
    before = bend(before, STAY, Affine.turn(miss * share, here))
    after = bend(after, Affine.turn(miss * (share - 1.0), here), STAY) if after.handles[0] else after
    fresh = [p for p in (head, before, after.with_ends(start=before.end), rest) if p is not None]
    old = [p for p in (head, first, second, rest) if p is not None]
    return Redrawn(edge, Path.joined(fresh), sums(old), sums(fresh))


def ending_along(path: Path, along: Point, reach: float = NEAR_END) -> Path:
    """The path with its last `reach` mm drawn anew, so that it ends in a direction; its end stays."""
    head, tail = path.split(path.length - reach)
    return Path.joined((head, hermite(tail.start, tail.start_tangent, tail.end, along)))


def _parts(path: Path, low: float, at: float, high: float) -> tuple[Path | None, Path, Path, Path | None]:
    head = path.sub(0.0, low) if low > JOINT else None
    rest = path.sub(high, path.length) if high < path.length - JOINT else None
    return head, path.sub(low, at), path.sub(at, high), rest
