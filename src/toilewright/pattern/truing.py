"""Truing: dart legs made equal, dart mouths that are caught in the seam; how smoothly edges run on across a seam.

How we true a dart (our own statement of what dressmakers do with paper, pencil and tracing wheel; common practice,
no published source): the apex, the width and the middle of the mouth are kept. Legs of unequal length are made equal
by turning the mouth about its middle until it lies square to the line from the apex: one foot comes in a little, the
other goes out as much, and the seam line is leaned to meet them. Then the dart is folded on paper, pressed the way
it will be sewn, and the seam is cut through the fold: what the scissors leave is the mouth.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise
from math import pi

from toilewright.errors import GeometryError, NameUnknown
from toilewright.geometry.curve import Cubic
from toilewright.geometry.meeting import line_meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, turn, unit
from toilewright.pattern.parts import Dart, Edge, Notch, Press
from toilewright.pattern.piece import Piece
from toilewright.tolerance import JOINT

LEAN_REACH = 60.0
"""mm; over this stretch the seam line leans to meet a foot that moved (about a hand's breadth of French curve)."""


# -- darts ------------------------------------------------------------------------------------------


def true_darts(piece: Piece) -> Piece:
    """The piece with every dart's legs equal and every mouth shaped to be caught in its seam.

    Darts that are true already come out the same. Apex, width and press of each dart are kept; so are the ends
    of every edge. Notches stay where they are on the seam line.

    Raises:
        GeometryError: two darts overlap, a foot lies on the end of its edge, or a dart is so wide that the folded
            mouth would not reach the seam.
    """
    for name in dict.fromkeys(d.edge for d in piece.darts):
        piece = _true_edge(piece, name)
    return piece


def dart_legs(piece: Piece, dart: Dart) -> tuple[float, float]:
    """Lengths of the first and the second leg (mm)."""
    first, second = piece.feet(dart)
    return abs(first - dart.apex), abs(second - dart.apex)


def mouth(dart: Dart, feet: tuple[Point, Point], run_on: Path, where: str = "the piece") -> Path:
    """The line from the first foot to the second that is caught in the seam once the dart is folded and pressed.

    Next to the foot it is pressed towards, the mouth is the mirror image, in that leg, of the seam line that runs on
    from that foot; it ends on the fold line. The other half is the mirror image of this half in the fold line.

    Args:
        feet: both at the same distance from the apex.
        run_on: the seam line from the foot it is pressed towards, away from the mouth (mm).

    Raises:
        GeometryError: the dart is too wide for its folded mouth to reach the seam.
    """
    first, second = feet
    to_start = dart.press is Press.TO_START
    foot, other = (first, second) if to_start else (second, first)
    middle = (first + second) / 2
    width, depth = abs(second - first), abs(middle - dart.apex)
    mirrored = run_on.mirrored(dart.apex, foot).with_ends(start=foot)
    if mirrored.length < 2 * width:  # the seam ends before the fold: it is thought to run on straight
        mirrored = Path.joined([mirrored, Path.line(mirrored.end, mirrored.end + mirrored.end_tangent * 2 * width)])
    beyond = middle + unit(middle - dart.apex) * (depth + 2 * width)
    crossings = [m.on_first for m in line_meetings(mirrored, dart.apex, beyond) if m.on_first > JOINT]
    if not crossings:
        raise GeometryError(
            f'"{dart.name}" of "{where}" is {width:.0f} mm wide at {depth:.0f} mm deep: folded, its mouth does not '
            "reach the seam; divide it into two narrower darts.")
    half = mirrored.split(min(crossings))[0]
    twin = half.mirrored(dart.apex, middle).with_ends(other, half.end)
    return Path.joined([half, twin.reversed()] if to_start else [twin, half.reversed()])


def folded_mouth(piece: Piece, dart: Dart) -> tuple[Path, Path]:
    """Both halves of a mouth as they lie on the seam once the dart is folded and pressed (mm).

    The first starts at the foot it is pressed towards, the second at the other foot brought to the same point.
    """
    path = piece.edge(dart.edge).path
    first, second = piece.feet(dart)
    line = path.sub(dart.start, dart.end)
    middle = (first + second) / 2
    fold = min(line_meetings(line, dart.apex, middle + (middle - dart.apex)),
               key=lambda m: abs(m.on_first - line.length / 2)).on_first
    a, b = line.split(fold)
    near, far = (a, b.reversed()) if dart.press is Press.TO_START else (b.reversed(), a)
    foot = near.start
    under = near.mirrored(dart.apex, foot)
    return under, far.mirrored(dart.apex, middle).mirrored(dart.apex, foot)


def _true_edge(piece: Piece, name: str) -> Piece:
    edge, darts = piece.edge(name), piece.darts_on(name)
    places = _feet_in_order(piece, edge, darts)
    runs = list(edge.path.cut_at(places))[::2]
    feet = [_squared(dart, piece.feet(dart)) for dart in darts]
    for k, (first, second) in enumerate(feet):
        runs[k] = lean_end(runs[k], first)
        runs[k + 1] = lean_end(runs[k + 1].reversed(), second).reversed()
    parts = [runs[0]]
    for dart, pair, before, after in zip(darts, feet, runs, runs[1:], strict=False):
        run_on = before.reversed() if dart.press is Press.TO_START else after
        parts += [mouth(dart, pair, run_on, piece.name), after]
    path = Path.joined(parts)
    new_places = _sums(parts)
    moved = {d.name: replace(d, start=new_places[2 * k], end=new_places[2 * k + 1]) for k, d in enumerate(darts)}
    remap = _stretched([0.0, *places, edge.path.length], [0.0, *new_places, path.length])
    return replace(
        piece,
        edges=tuple(replace(e, path=path) if e.name == name else e for e in piece.edges),
        darts=tuple(moved[d.name] if d.edge == name else d for d in piece.darts),
        notches=_notches_moved(piece, name, remap))


def _feet_in_order(piece: Piece, edge: Edge, darts: Sequence[Dart]) -> list[float]:
    places = [s for d in darts for s in (d.start, d.end)]
    bounds = [0.0, *places, edge.path.length]
    if any(b - a <= JOINT * 10 for a, b in pairwise(bounds)):
        raise GeometryError(
            f'The darts on "{edge.name}" of "{piece.name}" cannot be trued: two of them overlap, or a foot lies '
            "on the end of the edge; every foot needs a stretch of seam on its outer side.")
    return places


def _squared(dart: Dart, feet: tuple[Point, Point]) -> tuple[Point, Point]:
    """The feet turned about the middle of the mouth until both legs are equal."""
    first, second = feet
    if abs(abs(first - dart.apex) - abs(second - dart.apex)) < JOINT:
        return feet
    middle, half = (first + second) / 2, abs(second - first) / 2
    along = unit(middle - dart.apex) * 1j
    if (along * (second - first).conjugate()).real < 0:
        along = -along
    return middle - along * half, middle + along * half


def _sums(parts: Sequence[Path]) -> list[float]:
    total, run = 0.0, []
    for part in parts[:-1]:
        total += part.length
        run.append(total)
    return run


def _stretched(old: Sequence[float], new: Sequence[float]) -> Callable[[float], float]:
    """Arc lengths carried over stretch by stretch."""
    def at(s: float) -> float:
        k = next((i for i in range(1, len(old) - 1) if s < old[i]), len(old) - 1)
        share = (s - old[k - 1]) / (old[k] - old[k - 1])
        return new[k - 1] + share * (new[k] - new[k - 1])
    return at


def _notches_moved(piece: Piece, edge: str, remap: Callable[[float], float]) -> tuple[Notch, ...]:
    return tuple(replace(n, at=remap(n.at)) if n.edge == edge else n for n in piece.notches)


def lean_end(path: Path, end: Point, reach: float = LEAN_REACH) -> Path:
    """The path with its end brought to another point; the last `reach` mm lean over gradually, the rest stays.

    The shift grows with the square of the way along the stretch, so direction and place are kept where it begins.
    """
    by = end - path.end
    if abs(by) < JOINT:
        return path.with_ends(end=end)
    head, tail = path.split(path.length - reach) if path.length > reach + 1.0 else (None, path)
    u = [s / tail.length for s in tail.lengths]
    handles = []
    for curve, (u0, u1) in zip(tail.curves, pairwise(u), strict=True):
        a, d = curve.start, curve.end
        c1, c2 = (curve.c1, curve.c2) if isinstance(curve, Cubic) else (a + (d - a) / 3, d - (d - a) / 3)
        handles.append((c1 + by * (u0 * u0 + 2 * u0 * u1) / 3, c2 + by * (2 * u0 * u1 + u1 * u1) / 3))
    leaned = Path((*(p + by * t * t for p, t in zip(tail.nodes[:-1], u, strict=False)), end), tuple(handles))
    return leaned if head is None else Path.joined([head, leaned.with_ends(start=head.end)])


# -- runs across a seam -----------------------------------------------------------------------------


def corner_angle(piece: Piece, edge: str, other: str) -> float:
    """Inner angle of a piece (radians) at the corner where two of its edges meet.

    Raises:
        NameUnknown: the piece has no such edge.
        GeometryError: the two edges are not neighbours.
    """
    arriving, leaving = _neighbours(piece, edge, other)
    return pi - turn(arriving.path.end_tangent, leaving.path.start_tangent)


def run_angle(piece_a: Piece, seam_a: str, run_a: str, piece_b: Piece, seam_b: str, run_b: str) -> float:
    """Angle (radians) that two pieces make together, once sewn, at the end of their common seam; pi is a smooth run.

    Example: ``run_angle(front, "shoulder", "neck", back, "shoulder", "neck")`` looks at the neck line as it
    crosses the shoulder seam.

    Args:
        seam_a, seam_b: the edges that are sewn to each other.
        run_a, run_b: the edges next to them that should run on, one into the other, across that seam.
    """
    return corner_angle(piece_a, seam_a, run_a) + corner_angle(piece_b, seam_b, run_b)


def _neighbours(piece: Piece, edge: str, other: str) -> tuple[Edge, Edge]:
    """The two edges in ring order: (the one that arrives at their corner, the one that leaves it)."""
    ring = piece.edges
    names = [e.name for e in ring]
    for name in (edge, other):
        if name not in names:
            raise NameUnknown.among("edge", name, names, f'piece "{piece.name}"')
    i = names.index(edge)
    if names[(i + 1) % len(ring)] == other:
        return ring[i], ring[(i + 1) % len(ring)]
    if names[i - 1] == other:
        return ring[i - 1], ring[i]
    raise GeometryError(f'"{edge}" and "{other}" of "{piece.name}" do not meet in a corner; '
                        f'next to "{edge}" are "{names[i - 1]}" and "{names[(i + 1) % len(ring)]}".')
