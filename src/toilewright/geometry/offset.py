"""Lines that run beside other lines at a fixed distance: seam allowances and their undoing."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from math import pi

from toilewright.errors import GeometryError
from toilewright.geometry.curve import Cubic, Curve, Line
from toilewright.geometry.meeting import Meeting, meetings, ray_meeting
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, cross, dot, turn, unit
from toilewright.geometry.tangle import combed, ended, keeps, unlooped, untangled
from toilewright.tolerance import CORNER_LIMIT, JOINT, OFFSET

Join = Callable[[Path, Path], "tuple[Path, Path | None, Path | None, Path] | None"]
"""How a corner is made otherwise: from the line that arrives and the line that leaves, both not yet joined, to the line
that arrives trimmed, what is added to its end, what is added to the start of the other, and the other trimmed; the four
run end to end. None where that cannot be done."""


@lru_cache(maxsize=1024)
def offset_path(path: Path, distance: float, tolerance: float = OFFSET) -> Path:
    """The path at `distance` mm to the right of another (left when negative).

    On a ring walked counter-clockwise, right is outside. Smooth joints stay joined; at inner corners
    the parts are run on to their meeting point or trimmed back to it.

    Args:
        tolerance: how far the result may be from its true distance (mm).
    """
    if distance == 0.0:
        return path
    if not path.closed and _has_a_tight_bend(path, distance, tolerance):
        return _beside_tight_bends(path, distance, tolerance)
    runs: list[list[list[Curve]]] = []
    arrived: Point | None = None
    for curve in path.curves:
        if curve.length < JOINT:
            continue
        if arrived is None or abs(turn(arrived, curve.derivative(0.0))) > 1e-3:
            runs.append([])
        for arm in _arms(curve, distance, tolerance):
            if runs[-1] and abs(runs[-1][-1][-1].end - arm[0].start) < 1e-4:
                runs[-1][-1].extend(arm)
            else:
                runs[-1].append(arm)
        arrived = curve.derivative(1.0)
    # Of a tight bend nothing is left beside it; its neighbours then meet in a corner.
    parts = [_crossed([Path.of(arm) for arm in run]) for run in runs if run]
    if not parts:
        raise GeometryError("A line without length, or bent tighter than the allowance, has no line beside it.")
    result = parts[0]
    for nxt in parts[1:]:
        before, corner, after = _corner(result, nxt, abs(distance), CORNER_LIMIT)
        result = Path.joined([p for p in (before, corner, after) if p is not None])
    if path.closed or len(parts) == 1 or keeps(result, path, abs(distance)):
        return result
    return _beside_tight_bends(path, distance, tolerance)


def _beside_tight_bends(path: Path, distance: float, tolerance: float) -> Path:
    """The same where it would turn back or cross itself: only what keeps its distance is left.

    The path counts as running on at its ends, so that what a bend there has swallowed runs on as the path does.
    """
    far = 2 * abs(distance) + 1.0
    curves = [c for c in path.curves if c.length >= JOINT]
    if all(not _arms(c, distance, tolerance) for c in curves):
        raise GeometryError("A line without length, or bent tighter than the allowance, has no line beside it.")
    first, last = path.start_tangent, path.end_tangent
    long = [Line(path.start - first * far, path.start), *curves, Line(path.end, path.end + last * far)]
    found = untangled(_raw(long, distance, tolerance), Path.of(long), abs(distance))
    found = ended(found, path.end - 1j * last * distance)
    return ended(found.reversed(), path.start - 1j * first * distance).reversed()


def _has_a_tight_bend(path: Path, distance: float, tolerance: float) -> bool:
    """Does a curve bend tighter than the distance on the side of its line?"""
    return any(len(_arms(c, distance, tolerance)) != 1 or _swallowed(c, distance) for c in path.curves
               if c.length >= JOINT)


def _swallowed(curve: Curve, d: float) -> bool:
    """Does the line beside a curve turn back at its start or end?"""
    return not isinstance(curve, Line) and min(_ahead(curve, 0.0, d), _ahead(curve, 1.0, d)) <= 0


def _raw(curves: Sequence[Curve], distance: float, tolerance: float) -> Path:
    """The line beside curves as it comes, tangles and all: steps where it turns back, mitres at outer corners."""
    parts: list[Path] = []
    out = None
    for curve in curves:
        into, last = unit(curve.derivative(0.0)), unit(curve.derivative(1.0))
        start, end = curve.start - 1j * into * distance, curve.end - 1j * last * distance
        arms = [Path.of(arm) for arm in _arms(curve, distance, tolerance)]
        if parts and abs(start - parts[-1].end) > JOINT:
            parts.append(_outer_corner(parts[-1].end, out, start, into, distance))
        here = start
        for arm in arms:
            if abs(arm.start - here) > JOINT:
                parts.append(Path.line(here, arm.start))
            parts.append(arm)
            here = arm.end
        if abs(end - here) > JOINT:
            parts.append(Path.line(here, end))
        out = last
    return Path.joined(parts)


def _outer_corner(start: Point, out: Point, end: Point, into: Point, distance: float) -> Path:
    """A mitre where the lines beside a corner have to run on; a plain step where they cross."""
    if turn(out, into) * distance <= 0:
        return Path.line(start, end)
    before, after = Path.line(start - out, start), Path.line(end, end + into)
    corner = _corner(before, after, abs(distance), CORNER_LIMIT)[1]
    return Path.line(start, end) if corner is None else corner


def offset_ring(paths: Sequence[Path], distances: Sequence[float],
                limit: float = CORNER_LIMIT, tolerance: float = OFFSET,
                joins: Mapping[int, Join] | None = None) -> tuple[Path, ...]:
    """Each edge of a closed ring moved outwards by its own distance, corners made good.

    Args:
        paths: the edges, end to end, counter-clockwise (mm).
        distances: outwards positive, inwards negative, 0 leaves the edge on its line (mm).
        limit: a corner runs out at most `limit` times the larger allowance, then is cut off square.
        joins: corners that are made otherwise, by the number of the edge that arrives; a join that gives None leaves
            its corner as usual.

    Returns:
        As many paths as came in; they meet end to end, at the tip of each corner (or in the middle of what is
        cut off square).

    Raises:
        GeometryError: an edge vanishes between its neighbours.
    """
    n = len(paths)
    moved = [offset_path(p, d, tolerance) for p, d in zip(paths, distances, strict=True)]
    if n == 1:
        only = moved[0]
        before, corner, after = _corner(only, only, abs(distances[0]), limit)
        return (_close_single(only, before, corner, after),)
    tails: list[Path | None] = [None] * n
    heads: list[Path | None] = [None] * n
    for i in range(n):
        j = (i + 1) % n
        made = joins[i](moved[i], moved[j]) if joins and i in joins else None
        if made is not None:
            moved[i], tails[i], heads[j], moved[j] = made
            continue
        reach = max(abs(distances[i]), abs(distances[j]))
        moved[i], tails[i], heads[j], moved[j] = join_of(moved[i], moved[j], reach, limit)
    out = [_plain(combed(unlooped(Path.joined([p for p in (head, path, tail) if p is not None]), 4 * abs(d))))
           for head, path, tail, d in zip(heads, moved, tails, distances, strict=True)]
    # Ends agree by construction; only float noise is closed here.
    return tuple(p.with_ends(end=out[(i + 1) % n].start) for i, p in enumerate(out))


def join_of(first: Path, second: Path, reach: float, limit: float = CORNER_LIMIT
            ) -> tuple[Path, Path | None, Path | None, Path]:
    """The usual corner between two lines, in the four parts of a :data:`Join`.

    Args:
        reach: the larger of the two allowances (mm).
    """
    before, corner, after = _corner(first, second, abs(reach), limit)
    tail, head = (None, None) if corner is None else _shared(corner, before.end_tangent, after.start_tangent)
    return before, tail, head, after


def _shared(corner: Path, out: Point, into: Point) -> tuple[Path | None, Path | None]:
    """What of a corner belongs to the edge that arrives, and what to the edge that leaves."""
    nodes = corner.nodes
    if len(nodes) == 4:
        middle = (nodes[1] + nodes[2]) / 2
        return Path.polyline((*nodes[:2], middle)), Path.polyline((middle, *nodes[2:]))
    if len(nodes) == 3:
        return Path.polyline(nodes[:2]), Path.polyline(nodes[1:])
    along = unit(nodes[1] - nodes[0])
    if abs(cross(along, into)) < abs(cross(along, out)):
        return None, corner
    return corner, None


def _plain(path: Path) -> Path:
    """The same line without joints between straight stretches that run on straight."""
    nodes, handles = [path.nodes[0]], []
    for handle, end in zip(path.handles, path.nodes[1:], strict=True):
        if handle is None and handles and handles[-1] is None:
            ahead, behind = end - nodes[-1], nodes[-1] - nodes[-2]
            if dot(ahead, behind) > 0 and abs(cross(ahead, behind)) <= 1e-9 * abs(ahead) * abs(behind):
                nodes[-1] = end
                continue
        nodes.append(end)
        handles.append(handle)
    return Path(tuple(nodes), tuple(handles))


def _close_single(only: Path, before: Path, corner: Path | None, after: Path) -> Path:
    if corner is not None:
        return Path.joined([only, corner])
    s_end, s_start = only.nearest(before.end)[0], only.nearest(after.start)[0]
    if s_end - s_start < JOINT:
        return only
    trimmed = only.sub(s_start, s_end)
    return trimmed.with_ends(end=trimmed.start)


def _corner(a: Path, b: Path, reach: float, limit: float) -> tuple[Path, Path | None, Path]:
    """Make the end of a and the start of b meet: trimmed a, a corner between, trimmed b."""
    gap = b.start - a.end
    if abs(gap) < 1e-4:
        return a.with_ends(end=b.start), None, b
    out, into = a.end_tangent, b.start_tangent
    m = _crossing(a, b, reach)
    if m is not None:
        first = a if m.on_first > a.length - JOINT else a.split(m.on_first)[0]
        second = b if m.on_second < JOINT else b.split(m.on_second)[1]
        return first.with_ends(end=m.point), None, second.with_ends(start=m.point)
    tip = ray_meeting(a.end, out, b.start, into)
    bend = abs(turn(out, into))
    if tip is None or bend < 0.02 or bend > pi - 0.02:
        return a, Path.line(a.end, b.start), b
    forward, back = dot(tip - a.end, out), dot(b.start - tip, into)
    if forward >= -JOINT and back >= -JOINT:
        if max(forward, back) <= limit * max(reach, 1.0):
            return a, _run((a.end, tip, b.start)), b
        far = limit * max(reach, 1.0)
        return a, _run((a.end, a.end + out * min(forward, far), b.start - into * min(back, far), b.start)), b
    return _trim_by_running_on(a, b, out, into)


def _crossing(a: Path, b: Path, reach: float) -> Meeting | None:
    """Where the end of a crosses the start of b, or None."""
    crossings = [m for m in meetings(a, b)
                 if m.on_first > JOINT and m.on_second < b.length - JOINT] if a is not b else []
    found = min(crossings, key=lambda m: (a.length - m.on_first) + m.on_second, default=None)
    if found is None or (a.length - found.on_first) + found.on_second >= 12 * reach + 40:
        return None
    return found


def _run(points: Sequence[Point]) -> Path:
    """Straight lines through points, repeated ones once."""
    kept = [points[0]]
    for p in points[1:-1]:
        if abs(p - kept[-1]) > JOINT and abs(p - points[-1]) > JOINT:
            kept.append(p)
    return Path.polyline([*kept, points[-1]])


def _trim_by_running_on(a: Path, b: Path, out: Point, into: Point) -> tuple[Path, Path | None, Path]:
    """One side runs on until it meets the other; a plain step where neither does."""
    reach = 4 * abs(b.start - a.end) + 50
    for m in meetings(Path.line(a.end, a.end + out * reach), b):
        if m.on_second < b.length - JOINT:
            rest = b if m.on_second < JOINT else b.split(m.on_second)[1].with_ends(start=m.point)
            return a, Path.line(a.end, m.point) if abs(m.point - a.end) > JOINT else None, rest
    for m in reversed(meetings(a, Path.line(b.start - into * reach, b.start))):
        if m.on_first > JOINT:
            head = a if m.on_first > a.length - JOINT else a.split(m.on_first)[0].with_ends(end=m.point)
            return head, Path.line(m.point, b.start) if abs(m.point - b.start) > JOINT else None, b
    return a, Path.line(a.end, b.start), b


def _arms(curve: Curve, d: float, tolerance: float) -> list[list[Curve]]:
    """The curve moved to its right by d, without the stretches that would run backwards.

    Where a curve bends tighter than d, the line beside it turns back on itself in a swallow's tail.
    """
    if isinstance(curve, Line):
        return [_offset_curve(curve, d, tolerance)]

    def ahead(t: float) -> float:
        return _ahead(curve, t, d)

    steps = [k / _LOOKS for k in range(_LOOKS + 1)]
    signs = [ahead(t) > 0 for t in steps]
    if all(signs):
        return [_offset_curve(curve, d, tolerance)]
    turns = [_root(ahead, steps[k], steps[k + 1]) for k in range(_LOOKS) if signs[k] != signs[k + 1]]
    bounds = [*([0.0] if signs[0] else []), *turns, *([1.0] if signs[-1] else [])]
    arms = []
    for t0, t1 in zip(bounds[::2], bounds[1::2], strict=True):
        if t1 - t0 > 1e-6:
            part = curve.split(t1)[0].split(t0 / t1)[1] if t0 > 0 else curve.split(t1)[0]
            arms.append(_offset_curve(part, d, tolerance))
    return arms


def _ahead(curve: Cubic, t: float, d: float) -> float:
    """Positive where the line beside a curve runs the way of the curve."""
    v = curve.derivative(t)
    return abs(v) ** 3 + d * cross(v, curve.second(t))


_LOOKS = 40
"""Places on a curve where its bend is compared with the allowance."""


def _root(f: Callable[[float], float], low: float, high: float) -> float:
    """Where a function changes its sign, kept a hair on the side where it is positive."""
    rising = f(high) > 0
    for _ in range(40):
        middle = (low + high) / 2
        if (f(middle) > 0) == rising:
            high = middle
        else:
            low = middle
    return high if rising else low


def _crossed(arms: Sequence[Path]) -> Path:
    """Arms of one run joined where they cross; by a straight step where they do not."""
    result = arms[0]
    for arm in arms[1:]:
        hits = meetings(result, arm)
        hit = max(hits, key=lambda m: m.on_first, default=None)
        if hit and JOINT < hit.on_first < result.length - JOINT and JOINT < hit.on_second < arm.length - JOINT:
            result = Path.joined([result.split(hit.on_first)[0].with_ends(end=hit.point),
                                  arm.split(hit.on_second)[1].with_ends(start=hit.point)])
        else:
            result = Path.joined([result, Path.line(result.end, arm.start), arm])
    return result


def _offset_curve(curve: Curve, d: float, tolerance: float, depth: int = 0) -> list[Curve]:
    """One curve moved to its right by d, halved until each part is within tolerance."""
    if isinstance(curve, Line):
        shift = -1j * unit(curve.end - curve.start) * d
        return [Line(curve.start + shift, curve.end + shift)]
    t0, t1 = unit(curve.derivative(0.0)), unit(curve.derivative(1.0))
    start, end = curve.start - 1j * t0 * d, curve.end - 1j * t1 * d
    guess = _fit_offset(curve, start, end, t0, t1, d)
    if depth >= 10 or _is_true_offset(curve, guess, d, tolerance):
        return [guess]
    first, second = curve.split(0.5)
    left = _offset_curve(first, d, tolerance, depth + 1)
    right = _offset_curve(second, d, tolerance, depth + 1)
    return left + right


def _fit_offset(curve: Cubic, start: Point, end: Point, t0: Point, t1: Point, d: float) -> Curve:
    """The cubic with the right ends and tangents that passes the true offset of the middle."""
    mid = curve.point(0.5) - 1j * unit(curve.derivative(0.5)) * d
    want = (mid - (start + end) / 2) * (8 / 3)
    det = cross(t0, -t1)
    chord = abs(curve.end - curve.start) or 1.0
    ratio = abs(end - start) / chord
    alpha, beta = abs(curve.c1 - curve.start) * ratio, abs(curve.end - curve.c2) * ratio
    if abs(det) > 0.05:
        first, last = cross(want, -t1) / det, cross(t0, want) / det
        if first > 0.0 and last > 0.0:  # a handle that points back would be a hook at the end of the line
            alpha, beta = first, last
    return Cubic(start, start + t0 * alpha, end - t1 * beta, end)


def _is_true_offset(curve: Cubic, guess: Curve, d: float, tolerance: float) -> bool:
    for t in (0.2, 0.4, 0.6, 0.8):
        p, x = guess.point(t), t
        for _ in range(4):
            b, v = curve.point(x) - p, curve.derivative(x)
            slope = dot(v, v) + dot(b, curve.second(x))
            if slope <= 0:
                return False
            x = min(max(x - dot(b, v) / slope, 0.0), 1.0)
        if abs(abs(curve.point(x) - p) - abs(d)) > tolerance or abs(x - t) > 0.2:
            return False
    return True
