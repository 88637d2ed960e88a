"""The strip of a piece beside some of its edges, darts closed: what a facing is cut from."""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from dataclasses import dataclass, replace

from toilewright.errors import InputError
from toilewright.geometry.affine import Affine
from toilewright.geometry.meeting import Meeting, meetings
from toilewright.geometry.offset import offset_path
from toilewright.geometry.path import Path
from toilewright.pattern.garment import Garment, Seam
from toilewright.pattern.parts import Dart, Edge, EdgeKind
from toilewright.pattern.piece import Piece
from toilewright.pattern.truing import lean_end
from toilewright.tolerance import JOINT
from toilewright.units import show_both

STUB = 0.1
"""mm; what is shorter at the end of a line is left over from cutting it, and no part of its shape."""

CLEAR = 3.0
"""mm that a strip ends short of a dart on the edge beside it, at least."""


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip of a piece: its line, and the line beside that, between the two edges where the line ends.

    Attributes:
        piece: what it is a strip of.
        lines: the edges it lies beside, in the order of the ring, their darts closed.
        before, after: the edges that arrive at the first and leave the last of them, all of them, where they come to
            lie.
        inner: beside the lines, in their direction, from `before` to `after`.
        from_before, to_after: how much of `before` and of `after` belongs to the strip, from the corner (mm).
        darts: of the lines, in their order.
        maps: how the cloth before, between and behind the darts was turned to close them, one more than the darts.
    """

    piece: Piece
    lines: tuple[Edge, ...]
    before: Edge
    after: Edge
    inner: Path
    from_before: float
    to_after: float
    darts: tuple[Dart, ...] = ()
    maps: tuple[Affine, ...] = (Affine(),)

    def share(self, edge: str) -> float | None:
        """How much of an edge beside it belongs to it (mm); None for any other edge."""
        return {self.before.name: self.from_before, self.after.name: self.to_after}.get(edge)

    def at_end_of(self, edge: str) -> bool:
        """Is its part of an edge beside it the end of that edge, or its start?"""
        return edge == self.before.name

    def with_share(self, edge: str, share: float) -> Strip:
        """The same strip with another part of an edge beside it; its inner line leans over to meet it (mm)."""
        if edge == self.before.name:
            end = self.before.path.point_at(self.before.path.length - share)
            return replace(self, from_before=share, inner=lean_end(self.inner.reversed(), end).reversed())
        return replace(self, to_after=share, inner=lean_end(self.inner, self.after.path.point_at(share)))


def stretches(piece: Piece, names: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """Edges of a piece put into the order of its ring, those that follow on each other together.

    Raises:
        InputError: it is the whole ring.
    """
    ring = [e.name for e in piece.edges]
    if set(ring) <= set(names):
        raise InputError(f'All edges of "{piece.name}" were named; name those that are to be faced, and leave one out.')
    start = next(i for i, n in enumerate(ring) if n not in names)
    found: list[tuple[str, ...]] = []
    run: list[str] = []
    for name in (*ring[start:], *ring[:start + 1]):
        if name in names:
            run.append(name)
        elif run:
            found.append(tuple(run))
            run = []
    return tuple(found)


def strip_beside(piece: Piece, names: Sequence[str], width: float) -> Strip:
    """The strip of a piece beside some edges that follow on each other.

    Args:
        width: mm.

    Raises:
        InputError: the piece is too narrow for it, or a dart is in its way.
    """
    shut = closed(piece, names)
    before, after = shut.before, shut.after
    line = Path.joined([e.path for e in shut.lines])
    beside = offset_path(line, -width)
    reach = 2 * width + 60.0
    long = Path.joined([Path.line(beside.start - beside.start_tangent * reach, beside.start), beside,
                        Path.line(beside.end, beside.end + beside.end_tangent * reach)])
    first = _last([m for m in meetings(long, before.path) if m.on_second < before.path.length - 0.2 * width])
    last = _first([m for m in meetings(long, after.path) if m.on_second > 0.2 * width])
    if first is None or last is None or last.on_first - first.on_first < width / 4:
        raise InputError(f'"{piece.name}" is too narrow beside "{names[0]}" for a strip of {show_both(width)}; make it '
                         "narrower.")
    shares = before.path.length - first.on_second, last.on_second
    _free_of_darts(piece, before.name, shares[0], True)
    _free_of_darts(piece, after.name, shares[1], False)
    inner = without_stubs(long.sub(first.on_first, last.on_first).with_ends(first.point, last.point))
    return Strip(piece, shut.lines, before, after, inner, *shares, shut.darts, shut.maps)


def without_stubs(path: Path) -> Path:
    """A line without stubs of less than :data:`STUB` at its ends, which point anywhere; its ends are kept."""
    nodes, handles = path.nodes, path.handles
    while len(handles) > 1 and path.lengths[1] < STUB:
        path = Path(nodes[1:], handles[1:]).with_ends(start=path.start)
        nodes, handles = path.nodes, path.handles
    while len(handles) > 1 and path.length - path.lengths[-2] < STUB:
        path = Path(nodes[:-1], handles[:-1]).with_ends(end=path.end)
        nodes, handles = path.nodes, path.handles
    return path


def _first(found: Sequence[Meeting]) -> Meeting | None:
    return min(found, key=lambda m: m.on_second, default=None)


def _last(found: Sequence[Meeting]) -> Meeting | None:
    return max(found, key=lambda m: m.on_second, default=None)


def _free_of_darts(piece: Piece, edge: str, share: float, at_end: bool) -> None:
    length = piece.edge(edge).path.length
    for dart in piece.darts_on(edge):
        nearest = length - dart.end if at_end else dart.start
        if nearest < share + CLEAR:
            raise InputError(f'A strip along "{piece.name}" would run over its {dart.name}; make it narrower, at most '
                             f"{show_both(max(nearest - CLEAR - 5.0, 5.0))}.")


@dataclass(frozen=True, slots=True)
class Shut:
    """Edges with their darts closed, and those beside them; the rest as in :class:`Strip`."""

    lines: tuple[Edge, ...]
    before: Edge
    after: Edge
    darts: tuple[Dart, ...]
    maps: tuple[Affine, ...]


def closed(piece: Piece, names: Sequence[str]) -> Shut:
    """Edges that follow on each other with their darts closed, and those beside them.

    A fold stays where it is, or else the edge that arrives, so that the grain is still the piece's; all else turns.
    """
    ring = [e.name for e in piece.edges]
    before, after = piece.edges[ring.index(names[0]) - 1], piece.edges[(ring.index(names[-1]) + 1) % len(ring)]
    maps = [Affine()]
    lines = []
    for name in names:
        path, turned = _without_mouths(piece, name, maps[-1])
        lines.append(replace(piece.edge(name), path=path))
        maps += turned
    back = maps[-1].inverse() if after.kind is EdgeKind.FOLD else Affine()
    maps = [m.then(back) for m in maps]
    darts = tuple(d for name in names for d in piece.darts_on(name))
    return Shut(tuple(replace(e, path=e.path.mapped(back)) for e in lines),
                replace(before, path=before.path.mapped(maps[0])), replace(after, path=after.path.mapped(maps[-1])),
                darts, tuple(maps))


def _without_mouths(piece: Piece, name: str, moved: Affine) -> tuple[Path, list[Affine]]:
    """The edge with its darts closed, and how the cloth behind each of them was turned."""
    path, darts = piece.edge(name).path, piece.darts_on(name)
    places = [0.0, *(s for d in darts for s in (d.start, d.end)), path.length]
    runs: list[Path] = []
    maps = []
    for k in range(0, len(places), 2):
        if k:
            dart = darts[k // 2 - 1]
            first, second = piece.feet(dart)
            angle = cmath.phase((first - dart.apex) / (second - dart.apex))
            moved = Affine.turn(angle, dart.apex).then(moved)
            maps.append(moved)
        if places[k + 1] - places[k] > JOINT:
            run = path.sub(places[k], places[k + 1]).mapped(moved)
            runs.append(run.with_ends(start=runs[-1].end) if runs else run)
    return Path.joined(runs), maps


def opened(strip: Strip) -> tuple[Path, tuple[Dart, ...]] | None:
    """The inner line of a strip as it lies on the piece, the darts that it crosses open; None where one ends before it.

    Returns:
        The line, and what is left of the darts beyond it, on an edge of the first line's name.
    """
    places, found = [0.0], []
    for dart, moved in zip(strip.darts, strip.maps, strict=False):
        foot, _ = strip.piece.feet(dart)
        met = meetings(strip.inner, Path.line(moved(foot), moved(dart.apex)))
        if not met:
            return None
        places.append(met[0].on_first)
    places.append(strip.inner.length)
    parts: list[Path] = []
    for k, moved in enumerate(strip.maps):
        part = strip.inner.sub(places[k], places[k + 1]).mapped(moved.inverse())
        if parts:
            start = sum(p.length for p in parts)
            parts.append(Path.line(parts[-1].end, part.start))
            dart = strip.darts[k - 1]
            found.append(replace(dart, edge=strip.lines[0].name, start=start, end=start + parts[-1].length))
        parts.append(part)
    return Path.joined(parts), tuple(found)


# -- where two strips meet --------------------------------------------------------------------------


def joints(garment: Garment, strips: Sequence[Strip]) -> list[tuple[Seam, int, int]]:
    """Seams of the garment by which two strips, or both ends of one, are sewn to each other: (seam, number, number)."""
    found = []
    for seam in garment.seams:
        if len(seam.a) != 1 or len(seam.b) != 1 or seam.ratio is not None or seam.a[0].part or seam.b[0].part:
            continue
        sides = [[i for i, s in enumerate(strips) if s.piece.name == ref.piece and s.share(ref.edge) is not None]
                 for ref in (seam.a[0], seam.b[0])]
        for i in sides[0]:
            for k in sides[1]:
                one, other = (strips[n].at_end_of(r.edge) != r.reverse for n, r in ((i, seam.a[0]), (k, seam.b[0])))
                if one == other:
                    found.append((seam, i, k))
    return found


def equal(garment: Garment, strips: Sequence[Strip]) -> list[Strip]:
    """The strips with those stretches equally long by which two of them are sewn to each other."""
    made = list(strips)
    for seam, i, k in joints(garment, strips):
        edges = seam.a[0].edge, seam.b[0].edge
        shares = made[i].share(edges[0]), made[k].share(edges[1])
        length = min(shares)
        for n, edge, share in ((i, edges[0], shares[0]), (k, edges[1], shares[1])):
            if share - length > 1e-6:
                made[n] = made[n].with_share(edge, length)
    return made
