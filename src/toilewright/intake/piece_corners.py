"""The corners of a printed outline: where one edge of the piece ends and the next begins."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from itertools import pairwise

from toilewright.geometry.meeting import line_meetings, ray_meeting
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, turn, unit
from toilewright.intake.corners import corner_nodes, turns
from toilewright.intake.raw import RawDart, RawPiece
from toilewright.tolerance import CORNER, JOINT

SOFT = 0.07
"""radians (4 degrees); a gentler turn than this is the noise of a drawn curve, not even a soft corner."""

BEVEL = 22.0
"""mm; the longest line that a sharp corner of the cutting line is cut off with."""

MOST = 40
"""Corners of one outline that are looked at, the sharpest ones; a scalloped or zigzag edge may have thousands."""

BESIDE_MOUTH = 4.0
"""mm; corners this near to a dart's foot belong to its mouth."""


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner: arc length on its ring (mm), the point, and how far the ring turns there (radians, left positive)."""

    s: float
    at: Point
    turn: float


@dataclass(frozen=True)
class Ring:
    """The closed line of one piece in one size, with its corners in order.

    Attributes:
        path: closed, counter-clockwise, mm.
        corners: where its edges meet; the first edge starts at the first of them.
        soft: gentler corners, which count as such only where another size or her labels ask for one.
        mouths: for each dart the arc lengths of its feet on the ring; the second exceeds the ring's length when
            the mouth runs over its joint.
        drawn_seam: the ring is a seam line drawn on the sheet, not the printed outline.
    """

    path: Path
    corners: tuple[Corner, ...]
    soft: tuple[Corner, ...] = ()
    mouths: tuple[tuple[float, float], ...] = ()
    drawn_seam: bool = False

    @cached_property
    def edges(self) -> tuple[Path, ...]:
        """The stretches from corner to corner, end to end."""
        return stretches(self.path, tuple(c.s for c in self.corners))

    @cached_property
    def middle(self) -> Point:
        """Centre of its box."""
        x0, y0, x1, y1 = self.path.bounds
        return complex(x0 + x1, y0 + y1) / 2

    @cached_property
    def span(self) -> float:
        """Diagonal of its box (mm)."""
        x0, y0, x1, y1 = self.path.bounds
        return abs(complex(x1 - x0, y1 - y0))

    def with_corners(self, corners: tuple[Corner, ...]) -> Ring:
        """The same ring with other corners."""
        return replace(self, corners=corners)


@lru_cache(maxsize=1024)
def ring_of(raw: RawPiece) -> Ring:
    """Find the corners of one piece in one size; on the seam line where the sheet draws one.

    The stretch between a dart's feet is the dart's mouth: corners there are none of the piece's.
    """
    path = _without_bevels(raw.seam_drawn or raw.outline)
    mouths = tuple(_mouth(path, d) for d in raw.darts)
    angles, hard = turns(path), set(corner_nodes(path))
    nodes = [i for i in range(len(path.handles)) if i in hard or abs(angles[i]) > SOFT]
    found = [(i in hard, Corner(path.lengths[i], path.nodes[i], float(angles[i]))) for i in nodes]
    free = [(h, c) for h, c in found if not any(_within(c.s, m, path.length) for m in mouths)]
    return Ring(path, _sharpest([c for h, c in free if h]), _sharpest([c for h, c in free if not h]), mouths,
                raw.seam_drawn is not None)


def _sharpest(corners: list[Corner]) -> tuple[Corner, ...]:
    kept = set(sorted(corners, key=lambda c: -abs(c.turn))[:MOST])
    return tuple(c for c in corners if c in kept)


def leg_foot(path: Path, apex: Point, drawn: Point) -> float:
    """Arc length on a path where a dart's leg, run on as far as it needs, meets it (mm)."""
    if abs(drawn - apex) < JOINT:
        return path.nearest(drawn)[0]
    along = unit(drawn - apex)
    hits = line_meetings(path, apex + along * 0.3 * abs(drawn - apex), drawn + along * 60.0)
    if not hits:
        return path.nearest(drawn)[0]
    best = min(hits, key=lambda m: abs(m.point - drawn))
    # The foot of a shaped mouth is a corner of the line: taken exactly where it is that near.
    node = min(range(len(path.nodes)), key=lambda i: abs(path.nodes[i] - best.point))
    return path.lengths[node] if abs(path.nodes[node] - best.point) < 0.2 else best.on_first


def stretches(ring: Path, places: tuple[float, ...]) -> tuple[Path, ...]:
    """A closed path cut at arc lengths; the first part starts at the first of them.

    No place at all gives the whole ring as one part.
    """
    if not places:
        return (_sealed(ring),)
    first = places[0]
    path = rolled(ring, first)
    return path.cut_at((s - first) % ring.length for s in places[1:])


def rolled(ring: Path, s: float) -> Path:
    """The same closed path, starting at arc length s."""
    ring = _sealed(ring)
    if not JOINT < s < ring.length - JOINT:
        return ring
    head, tail = ring.split(s)
    return _sealed(Path.joined([tail, head]))


def _sealed(ring: Path) -> Path:
    return ring if ring.nodes[0] == ring.nodes[-1] else ring.with_ends(end=ring.start)


def _mouth(path: Path, dart: RawDart) -> tuple[float, float]:
    a, b = leg_foot(path, dart.apex, dart.first), leg_foot(path, dart.apex, dart.second)
    low, high = min(a, b), max(a, b)
    return (low, high) if high - low <= path.length / 2 else (high, low + path.length)


def _within(s: float, mouth: tuple[float, float], length: float) -> bool:
    return any(mouth[0] - BESIDE_MOUTH < x < mouth[1] + BESIDE_MOUTH for x in (s, s + length, s - length))


def _without_bevels(ring: Path) -> Path:
    """Sharp corners that are cut off square, made whole again."""
    ring = _straightened(_sealed(ring))
    angles = turns(ring)
    n = len(ring.handles)
    tips: dict[int, Point] = {}
    for i, (a, b) in enumerate(pairwise(ring.nodes)):
        j = (i + 1) % n
        if ring.handles[i] is not None or abs(b - a) > BEVEL or min(angles[i], angles[j]) < CORNER:
            continue
        if angles[i] + angles[j] < 1.75:
            continue
        out, into = ring.curves[i - 1].derivative(1.0), ring.curves[j].derivative(0.0)
        tip = ray_meeting(a, out, b, into)
        if tip is not None and dot(tip - a, out) > 0 and dot(b - tip, into) > 0 and abs(tip - a) < 10 * BEVEL:
            tips[i] = tip
    if not tips:
        return ring
    nodes, handles = [], []
    for i in range(n):
        nodes.append(ring.nodes[i])
        handles.append(ring.handles[i])
        if i in tips:
            nodes.append(tips[i])
            handles.append(None)
    return _straightened(Path((*nodes, nodes[0]), tuple(handles)))


def _straightened(ring: Path) -> Path:
    """Straight lines that run on straight, made one."""
    n = len(ring.handles)
    keep = [i for i in range(n) if ring.handles[i - 1] is not None or ring.handles[i] is not None
            or abs(turn(ring.curves[i - 1].derivative(1.0), ring.curves[i].derivative(0.0))) > 1e-6]
    if len(keep) == n or len(keep) < 2:
        return ring
    nodes = [ring.nodes[i] for i in keep]
    return Path((*nodes, nodes[0]), tuple(ring.handles[i] for i in keep))
