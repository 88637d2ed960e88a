"""Lines that cross themselves, made simple: loops taken out, and stretches that come too near what they run beside."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from itertools import pairwise

from toilewright.errors import GeometryError
from toilewright.geometry.meeting import meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, unit
from toilewright.tolerance import JOINT, OFFSET

_SPECK = 0.2
"""mm; a loop shorter than this along itself is no wider than a pen line."""

_STUB = 0.01
"""mm; long enough to have a direction."""


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
