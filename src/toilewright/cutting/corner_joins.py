"""How the cutting lines meet at a corner that is folded back or squared off.

Both are drawn at the end of one edge's allowance: of the seam that is sewn first, or of the edge that is turned back.
Common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Callable

from toilewright.geometry.meeting import line_meetings, meetings
from toilewright.geometry.offset import Join, join_of
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, reflected, unit
from toilewright.pattern.parts import Corner, CornerCut, Edge
from toilewright.tolerance import CORNER_LIMIT, JOINT

Made = tuple[Path, Path | None, Path | None, Path]


def join_for(corner: Corner, before: Edge, after: Edge) -> Join | None:
    """How :func:`toilewright.geometry.offset.offset_ring` is to make a corner; None for a mitre.

    Args:
        before, after: the edge that arrives at it, and the edge that leaves it.
    """
    if corner.cut is CornerCut.MITRED:
        return None
    arrives = corner.first != after.name
    edge, other = (before, after) if arrives else (after, before)
    if edge.allowance <= 0:
        return None
    shape: Callable[[Path, Path, Path], Made | None]

    if corner.cut is CornerCut.FOLDED:
        def shape(seam: Path, line: Path, beside: Path) -> Made | None:
            return folded(seam, line, beside, edge.allowance, other.allowance)
    else:
        def shape(seam: Path, line: Path, beside: Path) -> Made | None:
            return squared(seam, line, beside, edge.allowance, corner.reach)

    def join(first: Path, second: Path) -> Made | None:
        if arrives:
            return shape(edge.path, first, second)
        made = shape(edge.path.reversed(), second.reversed(), first.reversed())
        if made is None:
            return None
        line, tail, head, beside = (part and part.reversed() for part in made)
        return beside, head, tail, line

    return join


# -- folded back ------------------------------------------------------------------------------------


def folded(seam: Path, line: Path, beside: Path, allowance: float, other: float) -> Made | None:
    """The end of an allowance as the mirror image of the line beside it.

    Args:
        seam: the line that it is turned back along, arriving at the corner.
        line: its own cutting line, arriving; not yet joined.
        beside: the other edge's cutting line, leaving; not yet joined.
        allowance, other: of both (mm).
    """
    kept, run_on, head, rest = join_of(seam, beside, max(allowance, other), 4 * CORNER_LIMIT)
    fold = run_on.end if run_on else kept.end
    along = run_on.end_tangent if run_on else kept.end_tangent
    side = Path.joined([p for p in (head, rest) if p is not None])
    if abs(side.start - fold) > 1e-3:
        return None
    reach = 3 * allowance
    image = _mirrored_end(side, fold, along, reach)
    long = Path.joined([line, Path.line(line.end, line.end + line.end_tangent * reach)])
    below = fold + unit(line.end - seam.end) * allowance
    met = min(meetings(image, long), key=lambda m: abs(m.point - below), default=None)
    if met is None or met.on_second < JOINT or met.on_first < JOINT:
        return None
    low, tail = _up_to(line, met.on_second, met.point)
    back = image.sub(0.0, met.on_first).with_ends(end=met.point).reversed()
    return low, tail, back if head is None else Path.joined([back.with_ends(end=head.start), head]), rest


def _mirrored_end(side: Path, fold: Point, along: Point, reach: float) -> Path:
    """The first stretch of a side that starts at the fold, mirrored in the fold; run on straight if short."""
    near = side.sub(0.0, min(reach, side.length))
    image = near.mapped(lambda p: reflected(p, fold, fold + along)).with_ends(start=side.start)
    return Path.joined([image, Path.line(image.end, image.end + image.end_tangent * reach)])


def _up_to(line: Path, s: float, point: Point) -> tuple[Path, Path | None]:
    """A line trimmed at arc length s, or itself with what it runs on."""
    if s < line.length - JOINT:
        return line.split(s)[0].with_ends(end=point), None
    return line, Path.line(line.end, point) if abs(point - line.end) > JOINT else None


# -- squared off ------------------------------------------------------------------------------------


def squared(seam: Path, line: Path, beside: Path, allowance: float, reach: float | None) -> Made | None:
    """The end of an allowance square to its seam, `reach` mm beyond the corner.

    Args:
        seam, line, beside, allowance: as for :func:`folded`.
        reach: None for where the line beside it crosses the seam line that runs on.
    """
    own = natural_reach(seam, beside)
    reach = own if reach is None else reach
    if reach is None or reach <= JOINT:
        return None
    along, out = seam.end_tangent, unit(line.end - seam.end)
    end, far = seam.end + along * reach, 2 * CORNER_LIMIT * max(reach, allowance)
    tip, long = end + out * allowance, _run_back(beside, far)
    met = min(line_meetings(long, end - out * far, tip), key=lambda m: abs(m.point - end), default=None)
    corners = [line.end, tip]
    if met is None:  # the line beside it has less allowance than its partner: it is met on the seam line run on
        if own is None:
            return None
        near = seam.end + along * own
        met = min(line_meetings(long, near - along * 1e-3, near + along * 1e-3), key=lambda m: abs(m.point - near),
                  default=None)
        corners.append(end)
    if met is None or met.on_first > long.length - JOINT:
        return None
    if abs(met.point - corners[-1]) > JOINT:
        corners.append(met.point)
    rest = long.split(met.on_first)[1] if met.on_first > JOINT else long
    return line, Path.polyline(corners), None, rest.with_ends(start=corners[-1])


def natural_reach(seam: Path, beside: Path) -> float | None:
    """How far beyond a corner the cutting line beside it crosses the seam line that runs on (mm), or None.

    Args:
        seam: arriving at the corner.
        beside: the other edge's cutting line, leaving it; not joined to anything.
    """
    along = seam.end_tangent
    far = 4 * CORNER_LIMIT * max(abs(beside.start - seam.end), 1.0)
    found = [dot(m.point - seam.end, along)
             for m in line_meetings(_run_back(beside, far), seam.end, seam.end + along * far)]
    return min((s for s in found if s > JOINT), default=None)


def _run_back(line: Path, far: float) -> Path:
    """A line with a straight stretch before its start."""
    return Path.joined([Path.line(line.start - line.start_tangent * far, line.start), line])
