"""Pieces stood upright, their corners by name, and where bust, waist and hip lie on them.

Nothing here depends on the hand, the place or the turn of a piece: up is told by the grain and by the names of edges.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from toilewright.fit.frame import BUST_POINT_BEYOND
from toilewright.geometry.point import Point, unit
from toilewright.known import Origin
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart
from toilewright.pattern.piece import Piece

CENTRES = ("centre front", "centre back")

_HIGH = ("shoulder", "neck", "cap", "armhole", "top")
_LOW = ("hem", "waist")


@dataclass(frozen=True, slots=True)
class Spot:
    """A point on a piece, and whether it was drawn there or estimated."""

    at: Point
    origin: Origin


def upright(piece: Piece) -> Piece:
    """The piece turned so that its grain runs up the page, head end up, and not mirrored.

    Without a grain arrow its centre line serves; without either it is left as it lies.
    """
    turn = 1j / upward(piece)
    return piece if turn == 1 else piece.mapped(lambda z: z * turn)


def upward(piece: Piece) -> Point:
    """The way towards the head on a piece as it lies (length 1), as :func:`upright` turns it."""
    axis = _axis(piece)
    if axis is None:
        return 1j
    turn = 1j / axis
    low, high = _mean(piece, _LOW), _mean(piece, _HIGH)
    if high is None and low is not None and piece.has_edge("waist") and piece.has_edge("hem"):
        high, low = _mean(piece, ("waist",)), _mean(piece, ("hem",))
    elif high is not None and low is None:
        low = sum(n for e in piece.edges for n in e.path.nodes) / sum(len(e.path.nodes) for e in piece.edges)
    if high is not None and low is not None and ((high - low) * turn).imag < 0:
        return -axis
    return axis


def _axis(piece: Piece) -> Point | None:
    if piece.grain is not None and abs(piece.grain.end - piece.grain.start) > 1e-6:
        return unit(piece.grain.end - piece.grain.start)
    for name in CENTRES:
        if piece.has_edge(name):
            path = piece.edge(name).path
            return unit(path.end - path.start)
    return None


def _mean(piece: Piece, names: Sequence[str]) -> Point | None:
    ends = [p for e in piece.edges if e.name in names for p in (e.path.start, e.path.end)]
    return sum(ends) / len(ends) if ends else None


def corner(piece: Piece, one: str, other: str) -> Point | None:
    """The point where two neighbouring edges meet, or None."""
    for edge, follower in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
        if {edge.name, follower.name} == {one, other}:
            return edge.path.end
    return None


def centre_edge(piece: Piece) -> str | None:
    """Name of the piece's centre front or centre back edge, or None."""
    return next((n for n in CENTRES if piece.has_edge(n)), None)


def place(piece: Piece, name: str) -> Point | None:
    """A landmark as drawn, or the corner that it names, or None."""
    drawn = piece.landmark(name)
    if drawn is not None:
        return drawn
    centre = centre_edge(piece) or ""
    pairs = {"neck point": ("neck", "shoulder"), "shoulder tip": ("shoulder", "armhole"),
             "underarm": ("side seam", "armhole"), "nape": (centre, "neck"), "centre waist": (centre, "waist"),
             "side waist": ("side seam", "waist")}
    return corner(piece, *pairs[name]) if name in pairs else None


def first_of(piece: Piece, *names: str) -> Point:
    """The first of these landmarks or corners that the piece shows; else the start of its first edge."""
    found = (place(piece, name) for name in names)
    return next((z for z in found if z is not None), piece.edges[0].path.start)


def bust_point(front: Piece) -> Spot | None:
    """The bust point as drawn; else 25 mm beyond the bust dart's apex, along its axis; else None."""
    drawn = next((m for m in front.landmarks if m.name == "bust point"), None)
    if drawn is not None:
        return Spot(drawn.at, drawn.origin)
    dart = next((d for d in front.darts if d.name == "bust dart"), None)
    if dart is None:
        return None
    mouth = sum(front.feet(dart)) / 2
    return Spot(dart.apex + unit(dart.apex - mouth) * BUST_POINT_BEYOND, Origin.ESTIMATED)


def bodice_pieces(garment: Garment) -> tuple[Piece, ...]:
    """Pieces that lie round the bust: they have an armhole, or a princess seam that comes from neck or shoulder."""
    return tuple(p for p in garment.pieces if p.has_edge("armhole") or (
        p.has_edge("princess seam") and (p.has_edge("shoulder") or p.has_edge("neck"))))


def skirt_pieces(garment: Garment, wrapped: bool) -> tuple[Piece, ...]:
    """Pieces that hang from the waist over the hip; of the wrap skirt or of the other one."""
    return tuple(p for p in garment.pieces
                 if p.has_edge("waist") and p.has_edge("hem") and p.has_edge("side seam") and not p.has_edge("armhole")
                 and p.name.startswith("wrap") == wrapped)


def fronts_first(pieces: Sequence[Piece]) -> list[Piece]:
    """Front pieces before the others."""
    return sorted(pieces, key=lambda p: "front" not in p.name)


def bust_levels(bodice: Sequence[Piece]) -> tuple[dict[str, float], Origin | None]:
    """Height of the bust on each bodice piece stood upright (mm, in the piece's own coordinates), by piece name.

    Front: the bust point, else its bust line. Others: their bust line, else where the front's level comes to the side
    seam they are sewn to.

    Returns:
        the heights, and how the front's is known; with no bust point at all the underarm level and None.
    """
    found: dict[str, float] = {}
    drop, origin = 0.0, None
    for piece in map(upright, fronts_first(bodice)):
        arm = place(piece, "underarm")
        line = piece.line("bust line")
        spot = bust_point(piece) if not found else None
        if spot is not None:
            found[piece.name], origin = spot.at.imag, spot.origin
        elif line is not None:
            found[piece.name], origin = (line.start.imag + line.end.imag) / 2, origin or Origin.READ
        elif arm is not None:
            found[piece.name] = _down_the_seam(piece, arm, drop)
        if arm is not None and piece.name in found and drop == 0.0:
            dart = bust_dart_at_side(piece)
            drop = arm.imag - found[piece.name] if dart is None else _to_side(piece, dart)[1]
    return found, origin


def _down_the_seam(piece: Piece, arm: Point, drop: float) -> float:
    """Height of the point so far down the side seam from the underarm."""
    if not piece.has_edge("side seam") or drop <= 0.0:
        return arm.imag - drop
    path = piece.edge("side seam").path
    at_start = abs(path.start - arm) < abs(path.end - arm)
    return path.point_at(drop if at_start else path.length - drop).imag


# -- widths ------------------------------------------------------------------------------------------


def crossings(points: Sequence[Point], y: float) -> list[float]:
    """Where the closed polygon crosses a level (mm, sorted); always an even number."""
    out = []
    for a, b in zip(points, (*points[1:], points[0]), strict=True):
        if (a.imag <= y) != (b.imag <= y):
            out.append(a.real + (b.real - a.real) * (y - a.imag) / (b.imag - a.imag))
    return sorted(out)


def width_at(piece: Piece, y: float, between: tuple[float, float] | None = None) -> float:
    """Width of an upright piece at a level, within the seam lines, as it is once its darts are sewn (mm).

    Args:
        between: only the part between these two places across (mm), to leave an overlap out.
    """
    ring = piece.outline.flatten()
    low, high = between or (float("-inf"), float("inf"))
    total = _covered(crossings(ring, y), low, high)
    for dart in piece.darts:
        first, second = piece.feet(dart)
        axis = dart.apex - (first + second) / 2
        if abs(axis.real) > abs(axis.imag):
            total -= _lost_to_sideways_dart(ring, (first, second), dart, y)
        else:
            total -= _covered(crossings((first, dart.apex, second), y), low, high)
    return total


def bust_width(front: Piece, y: float) -> float:
    """Width of an upright front over its bust point at height y, the darts sewn (mm).

    Where a bust dart comes from the side seam, the closed front is a cone whose tip is the dart's point. The tape runs
    level from the centre to that point, and from there the shortest way to the side seam. That way is the same above
    and below the dart, so nothing has to be turned, and it stays what it is when the part above the dart swings out.
    It leaves the grain by the lean of the side seam alone (5 degrees: half a mm on each half).
    """
    dart = bust_dart_at_side(front)
    if dart is None:
        return width_at(front, y)
    apex, infinite = dart.apex.real, float("inf")
    inner = (-infinite, apex) if (sum(front.feet(dart)) / 2).real > apex else (apex, infinite)
    others = replace(front, darts=tuple(d for d in front.darts if d is not dart))
    return width_at(others, y, inner) + _to_side(front, dart)[0]


def bust_dart_at_side(piece: Piece) -> Dart | None:
    """The bust dart that opens on the side seam, or None."""
    return next((d for d in piece.darts if d.name == "bust dart" and d.edge == "side seam"), None)


def _to_side(front: Piece, dart: Dart) -> tuple[float, float]:
    """Shortest way from the dart's point to the sewn side seam; and how far down that seam it comes out (mm)."""
    path = front.edge(dart.edge).path
    parts = [(path.sub(low, high), low) for low, high in ((0.0, dart.start), (dart.end, path.length)) if high - low > 1]
    found = [(*part.nearest(dart.apex), low) for part, low in parts]
    along, way, low = min(found, key=lambda f: f[1])
    at, arm = front.sewn_at(dart.edge, low + along), place(front, "underarm")
    at_start = arm is not None and abs(path.start - arm) < abs(path.end - arm)
    return way, at if at_start else front.sewn_length(dart.edge) - at


def _covered(xs: Sequence[float], low: float, high: float) -> float:
    return sum(max(0.0, min(b, high) - max(a, low)) for a, b in zip(xs[::2], xs[1::2], strict=True))


def _lost_to_sideways_dart(ring: Sequence[Point], feet: tuple[Point, Point], dart: Dart, y: float) -> float:
    """What a level loses in a dart that lies along it: from the leg it meets first, it goes on at the other leg."""
    apex = dart.apex
    out = 1.0 if ((feet[0] + feet[1]) / 2 - apex).real > 0 else -1.0
    hits = []
    for foot, other in (feet, feet[::-1]):
        if (apex.imag <= y) != (foot.imag <= y):
            share = (y - apex.imag) / (foot.imag - apex.imag)
            hits.append((out * (apex + share * (foot - apex)).real, share * abs(foot - apex), foot, other))
    if not hits:
        return 0.0
    x, reach, leg, other = min(hits, key=lambda h: h[0])
    flat = sum(max(0.0, out * b - max(out * a, x)) if out > 0 else max(0.0, -a - max(-b, x))
               for a, b in _pairs(crossings(ring, y)))
    swing = unit(other - apex) / unit(leg - apex)
    return flat - _run_out(ring, apex + unit(other - apex) * reach, out * swing)


def _pairs(xs: Sequence[float]) -> list[tuple[float, float]]:
    return list(zip(xs[::2], xs[1::2], strict=True))


def _run_out(ring: Sequence[Point], start: Point, along: Point) -> float:
    """How far one can go from a point inside until the outline (mm)."""
    turned = [(p - start) / along for p in ring]
    return min((x for x in crossings(turned, 0.0) if x > 1e-6), default=0.0)


def depth_below(piece: Piece, at: Point) -> float:
    """How far an upright piece reaches straight down from a point inside it (mm)."""
    turned = [(p - at) * 1j for p in piece.outline.flatten()]
    return min((x for x in crossings(turned, 0.0) if x > 1e-6), default=0.0)


