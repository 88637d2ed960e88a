"""One pattern piece: a closed ring of named edges with its darts, notches, grain and landmarks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cached_property

from toilewright.errors import GeometryError, NameUnknown
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.pattern.parts import (
    Corner,
    Cut,
    Dart,
    Edge,
    EdgeKind,
    Grain,
    InnerLine,
    Landmark,
    Notch,
)


@dataclass(frozen=True)
class Piece:
    """A piece of a pattern in one size.

    Attributes:
        name: e.g. ``bodice front``; the same in every size.
        edges: the ring, counter-clockwise, at the seam line; every edge starts exactly where the one before
            it ends. A piece on the fold shows half of itself; its fold edge has kind ``fold``.
        corners: those whose allowance is not cut as usual (:mod:`toilewright.cutting.allowances`).

    Raises:
        GeometryError: the ring is open, or a dart or notch lies on an edge that is not there.
    """

    name: str
    edges: tuple[Edge, ...]
    darts: tuple[Dart, ...] = ()
    notches: tuple[Notch, ...] = ()
    grain: Grain | None = None
    landmarks: tuple[Landmark, ...] = ()
    lines: tuple[InnerLine, ...] = ()
    cut: Cut = field(default_factory=Cut)
    corners: tuple[Corner, ...] = ()

    def __post_init__(self) -> None:
        for i, edge in enumerate(self.edges):
            follower = self.edges[(i + 1) % len(self.edges)]
            if edge.path.end != follower.path.start:
                raise GeometryError(
                    f'Piece "{self.name}" is open between "{edge.name}" and "{follower.name}" '
                    f"({abs(edge.path.end - follower.path.start):.3f} mm).")
        names = [e.name for e in self.edges]
        if len(set(names)) != len(names):
            raise GeometryError(f'Piece "{self.name}" has two edges of one name: {", ".join(names)}.')
        for item in (*self.darts, *self.notches):
            if item.edge not in names:
                raise GeometryError(f'"{item.name}" of "{self.name}" lies on "{item.edge}", which it has not.')

    # -- looking things up --------------------------------------------------------------------

    def edge(self, name: str) -> Edge:
        """The edge of that name.

        Raises:
            NameUnknown: the piece has no such edge (the nearest name is offered).
        """
        for edge in self.edges:
            if edge.name == name:
                return edge
        raise NameUnknown.among("edge", name, [e.name for e in self.edges], f'piece "{self.name}"')

    def has_edge(self, name: str) -> bool:
        """Is there an edge of that name?"""
        return any(e.name == name for e in self.edges)

    def dart(self, name: str) -> Dart:
        """The dart of that name (NameUnknown if there is none)."""
        for dart in self.darts:
            if dart.name == name:
                return dart
        raise NameUnknown.among("dart", name, [d.name for d in self.darts], f'piece "{self.name}"')

    def landmark(self, name: str) -> Point | None:
        """Where a landmark lies, or None when the piece does not show it."""
        return next((m.at for m in self.landmarks if m.name == name), None)

    def line(self, name: str) -> Path | None:
        """An inner line by name, or None."""
        return next((m.path for m in self.lines if m.name == name), None)

    def darts_on(self, edge: str) -> tuple[Dart, ...]:
        """The darts that open on an edge, in order along it."""
        return tuple(sorted((d for d in self.darts if d.edge == edge), key=lambda d: d.start))

    def feet(self, dart: Dart) -> tuple[Point, Point]:
        """The two points where a dart's legs reach the edge."""
        path = self.edge(dart.edge).path
        return path.point_at(dart.start), path.point_at(dart.end)

    def sewn_length(self, edge: str) -> float:
        """Length of an edge once its darts are closed (mm)."""
        return self.edge(edge).path.length - sum(d.end - d.start for d in self.darts if d.edge == edge)

    def sewn_at(self, edge: str, at: float) -> float:
        """An arc length on the edge as it lies once the darts before it are closed."""
        taken = sum(min(d.end, at) - d.start for d in self.darts if d.edge == edge and d.start < at)
        return at - taken

    @property
    def on_fold(self) -> bool:
        """Is the piece half of itself, cut on a fold?"""
        return any(e.kind is EdgeKind.FOLD for e in self.edges)

    @cached_property
    def outline(self) -> Path:
        """The closed seam line."""
        return Path.joined([e.path for e in self.edges])

    @property
    def area(self) -> float:
        """Area inside the seam line (mm^2)."""
        return self.outline.area()

    # -- pieces made from it ------------------------------------------------------------------

    def mapped(self, f: Callable[[Point], Point]) -> Piece:
        """Image under a rigid, orientation-keeping map (lengths on edges stay)."""
        return replace(
            self,
            edges=tuple(replace(e, path=e.path.mapped(f)) for e in self.edges),
            darts=tuple(replace(d, apex=f(d.apex)) for d in self.darts),
            grain=self.grain and Grain(f(self.grain.start), f(self.grain.end)),
            landmarks=tuple(replace(m, at=f(m.at)) for m in self.landmarks),
            lines=tuple(replace(m, path=m.path.mapped(f)) for m in self.lines))

    def moved(self, by: Point) -> Piece:
        """Shifted by a vector (mm)."""
        return self.mapped(Affine.shift(by))

    def mirrored(self, a: Point, b: Point) -> Piece:
        """The other hand of the piece: mirrored in the line through a and b, ring still counter-clockwise."""
        f = Affine.mirror(a, b)
        lengths = {e.name: e.path.length for e in self.edges}
        return replace(
            self,
            edges=tuple(replace(e, path=e.path.mapped(f).reversed()) for e in reversed(self.edges)),
            darts=tuple(replace(d, apex=f(d.apex), start=lengths[d.edge] - d.end, end=lengths[d.edge] - d.start,
                                press=type(d.press).TO_END if d.press.value == "to start"
                                else type(d.press).TO_START) for d in self.darts),
            notches=tuple(replace(n, at=lengths[n.edge] - n.at) for n in self.notches),
            corners=tuple(replace(c, before=c.after, after=c.before) for c in self.corners),
            grain=self.grain and Grain(f(self.grain.start), f(self.grain.end)),
            landmarks=tuple(replace(m, at=f(m.at)) for m in self.landmarks),
            lines=tuple(replace(m, path=m.path.mapped(f)) for m in self.lines))
