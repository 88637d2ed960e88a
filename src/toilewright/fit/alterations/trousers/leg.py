"""What the alterations of trousers share: levels of the leg, edges swelled smoothly, a crotch point that moves."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Need, Options, too_much
from toilewright.fit.frame import down, outward
from toilewright.fit.moves.edges import Redrawn, corner, ends_at, redraw_edge, reline, sums, towards
from toilewright.fit.moves.ring import crossing
from toilewright.geometry.curve import Cubic
from toilewright.geometry.path import Handles, Path
from toilewright.geometry.point import Point, cross, dot
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Edge
from toilewright.pattern.piece import Piece

CROTCH, INSEAM, SIDE, HEM = "crotch seam", "inseam", "side seam", "hem"

PANEL = Need("", (CROTCH, INSEAM, SIDE, HEM))
"""What makes a piece a half of a trouser leg."""

SOURCE = ("USDA Home Economics Research Report 32 (1966); Liechty, Pottberg-Steineckert and Rasband (1992), from "
          "memory; how much on which edge: common practice")

THIGH_BELOW = 40.0
"""mm below the crotch point where no thigh line is drawn (common practice, no published source)."""

NEAR = 25.0
"""mm; a joint of the crotch seam so near the hip line is where its straight part ends."""

Knots = Sequence[tuple[float, Point]]
"""Arc lengths on an edge, and by how much it moves there (mm)."""


def panels(garment: Garment, name: str, options: Options) -> list[Piece]:
    """The front and the back of a leg; with ``piece``, that one only.

    Raises:
        AlterationError: there are none.
    """
    found = [p for p in garment.pieces if PANEL.met_by(p) and options.get("piece", p.name) == p.name]
    if not found:
        raise AlterationError(f'"{name}" needs {PANEL}; correct the names of the edges in the labels file.')
    return found


# -- levels -----------------------------------------------------------------------------------------


def level_at(piece: Piece, line: str, otherwise: Point) -> Point:
    """A point at the level of a line, where it is drawn."""
    drawn = piece.line(line)
    return otherwise if drawn is None else drawn.start


def crotch_point(piece: Piece) -> Point:
    """Where crotch seam and inseam meet."""
    return corner(piece, CROTCH, INSEAM)


def hip_level(piece: Piece) -> Point:
    """A point at the hip line; where none is drawn, at 0.7 of the way from the waist down to the crotch point."""
    top = corner(piece, SIDE, "waist") if piece.has_edge("waist") else piece.edge(CROTCH).path.start
    way = down(piece)
    return level_at(piece, "hip line", top + way * 0.7 * dot(crotch_point(piece) - top, way))


def thigh_level(piece: Piece) -> Point:
    """A point at the fullest part of the thigh."""
    return level_at(piece, "thigh line", crotch_point(piece) + down(piece) * THIGH_BELOW)


def knee_level(piece: Piece) -> Point:
    """A point at the knee; where none is drawn, a little above the middle of the inseam."""
    high, low = crotch_point(piece), corner(piece, INSEAM, HEM)
    return level_at(piece, "knee line", high + (low - high) * 0.43)


def place_on(piece: Piece, edge: str, level: Point, name: str) -> float:
    """Where a line square to the grain at a level meets an edge (mm from its start).

    Raises:
        AlterationError: it does not.
    """
    found = crossing(piece, edge, level, down(piece) * 1j)
    if found is None:
        raise AlterationError(f'"{name}" on "{piece.name}" needs its "{edge}" to reach a level that it does not reach; '
                              "compare the names of edges and lines in the labels file.")
    return found.at


# -- edges ------------------------------------------------------------------------------------------


def swelled(edge: Edge, knots: Knots) -> Redrawn:
    """An edge moved by given amounts at given places, which grow and fade smoothly between them.

    Beyond the first and the last place it moves as there; smooth joints stay smooth.
    """
    knots = sorted(knots, key=lambda k: k[0])

    def shift(s: float) -> tuple[Point, Point]:
        if s <= knots[0][0]:
            return knots[0][1], 0j
        for (a, by_a), (b, by_b) in pairwise(knots):
            if s < b - 1e-9:
                u = (s - a) / (b - a)
                return by_a + (by_b - by_a) * u * u * (3 - 2 * u), (by_b - by_a) * 6 * u * (1 - u) / (b - a)
        return knots[-1][1], 0j

    return moved_along(edge, [s for s, _ in knots], shift)


def moved_along(edge: Edge, places: Sequence[float], shift: Callable[[float], tuple[Point, Point]]) -> Redrawn:
    """An edge, every point of which moves by its own amount; handles lean with the slope of the move.

    A stretch that is one curve takes up a move by a cubic law exactly, so that the opposite move undoes it; between
    several curves the joints stay smooth instead.

    Args:
        places: where the move may change its law (mm from the start).
        shift: how far the point at an arc length moves, and how fast that grows along the edge.
    """
    parts = edge.path.cut_at(places)
    bounds = sums(parts)
    fresh = [_moved(part, low, shift) for part, low in zip(parts, bounds, strict=False)]
    joined = Path.joined([f.with_ends(start=before.end) if before else f
                          for before, f in zip([None, *fresh], fresh, strict=False)])
    return Redrawn(edge.name, joined, bounds, sums(fresh))


def _moved(part: Path, low: float, shift: Callable[[float], tuple[Point, Point]]) -> Path:
    ends = [shift(low + s) for s in part.lengths]
    still = all(by == ends[0][0] and not slope for by, slope in ends)
    nodes = [p + by for p, (by, _) in zip(part.nodes, ends, strict=True)]
    handles: list[Handles] = []
    for curve, ((by0, slope0), (by1, slope1)) in zip(part.curves, pairwise(ends), strict=True):
        if still and not isinstance(curve, Cubic):
            handles.append(None)
            continue
        third = (curve.end - curve.start) / 3
        c1, c2 = (curve.c1, curve.c2) if isinstance(curve, Cubic) else (curve.start + third, curve.end - third)
        first, last = (part.length / 3,) * 2 if len(part.handles) == 1 else (abs(c1 - curve.start), abs(curve.end - c2))
        handles.append((c1 + by0 + slope0 * first, c2 + by1 - slope1 * last))
    return Path(tuple(nodes), tuple(handles))


# -- the crotch point ----------------------------------------------------------------------------------


def hollow_start(piece: Piece, name: str) -> float:
    """Where the crotch seam begins to be hollow: at a joint near the hip line, else at the hip line itself."""
    path = piece.edge(CROTCH).path
    at = place_on(piece, CROTCH, hip_level(piece), name)
    return min((s for s in path.lengths[1:-1] if abs(s - at) < NEAR), key=lambda s: abs(s - at), default=at)


def crotch_point_moved(piece: Piece, by: float, drop: float, name: str) -> Piece:
    """The crotch point moved on by `by` mm as the crotch seam runs there, and `drop` mm along the inseam to the knee.

    Most of that is drawn near the point: it fades up the crotch seam to nothing at the hip, so that the seam keeps its
    direction at its point, and down the inseam to nothing at the knee.
    """
    here, seam, inseam = crotch_point(piece), piece.edge(CROTCH), piece.edge(INSEAM)
    on, slide = towards(piece, CROTCH, INSEAM).end_tangent * by, towards(piece, INSEAM, CROTCH).end_tangent * -drop
    still = hollow_start(piece, name)
    point = seam.path.length if ends_at(piece, CROTCH, INSEAM) else 0.0
    run = point - still

    def shift(s: float) -> tuple[Point, Point]:
        u = max((s - still) / run, 0.0)
        return on * u ** 3 + slide * u * u * (3 - 2 * u), (on * 3 * u * u + slide * 6 * u * (1 - u)) / run

    end = here + on + slide
    drawn = swelled(inseam, ((inseam.path.length if ends_at(piece, INSEAM, CROTCH) else 0.0, on + slide),
                             (place_on(piece, INSEAM, knee_level(piece), name), 0j)))
    marks = {m.name: end for m in piece.landmarks if abs(m.at - here) < 1e-3}
    moved = redraw_edge(piece, moved_along(seam, (still,), shift), drawn, landmarks=marks)
    return reline(piece, moved, CROTCH, INSEAM)


def settled_point(piece: Piece, name: str, amount: float, off: Callable[[Piece, float], float],
                  start: float) -> Piece:
    """The piece with its crotch point moved until `off` vanishes, its inseam as long as it was.

    Args:
        off: by how much the moved piece misses a share of the amount (mm).
        start: a first guess of the move.

    Raises:
        AlterationError: no such place was found; it tells the most for which there is one.
    """
    def settled(share: float) -> Piece | None:
        return _settled(piece, name, lambda p: off(p, share), start * share)

    moved = settled(1.0)
    if moved is None:
        most = next((tenths / 10 for tenths in range(9, 0, -1) if settled(tenths / 10) is not None), 0.0)
        raise too_much(name, amount, piece.name, "leaves the crotch seam no shape that can be drawn", amount * most)
    return moved


def _settled(piece: Piece, name: str, off: Callable[[Piece], float], start: float) -> Piece | None:
    inseam = piece.edge(INSEAM).path.length

    def miss(by: float, drop: float) -> Point:
        moved = crotch_point_moved(piece, by, drop, name)
        return complex(off(moved), moved.edge(INSEAM).path.length - inseam)

    by, drop = start, 0.0
    lacks = miss(by, drop)
    more, lower = (miss(by + 0.1, drop) - lacks) / 0.1, (miss(by, drop + 0.1) - lacks) / 0.1
    for _ in range(25):  # Newton's rule, the slopes kept once found
        if abs(lacks) < 1e-7:
            return crotch_point_moved(piece, by, drop, name)
        by -= cross(lacks, lower) / cross(more, lower)
        drop -= cross(more, lacks) / cross(more, lower)
        lacks = miss(by, drop)
    return None


def out(piece: Piece) -> Point:
    """Across the grain, from the inseam towards the side seam."""
    return outward(piece, SIDE)
