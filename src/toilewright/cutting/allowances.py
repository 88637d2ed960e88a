"""Cutting lines: the seam line and its allowances, edge by edge; and the way back from a printed cutting line.

Corners are mitred, and cut off square where they would run out too far. At a hem the ends of the allowance are the
mirror image of the sides above it, so that they lie on the sides when the hem is turned up. A dart's mouth is part of
its edge's line, with its peak: beside it runs the line that the folded, pressed dart would be cut along. (Common
practice, no published source.)
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from toilewright.errors import InputError
from toilewright.geometry.meeting import meetings
from toilewright.geometry.offset import offset_path, offset_ring
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, cross, reflected
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.piece import Piece
from toilewright.tolerance import JOINT


@lru_cache(maxsize=256)
def cutting_line(piece: Piece) -> tuple[Path, ...]:
    """The line to cut along: one path for each edge, in the order of the ring, end to end (mm).

    The seam line is taken as it is; true the darts first (:func:`toilewright.pattern.truing.true_darts`).

    Raises:
        GeometryError: an edge vanishes between its neighbours.
    """
    edges = piece.edges
    n = len(edges)
    paths = [e.path for e in edges]
    hems = {i for i, e in enumerate(edges) if _has_turned_hem(piece, i) and e.allowance > 0}
    lines = list(offset_ring(paths, [0.0 if i in hems else e.allowance for i, e in enumerate(edges)]))
    for i in sorted(hems):
        before, after = (i - 1) % n, (i + 1) % n
        found = _turned_hem(lines[before], lines[i], lines[after], edges[i].allowance)
        if found is None:
            return offset_ring(paths, [e.allowance for e in edges])
        lines[before], lines[i], lines[after] = found
    return tuple(lines)


def seam_line(cut_paths: Sequence[Path], allowances: Sequence[float]) -> tuple[Path, ...]:
    """The seam line inside a printed cutting line: the inverse of :func:`cutting_line`.

    Args:
        cut_paths: the printed outline divided into its edges, end to end, counter-clockwise (mm).
        allowances: for each edge what is to be taken off (mm); 0 on a fold.

    Raises:
        InputError: not as many allowances as edges.
        GeometryError: an edge vanishes between its neighbours.
    """
    if len(cut_paths) != len(allowances):
        raise InputError(f"The cutting line has {len(cut_paths)} edges but {len(allowances)} allowances were given; "
                         "give one for each edge, 0 on a fold.")
    return offset_ring(_without_cut_off_corners(cut_paths), [-a for a in allowances])


def _has_turned_hem(piece: Piece, i: int) -> bool:
    """A hem between two edges that are no hems themselves."""
    n = len(piece.edges)
    return (n > 2 and piece.edges[i].kind is EdgeKind.HEM
            and piece.edges[i - 1].kind is not EdgeKind.HEM and piece.edges[(i + 1) % n].kind is not EdgeKind.HEM)


def _turned_hem(before: Path, hem: Path, after: Path, depth: float) -> tuple[Path, Path, Path] | None:
    """The side lines run on below the hem fold as their mirror images, and the hem's edge between them.

    Args:
        before, hem, after: the side that arrives at the hem, the hem's fold line, the side that leaves it.
    """
    low = offset_path(hem, depth)
    reach = 3 * depth
    long = Path.joined([Path.line(low.start - low.start_tangent * reach, low.start), low,
                        Path.line(low.end, low.end + low.end_tangent * reach)])
    first = _mirrored_end(before.reversed(), hem.start, hem.start_tangent, reach)
    last = _mirrored_end(after, hem.end, hem.end_tangent, reach)
    start, end = _nearest_meeting(first, long, low.start), _nearest_meeting(last, long, low.end)
    if start is None or end is None or start[1] >= end[1]:
        return None
    middle = long.sub(start[1], end[1])
    return (Path.joined([before, first.sub(0.0, start[0]).with_ends(end=middle.start)]), middle,
            Path.joined([last.sub(0.0, end[0]).with_ends(end=middle.end).reversed(), after]))


def _mirrored_end(side: Path, fold: Point, along: Point, reach: float) -> Path:
    """The first stretch of a side that starts at the hem fold, mirrored in the fold; run on straight if short."""
    near = side.sub(0.0, min(reach, side.length))
    image = near.mapped(lambda p: reflected(p, fold, fold + along)).with_ends(start=side.start)
    return Path.joined([image, Path.line(image.end, image.end + image.end_tangent * reach)])


def _nearest_meeting(side: Path, hem: Path, to: Point) -> tuple[float, float] | None:
    """Arc lengths on side and hem of their crossing that is nearest to a point."""
    best = min(meetings(side, hem), key=lambda m: abs(m.point - to), default=None)
    return (best.on_first, best.on_second) if best else None


def _without_cut_off_corners(paths: Sequence[Path]) -> list[Path]:
    """Both halves of a corner that was cut off square taken away: the edges will be run on until they meet."""
    kept = list(paths)
    for i in range(len(paths)):
        j = (i + 1) % len(paths)
        a, b = kept[i], kept[j]
        if len(a.handles) < 2 or len(b.handles) < 2 or a.handles[-1] or b.handles[0]:
            continue
        one, other = a.nodes[-1] - a.nodes[-2], b.nodes[1] - b.nodes[0]
        if abs(one - other) < 1e-6 * abs(one) + JOINT and abs(cross(one, other)) < JOINT:
            kept[i] = Path(a.nodes[:-1], a.handles[:-1])
            kept[j] = Path(b.nodes[1:], b.handles[1:])
    return kept
