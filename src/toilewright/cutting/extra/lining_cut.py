"""One piece of lining from one piece of the garment: facing off, hem shorter, a pleat at the centre back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from toilewright.cutting.extra.beside import Strip, closed, opened, stretches, without_stubs
from toilewright.cutting.extra.places import unsewn
from toilewright.cutting.extra.upright import grain_within
from toilewright.errors import GeometryError
from toilewright.geometry.affine import Affine
from toilewright.geometry.meeting import meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import unit
from toilewright.pattern.garment import EdgeRef
from toilewright.pattern.parts import Cut, Dart, Edge, EdgeKind, InnerLine, Notch
from toilewright.pattern.piece import Piece
from toilewright.pattern.truing import lean_end

HEM = 20.0
"""mm of the lining's own hem, turned twice (common practice, no published source)."""

ALLOWANCE = 10.0
"""mm where it is sewn to a facing (common practice, no published source)."""

SAME = 1.0
"""mm; so far a facing's edge may lie from its piece's and still be a copy of it."""

NEAR = 6.0
"""mm; so far the ends of its outer edge may lie from the piece's edges: their angles differ once darts are closed."""

PLEAT = "centre back pleat"
MARK = "lining mark"


@dataclass(frozen=True, slots=True)
class Lined:
    """A piece of lining, and how its edges lie on those of the piece it was cut from.

    Attributes:
        shell: the garment's piece.
        kept: by edge, from where to where of the garment's edge it has (arc lengths there, mm).
        added: by edge, what was added at its start and its end for the pleat (mm).
        cut: by edge that a strip was cut off at, how much of the strip's inner line is missing at its start and its
            end, where the next edge was cut off too (mm).
        gone: edges that it has not: of several that were faced in one, all but the first.
    """

    shell: Piece
    piece: Piece
    kept: dict[str, tuple[float, float]]
    added: dict[str, tuple[float, float]]
    cut: dict[str, tuple[float, float]]
    gone: tuple[str, ...]

    def ref(self, ref: EdgeRef) -> EdgeRef:
        """The lining's edge in the place of the garment's, its pleat left out."""
        first, last = self.added.get(ref.edge, (0.0, 0.0))
        length = self.piece.edge(ref.edge).path.length
        part = (first, length - last) if first or last else None
        return replace(ref, piece=self.piece.name, part=part)

    def under(self, edge: str) -> EdgeRef:
        """The stretch of the garment's edge that the lining's lies on."""
        start, end = self.kept[edge]
        whole = start < 1e-6 and end > self.shell.edge(edge).path.length - 1e-6
        return EdgeRef(self.shell.name, edge, part=None if whole else (start, end))


def lined(shell: Piece, name: str, cloth: str, hems: Sequence[Strip], faced: Sequence[Strip], pleat: float) -> Lined:
    """The lining of a piece.

    Args:
        hems: strips beside hems, by which it is shorter.
        faced: strips that its facings cover.
        pleat: how far its centre back lies beyond that of the piece (mm); 0 for none.
    """
    kept = {e.name: (0.0, e.path.length) for e in shell.edges}
    fresh: dict[str, Path] = {}
    gone: list[str] = []
    shortened: list[Dart] = []
    for strip in (*hems, *faced):
        first, *others = (e.name for e in strip.lines)
        fresh[first], left_over = opened(strip) or (strip.inner, ())
        shortened += left_over
        gone += others
        before, after = strip.before.name, strip.after.name
        kept[before] = (kept[before][0], strip.before.path.length - strip.from_before)
        kept[after] = (strip.to_after, kept[after][1])
    left = [e for e in shell.edges if e.name not in gone]
    fresh, cut = _crossed([e.name for e in left], fresh)
    edges = [_finished(replace(e, path=without_stubs(fresh.get(e.name) or e.path.sub(*kept[e.name]))), hems, faced)
             for e in left]
    edges = [replace(e, path=e.path.with_ends(end=edges[(i + 1) % len(edges)].path.start)) for i, e in enumerate(edges)]
    edges, added, lines, marks = _with_pleat(edges, pleat)
    moved = {n: added.get(n, (0.0, 0.0))[0] - kept[n][0] for n in kept}
    here = {e.name: e.path.length for e in edges if e.name not in fresh}
    moved |= {n: added.get(n, (0.0, 0.0))[0] - cut[n][0] for n in fresh}
    darts = tuple(replace(d, start=d.start + moved[d.edge], end=d.end + moved[d.edge])
                  for d in (*(d for d in shell.darts if d.edge in here), *shortened))
    notches = tuple(replace(n, at=n.at + moved[n.edge]) for n in shell.notches
                    if n.edge in here and 1.0 < n.at + moved[n.edge] < here[n.edge] - 1.0)
    changed = set(fresh) | ({"centre back"} if added else set())
    corners = tuple(c for c in shell.corners if not {c.before, c.after} & (changed | set(gone)))
    grain = shell.grain and grain_within(shell.grain, [p for e in edges for p in e.path.flatten(0.5)[:-1]])
    piece = Piece(name, tuple(edges), darts, (*notches, *marks), grain, lines=lines, corners=corners,
                  cut=Cut(shell.cut.count, shell.cut.mirrored, cloth))
    piece = replace(piece, notches=(*piece.notches, *(_middle(piece, s, moved) for s in faced)))
    return Lined(shell, piece, kept, added, cut, tuple(gone))


def _middle(piece: Piece, strip: Strip, moved: dict[str, float]) -> Notch:
    """The mark that meets that in the middle of the facing's outer edge."""
    edge = strip.lines[0].name
    return Notch(MARK, edge, unsewn(piece, edge, strip.inner.length / 2 + moved[edge]))


def _crossed(ring: Sequence[str], fresh: dict[str, Path]) -> tuple[dict[str, Path], dict[str, tuple[float, float]]]:
    """Where two edges that follow on each other were both cut off, their new lines ended where they cross.

    Raises:
        GeometryError: they do not cross.
    """
    made = dict(fresh)
    cut = {name: [0.0, 0.0] for name in fresh}
    for one, other in zip(ring, (*ring[1:], ring[0]), strict=True):
        if one not in fresh or other not in fresh or one == other:
            continue
        met = meetings(made[one], made[other])
        if not met:
            raise GeometryError(f'The new lines at "{one}" and "{other}" do not cross.')
        last = max(met, key=lambda m: m.on_first)
        cut[one][1], cut[other][0] = made[one].length - last.on_first, last.on_second
        made[one] = made[one].sub(0.0, last.on_first).with_ends(end=last.point)
        made[other] = made[other].sub(last.on_second, made[other].length).with_ends(start=last.point)
    return made, {name: (first, last) for name, (first, last) in cut.items()}


def _finished(edge: Edge, hems: Sequence[Strip], faced: Sequence[Strip]) -> Edge:
    if edge.kind is EdgeKind.HEM:
        return replace(edge, allowance=HEM)
    if any(line.name == edge.name for s in faced for line in s.lines):
        return replace(edge, kind=EdgeKind.SEAM, allowance=ALLOWANCE)
    return edge


def _with_pleat(edges: list[Edge], pleat: float) -> tuple[list[Edge], dict[str, tuple[float, float]],
                                                          tuple[InnerLine, ...], tuple[Notch, ...]]:
    """The centre back moved out, the edges beside it run on straight to it, the old line as that of the pleat."""
    i = next((k for k, e in enumerate(edges) if e.name == "centre back"), None)
    if i is None or pleat <= 0.0:
        return edges, {}, (), ()
    before, after = edges[i - 1], edges[(i + 1) % len(edges)]
    line = edges[i].path
    out = -1j * unit(line.end - line.start) * pleat
    centre = line.moved(out)
    made = list(edges)
    made[i] = replace(edges[i], path=centre)
    made[i - 1] = replace(before, path=Path.joined([before.path, Path.line(before.path.end, centre.start)]))
    made[(i + 1) % len(edges)] = replace(after, path=Path.joined([Path.line(centre.end, after.path.start), after.path]))
    marks = (Notch(PLEAT, before.name, before.path.length), Notch(PLEAT, after.name, pleat))
    return (made, {before.name: (0.0, pleat), after.name: (pleat, 0.0)}, (InnerLine(PLEAT, line),), marks)


# -- facings ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Cover:
    """What a facing covers of a piece.

    Attributes:
        facing: its name.
        outer: its outer edges, in the order of its ring.
        strip: of the piece.
        reverse: does the facing's outer line, in that order, run against the strip's inner one?
    """

    facing: str
    outer: tuple[str, ...]
    strip: Strip
    reverse: bool


def covered(shell: Piece, names: Sequence[str], facing: Piece, own: Sequence[str]) -> Cover | None:
    """The strip of a piece that a facing covers; None where that cannot be told.

    Args:
        names: edges of the piece that the facing's edges `own` are sewn to.
    """
    for turned, cloth in ((False, facing), (True, facing.mirrored(0j, 1j))):
        found = _covered(shell, names, cloth, own)
        if found is not None:
            strip, outer = found
            if opened(strip) is None:
                return None
            return Cover(facing.name, tuple(reversed(outer)) if turned else outer, strip, not turned)
    return None


def _covered(shell: Piece, names: Sequence[str], facing: Piece, own: Sequence[str]
             ) -> tuple[Strip, tuple[str, ...]] | None:
    lines, mine = stretches(shell, names), stretches(facing, own)
    if len(lines) != 1 or len(mine) != 1:
        return None
    shut = closed(shell, lines[0])
    put = _laid(Path.joined([facing.edge(n).path for n in mine[0]]), Path.joined([e.path for e in shut.lines]))
    ring = [e.name for e in facing.edges]
    k = ring.index(mine[0][-1]) + 2
    outer = tuple((ring + ring)[k:k + len(ring) - len(own) - 2])
    if put is None or not outer:
        return None
    inner = Path.joined([facing.edge(n).path for n in outer]).mapped(put).reversed()
    before, after = shut.before, shut.after
    (first, off), (last, away) = before.path.nearest(inner.start), after.path.nearest(inner.end)
    if max(off, away) > NEAR:
        return None
    outer_length = inner.length
    inner = lean_end(inner, after.path.point_at(last))
    inner = lean_end(inner.reversed(), before.path.point_at(first)).reversed()
    if abs(inner.length - outer_length) > SAME:
        return None
    shares = before.path.length - first, last
    return Strip(shell, shut.lines, before, after, inner, *shares, shut.darts, shut.maps), outer


def _laid(path: Path, on: Path) -> Affine | None:
    """The rigid move that lays one line on another; None when they are not the same."""
    if abs(path.length - on.length) > SAME or abs(path.end - path.start) < 1.0:
        return None
    way = unit((on.end - on.start) / (path.end - path.start))
    put = Affine(way, 0j, on.start - way * path.start)
    apart = max(abs(put(path.point_at(path.length * k / 8)) - on.point_at(on.length * k / 8)) for k in range(9))
    return put if apart < SAME else None
