"""Lines that cross themselves, made simple: loops taken out, and stretches that come too near what they run beside."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from itertools import pairwise

from toilewright.errors import GeometryError
from toilewright.geometry.curve import Cubic, Curve
from toilewright.geometry.meeting import meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, unit
from toilewright.tolerance import JOINT, OFFSET

_SPECK = 0.2
"""mm; a loop shorter than this along itself is no wider than a pen line."""

_STUB = 0.01
"""mm; long enough to have a direction."""

_BACK = 5.0
"""mm; a line that turns round and runs on again within this, no farther from itself than _BESIDE, was to run on."""

_BESIDE = 0.5
"""mm; as above."""

_ROUND = 0.5
"""Two directions turn round where their scalar product is below minus this, and run on where it is above this."""

_BRIDGE = 0.25
"""mm; how far from such a place, before and behind, the line is taken up again: a pen line is 0.3."""


def unlooped(path: Path, most: float) -> Path:
    """The path without loops shorter than `most` mm: what is left beside kinks smaller than the distance."""
    while (loop := _loop(path, most)) is not None:
        first, last, point = loop
        path = Path.joined([path.split(first)[0].with_ends(end=point), path.split(last)[1].with_ends(start=point)])
    return path


def _loop(path: Path, most: float) -> tuple[float, float, Point] | None:
    """Where a path first crosses itself within `most` mm of its own length: both arc lengths and the place, or None."""
    return next(((first, last, point) for first, last, point in _met(path, most)
                 if first > JOINT and last < path.length - JOINT and 10 * JOINT < last - first <= most), None)


def combed(path: Path) -> Path:
    """The path without the short stretches on which it runs back.

    Beside a kink of less than a degree the line turns back by some hundredths of a mm. The three stretches lie so
    near each other that no crossing is found between them and that each of them keeps its distance.
    """
    for _ in path.handles:  # at most once for every joint
        if (found := _turned_back(path)) is None:
            break
        path = _bridged(path, *found)
    return path


def _bridged(path: Path, passed: float, on: float) -> Path:
    """The path with a straight line from just before one place on it to just behind another."""
    first, last = max(passed - _BRIDGE, 0.0), min(on + _BRIDGE, path.length)
    parts = [path.split(first)[0]] if first > JOINT else []
    parts.append(Path.line(path.point_at(first), path.point_at(last)))
    if last < path.length - JOINT:
        parts.append(path.split(last)[1])
    return Path.joined(parts)


def _turned_back(path: Path) -> tuple[float, float] | None:
    """Where a path turns back within a short stretch: the arc length at which it runs on again, and that at which it
    passed there before, which comes first; or None."""
    ways = _ways(path)
    for j in range(1, len(ways)):
        here, way = ways[j]
        i = j - 1
        while i >= 0 and here - ways[i][0] <= _BACK and dot(way, ways[i][1]) > -_ROUND:
            i -= 1
        if i < 0 or here - ways[i][0] > _BACK:
            continue
        for s, on in ways[j + 1:]:
            if s - here > _BACK:
                break
            if dot(on, ways[i][1]) > _ROUND and (passed := _passed(path, ways[i][0], s)) is not None:
                return passed, s
    return None


def _passed(path: Path, turned: float, on: float) -> float | None:
    """The arc length before `turned` at which a path came past the place where it runs on again; None if nowhere."""
    if turned <= JOINT:
        return 0.0
    behind = path.sub(max(turned - _BACK, 0.0), turned)
    s, off = behind.nearest(path.point_at(on))
    return turned - behind.length + s if off < _BESIDE else None


def _ways(path: Path) -> list[tuple[float, Point]]:
    """Arc lengths in order, each with the direction there: both ends of every curve, and more where one turns round."""
    found = []
    for curve, (a, b) in zip(path.curves, pairwise(path.lengths), strict=True):
        if b - a < JOINT:
            continue
        found.append((a, unit(curve.derivative(0.0))))
        if _turns_round(curve):
            found += [(s, path.tangent_at(s)) for s in (a + (b - a) * k / 16 for k in range(1, 16))]
        found.append((b, unit(curve.derivative(1.0))))
    return found


def _turns_round(curve: Curve) -> bool:
    if not isinstance(curve, Cubic):
        return False
    one, two, three = curve.c1 - curve.start, curve.c2 - curve.c1, curve.end - curve.c2
    return dot(one, two) < 0.0 or dot(two, three) < 0.0 or dot(one, three) < 0.0


def _met(line: Path, most: float) -> Iterator[tuple[float, float, Point]]:
    """Where two curves of a line, at most about `most` mm apart along it, meet: both arc lengths and the place."""
    boxes, lengths, curves, n = line.hulls, line.lengths, line.curves, len(line.curves)
    for i in range(n - 1):
        a, within = boxes[i], bisect_right(lengths, lengths[i + 1] + most, 0, n)
        for j in range(within - 1, i, -1):
            b = boxes[j]
            if a[0] > b[2] or b[0] > a[2] or a[1] > b[3] or b[1] > a[3]:
                continue
            for met in meetings(Path.of([curves[i]]), Path.of([curves[j]])):
                yield lengths[i] + met.on_first, lengths[j] + met.on_second, met.point


def untangled(line: Path, beside: Path, distance: float) -> Path:
    """What of a line keeps its distance from the path that it runs beside, without its crossings.

    Args:
        line: end to end, with all its loops.
        distance: mm.

    Raises:
        GeometryError: nothing keeps it.
    """
    crossings = _crossings(line)
    specks = [pair for pair in crossings if pair[1] - pair[0] < _SPECK]
    places = sorted({0.0, line.length, *(s for pair in crossings for s in pair)})
    kept: list[Path] = []
    for s0, s1 in pairwise(places):
        if s1 - s0 < OFFSET / 2 or any(a <= (s0 + s1) / 2 <= b for a, b in specks):
            continue
        piece = line.sub(s0, s1)
        near = min(beside.nearest(piece.point_at(part * piece.length))[1] for part in (0.1, 0.5, 0.9))
        if near < distance - 2 * OFFSET:
            continue
        if kept and abs(piece.start - kept[-1].end) > _SPECK:
            kept.append(Path.line(kept[-1].end, piece.start))
        elif kept:
            piece = piece.with_ends(start=kept[-1].end)
        kept.append(piece)
    if not kept:
        raise GeometryError("A line bent tighter than the allowance all along has no line beside it.")
    return _tidy(unlooped(Path.joined(kept), 4 * distance))


def _tidy(line: Path) -> Path:
    """The same line without curves that are shorter than float noise."""
    parts = [c for c in line.curves if c.length > 0.1 * JOINT]
    return Path.joined([Path.of([c]) for c in parts]).with_ends(start=line.start, end=line.end) if parts else line


def keeps(line: Path, beside: Path, distance: float) -> bool:
    """Does a line keep its distance from the path that it runs beside, and nowhere cross itself?"""
    spots = [(a + part * (b - a)) for a, b in pairwise(line.lengths) for part in (0.0, 0.5)]
    if min(beside.nearest(line.point_at(s))[1] for s in spots) < distance - 10 * OFFSET:
        return False
    return _loop(line, line.length) is None


def _crossings(line: Path) -> list[tuple[float, float]]:
    """The arc lengths of every place where a line crosses itself, in pairs."""
    return [(first, last) for first, last, _ in _met(line, line.length) if last - first > 1e-4]


def ended(line: Path, at: Point) -> Path:
    """A line that runs on straight at its end, cut off where it should end; of the run a stub is left at least."""
    s, off = line.nearest(at)
    if off < 10 * JOINT and 10 * JOINT < s < line.length - 10 * JOINT:
        return line.split(s)[0].with_ends(end=at)
    if line.handles[-1] is not None:
        return line
    last, before = line.nodes[-1], line.nodes[-2]
    return line.with_ends(end=before + unit(last - before) * min(_STUB, abs(last - before)))
