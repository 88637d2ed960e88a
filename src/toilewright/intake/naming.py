"""Names for the edges of a piece, from its kind and its shape.

Every way in which the outline's stretches could be the usual edges of a kind of piece is priced (which hand, which
way up, which stretch first, which soft corners are none), and the cheapest one is taken.
"""

from __future__ import annotations

import cmath
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from math import cos, radians

from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, unit
from toilewright.intake.kinds import ALL_SHAPES, EdgeSpec, PieceKind
from toilewright.intake.piece_corners import Ring
from toilewright.intake.raw import RawPiece

UPSIDE_DOWN = 0.25
"""Price of lying against the grain arrow's head (many arrows have two)."""

LEVEL = 0.1
"""Share of that price where the arrow lies level on the sheet."""

ON_ITS_SIDE = 0.3
"""Price of lying across the grain, for strips."""

DROPPED = 1.2
"""Price of a corner that is none, for each radian that the outline turns there."""

MOST_DROPPED = 6
"""Corners that may be passed over; a piece with more of them is none of the usual ones."""

CREDIBLE = 0.45
"""Price an edge up to which a piece is shaped like the usual one (good ones stay below 0.1)."""

BY_SHAPE = 0.25
"""The same where no words name the piece."""


@dataclass(frozen=True, slots=True)
class Naming:
    """Names of a ring's edges, in order; two neighbours of one name are one edge.

    Attributes:
        kind: the usual piece they belong to, or None.
        names: for each stretch of the ring, in its order.
        usual_hand: the ring runs through the names in the usual order (False: the piece is the other hand).
        price: how badly it fits, per edge.
    """

    kind: PieceKind | None
    names: tuple[str, ...]
    usual_hand: bool = True
    price: float = 0.0


def name_edges(raw: RawPiece, ring: Ring, kind: PieceKind | None) -> Naming:
    """The best names for the edges of a piece of a kind; ``edge 1``... when it is of none, or not shaped like it."""
    plain = Naming(None, tuple(f"edge {i + 1}" for i in range(max(len(ring.corners), 1))))
    if kind is None or not len(kind.edges) <= len(ring.corners) <= len(kind.edges) + MOST_DROPPED:
        return plain
    shapes = _Shapes(raw, ring)
    best = plain
    found = False
    for kept, dropped in _choices(ring, len(kind.edges)):
        for up, odd in _ways_up(raw, kind):
            for usual in (True, False):
                specs = kind.edges if usual else kind.edges[::-1]
                sides = [shapes.side(a, b) for a, b in zip(kept, (*kept[1:], kept[0]), strict=True)]
                for turned in range(len(specs)):
                    order = (*specs[turned:], *specs[:turned])
                    price = (dropped + odd + sum(
                        _price(side, spec, up, usual) for side, spec in zip(sides, order, strict=True))) / len(specs)
                    price += shapes.hand_price(kind, order, kept, usual)
                    if not found or price < best.price:
                        found = True
                        best = Naming(kind, _spread(kept, order, len(ring.corners)), usual, price)
    return best if best.price <= CREDIBLE else plain


def guess_kind(raw: RawPiece, ring: Ring, taken: Collection[str] = ()) -> Naming:
    """The kind of a piece without a telling name, by shape and marks alone; plain names when none fits well.

    Args:
        taken: kinds that other pieces are.
    """
    tried = [n for k in ALL_SHAPES if k.told_by_shape and k.name not in taken
             if (n := name_edges(raw, ring, k)).kind and n.price < BY_SHAPE]
    return min(tried, key=lambda n: n.price + _unlike(raw, n), default=name_edges(raw, ring, None))


def _unlike(raw: RawPiece, naming: Naming) -> float:
    """Fronts more often lie on the fold than backs do, and backs carry the double notches."""
    front = naming.kind.name.endswith("front")
    double = any(n.count == 2 for n in raw.notches)
    return 0.05 * ((raw.fold is None) is front) + 0.05 * (double is front)


@dataclass(frozen=True, slots=True)
class _Side:
    """One stretch: outward unit normal of its chord, bend (outwards positive, share of the chord), length as a share
    of the longest chord, darts and notches on it, on the fold?"""

    out: Point
    bend: float
    share: float
    darts: int
    notches: int
    fold: bool


def on_fold(raw: RawPiece, path: Path, drawn_seam: bool = False) -> bool:
    """Is this stretch of the outline placed on the fold?

    Args:
        drawn_seam: the stretch is of a drawn seam line, somewhat inside the outline that the fold was read from.
    """
    if raw.fold is None:
        return False
    a, b = raw.fold
    reach = 25.0 if drawn_seam else 3.0
    return all(path.nearest(p)[1] < reach for p in (a + 0.1 * (b - a), b + 0.1 * (a - b), (a + b) / 2))


class _Shapes:
    """The stretches between any two corners of a ring."""

    def __init__(self, raw: RawPiece, ring: Ring) -> None:
        self.raw, self.ring, self.known = raw, ring, {}

    @cached_property
    def longest(self) -> float:
        corners = self.ring.corners
        return max(abs(b.at - a.at) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)) or 1.0

    @cached_property
    def notch_places(self) -> list[tuple[float, int]]:
        return [(self.ring.path.nearest(n.at)[0], n.count) for n in self.raw.notches]

    def along(self, a: int, b: int) -> Path:
        edges, n = self.ring.edges, len(self.ring.corners)
        return Path.joined([edges[i % n] for i in range(a, b if b > a else b + n)])

    def side(self, a: int, b: int) -> _Side:
        if (a, b) not in self.known:
            self.known[a, b] = self._measured(a, b)
        return self.known[a, b]

    def _measured(self, a: int, b: int) -> _Side:
        path = self.along(a, b)
        chord = path.end - path.start
        size = abs(chord) or 1.0
        bulge = sum(c.area() for c in path.moved(-path.start).curves)  # from the start, the chord itself adds nothing
        s0, length = self.ring.corners[a].s, self.ring.path.length

        def on(s: float) -> bool:
            return (s - s0) % length <= path.length
        return _Side(
            -1j * chord / size, bulge / size**2, size / self.longest,
            sum(on((m[0] + m[1]) / 2) for m in self.ring.mouths), sum(on(s) for s, _ in self.notch_places),
            on_fold(self.raw, path, self.ring.drawn_seam))

    def hand_price(self, kind: PieceKind, order: Sequence[EdgeSpec], kept: Sequence[int], usual: bool) -> float:
        """A sleeve's hand: the double notch is the back one; without it, the front of the cap is the more hollow."""
        at = next((i for i, spec in enumerate(order) if spec.name == "cap"), None)
        if kind.name != "sleeve" or at is None:
            return 0.0
        cap = self.along(kept[at], kept[(at + 1) % len(kept)])
        s0, length = self.ring.corners[kept[at]].s, self.ring.path.length
        marks = [((s - s0) % length / cap.length, count) for s, count in self.notch_places]
        double = [f for f, count in marks if f < 1 and count == 2]
        single = [f for f, count in marks if f < 1 and count == 1 and abs(f - 0.5) > 0.1]
        if double and not (single and min(double) < min(single) < max(double)):
            at_end = sum(double) / len(double) > 0.5
        else:
            chord = (cap.end - cap.start) or 1.0
            first, last = (((cap.point_at(f * cap.length) - cap.start) / chord).imag for f in (0.2, 0.8))
            at_end = first > last  # the ring is counter-clockwise: hollow lies farther left of the chord
        return 0.0 if at_end is usual else 0.5


def _choices(ring: Ring, want: int) -> Iterator[tuple[tuple[int, ...], float]]:
    """Which corners count, and the price of passing the others over."""
    corners = ring.corners
    excess = len(corners) - want
    soft = sorted(range(len(corners)), key=lambda i: abs(corners[i].turn))[:excess + 3]
    for gone in combinations(sorted(soft), excess):
        yield (tuple(i for i in range(len(corners)) if i not in gone),
               DROPPED * sum(abs(corners[i].turn) for i in gone))


def _ways_up(raw: RawPiece, kind: PieceKind) -> list[tuple[Point, float]]:
    """Directions that could be up on the piece, and the price of each."""
    up = unit(raw.grain[1] - raw.grain[0]) if raw.grain and raw.grain[0] != raw.grain[1] else 1j
    if not raw.grain and raw.fold and not kind.strip:
        up = unit(raw.fold[1] - raw.fold[0])  # the fold runs with the grain
        up = up if up.imag >= 0 else -up
    # An arrow that lies level says little: many have two heads.
    ways = [(up, 0.0), (-up, UPSIDE_DOWN * max(abs(up.imag), LEVEL))]
    if kind.strip:
        text = cmath.rect(1.0, raw.words[0].angle) * 1j if raw.words else up
        ways += [(up * 1j, ON_ITS_SIDE), (-up * 1j, ON_ITS_SIDE + 0.1)]
        ways = [(w, p - (0.05 if abs(w - text) < 0.1 else 0.0)) for w, p in ways]
    return ways


def _price(side: _Side, spec: EdgeSpec, up: Point, usual: bool) -> float:
    """How unlike the usual edge this stretch is."""
    out = side.out * 1j / up  # in a frame with y up
    if not usual:
        out = -out.conjugate()
    price = 1 - cos(cmath.phase(out) - radians(spec.facing))
    if spec.bend == "straight":
        price += min(0.5, 5 * abs(side.bend)) if not side.darts else 0.0
    elif spec.bend == "hollow":
        price += 0.5 if side.bend > -0.02 else 0.0
    elif spec.bend == "round":
        price += 0.5 if side.bend < 0.02 else 0.0
    elif spec.bend == "level":
        price += 0.5 if side.bend > 0.05 else 0.0
    if spec.long is not None:
        price += 0.6 * (1 - side.share if spec.long else side.share)
    if side.fold:
        price += -0.6 if spec.fold else 1.0
    if side.darts and not spec.darts:
        price += 0.6
    if side.notches and spec.notched:
        price -= 0.3
    return price


def _spread(kept: Sequence[int], order: Sequence[EdgeSpec], n: int) -> tuple[str, ...]:
    """The name of every stretch, those behind a passed-over corner included."""
    names = [""] * n
    for i, spec in zip(kept, order, strict=True):
        names[i] = spec.name
    start = kept[0]
    for k in range(n):
        i = (start + k) % n
        names[i] = names[i] or names[i - 1]
    return tuple(names)
