"""One piece of a nest between its sizes: the size differs with the height on the body."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import ceil, floor

from toilewright.errors import GeometryError
from toilewright.fit.between import Between, between, mixed
from toilewright.fit.levels import bodice_pieces, bust_levels, first_of, upright
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.pattern.garment import Garment
from toilewright.pattern.nest import Pattern
from toilewright.pattern.parts import Dart, InnerLine, Landmark, Notch
from toilewright.pattern.piece import Piece
from toilewright.pattern.truing import dart_legs, true_darts
from toilewright.tolerance import JOINT

PLACES = ("bust", "waist", "hip")

HIP_DEPTH = 200.0
"""mm below the waist, where no hip line is drawn (common practice, no published source)."""

LEGS_DIFFER = 0.02
"""mm; dart legs that differ by less need no truing (half a printer's dot)."""

_BUST_EDGES = ("armhole", "shoulder", "neck")
_CORNER_MARKS = {"neck point": "neck", "shoulder tip": "shoulder", "underarm": "armhole", "nape": "neck",
                 "centre waist": "waist", "side waist": "waist"}


@dataclass(frozen=True, slots=True)
class SizeRule:
    """Where among the sizes a point of a piece lies, the piece stood upright with its waist at height 0.

    Attributes:
        heights: (height in mm, place among the sizes), lowest first: constant beyond the ends, smoothstep between.
        fixed: edges that have one size all along.
    """

    heights: tuple[tuple[float, float], ...]
    fixed: Mapping[str, float]

    def at(self, z: Point, *edges: str) -> float:
        """Place among the sizes of a point that lies on these edges."""
        for edge in edges:
            if edge in self.fixed:
                return self.fixed[edge]
        y = z.imag
        if y <= self.heights[0][0]:
            return self.heights[0][1]
        for (low, below), (high, above) in zip(self.heights, self.heights[1:], strict=False):
            if y <= high:
                t = (y - low) / (high - low)
                return below + (above - below) * t * t * (3 - 2 * t)
        return self.heights[-1][1]


def mixed_piece(pattern: Pattern, name: str, base: int, at: Mapping[str, float], follows: str | None) -> Piece:
    """A piece with the sizes that it has at bust, waist and hip.

    Args:
        base: number of the size whose heights, grain and words are kept.
        at: place among the sizes by ``bust``, ``waist``, ``hip``.
        follows: the one of these that the whole piece has; None to go by height.

    Raises:
        GeometryError: the sizes of the piece do not have the same edges and darts.
    """
    places = [at[p] for p in ((follows,) if follows else PLACES)
              if follows or _reaches(pattern.garments[base].piece(name), p)]
    low, high = floor(min(places)), ceil(max(places))
    if low == high:
        return pattern.garments[low].piece(name)
    base = min(max(base, low), high)
    every = {k: pattern.garments[k].piece(name) for k in range(low, high + 1)}
    _check_same_names(pattern, every)
    turn, anchors = _turn(every[base]), {k: _anchor(p) for k, p in every.items()}
    laid = {k: p.mapped(lambda z, k=k: (z - anchors[k]) * turn) for k, p in every.items()}
    if follows:
        rule = SizeRule(((0.0, places[0]),), {})
    else:
        rule = _rule(pattern.garments[base], laid[base], anchors[base], turn, at)
    piece = _mixed(laid, base, rule)
    if any(abs(a - b) > LEGS_DIFFER for a, b in (dart_legs(piece, d) for d in piece.darts)):
        piece = true_darts(piece)
    return piece.mapped(lambda z: z / turn + anchors[base])


def _reaches(piece: Piece, where: str) -> bool:
    """Does a piece with levels go as far as the bust, the waist or the hip?"""
    if where == "bust":
        return piece.has_edge("armhole")
    return where == "waist" or piece.has_edge("hem")


def _check_same_names(pattern: Pattern, every: Mapping[int, Piece]) -> None:
    said = {k: ([e.name for e in p.edges], [(d.name, d.edge) for d in p.darts]) for k, p in every.items()}
    first = min(said)
    for k, names in said.items():
        if names != said[first]:
            raise GeometryError(
                f'"{every[k].name}" cannot be blended: its sizes {pattern.sizes[first]} and {pattern.sizes[k]} do not '
                "have the same edges and darts; correct the labels file, or cut one size.")


def _turn(piece: Piece) -> Point:
    """The turn that stands a piece upright."""
    path, stood = piece.edges[0].path, upright(piece).edges[0].path
    return (stood.end - stood.start) / (path.end - path.start)


def _anchor(piece: Piece) -> Point:
    """The point at which the sizes are laid on each other: the centre of the waist."""
    return first_of(piece, "centre waist", "side waist")


def _rule(garment: Garment, laid: Piece, anchor: Point, turn: Point, at: Mapping[str, float]) -> SizeRule:
    heights = [(0.0, at["waist"])]
    fixed = {"waist": at["waist"]}
    if laid.has_edge("armhole"):
        levels, _ = bust_levels(bodice_pieces(garment))
        bust = levels.get(laid.name, 0.0) - (anchor * turn).imag
        heights.append((max(bust, 1.0), at["bust"]))
        fixed |= dict.fromkeys(_BUST_EDGES, at["bust"])
    if laid.has_edge("hem"):
        line = laid.line("hip line")
        hip = -HIP_DEPTH if line is None else (line.start.imag + line.end.imag) / 2
        heights.append((min(hip, -1.0), at["hip"]))
        fixed["hem"] = at["hip"]
    return SizeRule(tuple(sorted(heights)), fixed)


# -- mixing what a piece is made of -------------------------------------------------------------------


def _mixed(laid: Mapping[int, Piece], base: int, rule: SizeRule) -> Piece:
    piece = laid[base]
    lines = _edges(laid, base, rule)
    edges = tuple(replace(e, path=lines[e.name].path) for e in piece.edges)
    return replace(
        piece, edges=edges,
        darts=tuple(_dart(laid, base, i, lines[d.edge], rule) for i, d in enumerate(piece.darts)),
        notches=tuple(_notch(laid, base, n, lines[n.edge].path, rule) for n in piece.notches),
        landmarks=tuple(_landmark(laid, m, rule) for m in piece.landmarks),
        lines=tuple(_line(laid, m, rule) for m in piece.lines))


def _edges(laid: Mapping[int, Piece], base: int, rule: SizeRule) -> dict[str, Between]:
    ring = laid[base].edges
    corner = [rule.at(e.path.start, ring[i - 1].name, e.name) for i, e in enumerate(ring)]
    lines = {}
    for i, edge in enumerate(ring):
        lines[edge.name] = between(
            {k: p.edge(edge.name).path for k, p in laid.items()},
            {k: [s for d in p.darts_on(edge.name) for s in (d.start, d.end)] for k, p in laid.items()},
            base, lambda z, name=edge.name: rule.at(z, name), corner[i], corner[(i + 1) % len(ring)])
    # Neighbours compute their corner from the same points; one of the two results is kept for both.
    starts = [lines[e.name].path.start for e in ring]
    for i, edge in enumerate(ring):
        j = (i + 1) % len(ring)
        if edge.name not in rule.fixed and all(_plumb(p.edge(edge.name).path) for p in laid.values()):
            # A straight edge along the grain stays so: its lower end comes to hang under the upper one.
            high, low = (i, j) if starts[i].imag > starts[j].imag else (j, i)
            starts[low] = complex(starts[high].real, starts[low].imag)
    for i, edge in enumerate(ring):
        line = lines[edge.name]
        lines[edge.name] = replace(line, path=line.path.with_ends(starts[i], starts[(i + 1) % len(ring)]))
    return lines


def _plumb(path: Path) -> bool:
    """Is it one straight line along the grain?"""
    return path.handles == (None,) and abs((path.end - path.start).real) < JOINT


def _dart(laid: Mapping[int, Piece], base: int, i: int, line: Between, rule: SizeRule) -> Dart:
    dart = laid[base].darts[i]
    first, second = laid[base].feet(dart)
    # A dart that hangs from the waist goes with its mouth; one that rises to the bust goes with the bust.
    apex_at = rule.at(dart.apex, dart.edge) if dart.apex.imag < 0 else rule.at(dart.apex)
    return replace(
        dart, apex=mixed({k: p.darts[i].apex for k, p in laid.items()}, apex_at),
        start=line.carried({k: p.darts[i].start for k, p in laid.items()}, rule.at(first, dart.edge)),
        end=line.carried({k: p.darts[i].end for k, p in laid.items()}, rule.at(second, dart.edge)))


def _notch(laid: Mapping[int, Piece], base: int, notch: Notch, path: Path, rule: SizeRule) -> Notch:
    """At its distance from the nearer end of the edge, so that partners' notches keep meeting."""
    found = {k: next((n.at for n in p.notches if (n.name, n.edge) == (notch.name, notch.edge)), None)
             for k, p in laid.items()}
    whole = {k: p.edge(notch.edge).path.length for k, p in laid.items()}
    at = rule.at(laid[base].edge(notch.edge).path.point_at(notch.at), notch.edge)
    known = {k: notch.at / whole[base] * whole[k] if s is None else s for k, s in found.items()}
    if notch.at <= whole[base] / 2:
        place_of = mixed(known, at)
    else:
        place_of = path.length - mixed({k: whole[k] - s for k, s in known.items()}, at)
    return replace(notch, at=min(max(place_of, 0.0), path.length))


def _landmark(laid: Mapping[int, Piece], mark: Landmark, rule: SizeRule) -> Landmark:
    points = {k: p.landmark(mark.name) for k, p in laid.items()}
    if any(z is None for z in points.values()):
        return mark
    return replace(mark, at=mixed(points, rule.at(mark.at, _CORNER_MARKS.get(mark.name, ""))))


def _line(laid: Mapping[int, Piece], line: InnerLine, rule: SizeRule) -> InnerLine:
    """An inner line; where sizes draw it differently, the base size's."""
    paths = {k: p.line(line.name) for k, p in laid.items()}
    if any(p is None or len(p.nodes) != len(line.path.nodes) for p in paths.values()):
        return line
    return replace(line, path=between(paths, {}, min(paths, key=lambda k: abs(paths[k].start - line.path.start)),
                                      rule.at, rule.at(line.path.start), rule.at(line.path.end)).path)
