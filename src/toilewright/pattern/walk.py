"""Walking the seams: every pair of edges that is sewn together, laid along each other from end to end."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees, pi

from toilewright.geometry.point import turn
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.piece import Piece
from toilewright.tolerance import CORNER, SEWS

GATHER_SLACK = 0.03
"""Share of the gathered length by which gathers can be more or less without anybody noticing (common practice)."""

JOINT_REACH = 25.0
"""mm; a notch without a partner belongs to the nearest joint of the other side within this (cap: shoulder seam)."""


@dataclass(frozen=True, slots=True)
class NotchPair:
    """Two balance marks that meet when the seam is sewn.

    Attributes:
        name: of the mark on side b.
        at_a, at_b: mm from the start of the seam, darts closed.
        offset: how much farther side b's mark lies, seen from the nearer end of the seam (a mark that meets a
            joint: from the start) and without gathers (mm).
    """

    name: str
    at_a: float
    at_b: float
    offset: float


@dataclass(frozen=True, slots=True)
class SeamWalk:
    """One seam, walked.

    Attributes:
        seam: its name.
        sides: the edges of both sides in words.
        length_a, length_b: as sewn, darts closed (mm).
        difference: b longer than a; for gathers, b longer than a times the ratio (mm).
        allowed: least and most difference with which the seam is sewn (mm).
        sews: is the difference within that, give or take :data:`toilewright.tolerance.SEWS`?
        notches: balance marks that meet.
        angles: at the start and the end of the seam, what both pieces make together (radians; pi is a smooth run);
            None where more than two pieces meet, or one lies upon the other.
        note: what deserves a look, or empty.
    """

    seam: str
    sides: tuple[str, str]
    length_a: float
    length_b: float
    difference: float
    allowed: tuple[float, float]
    sews: bool
    notches: tuple[NotchPair, ...] = ()
    angles: tuple[float | None, float | None] = (None, None)
    note: str = ""

    @property
    def verdict(self) -> str:
        """``sews`` or ``does not sew``."""
        return "sews" if self.sews else "does not sew"

    def meets(self, pair: NotchPair) -> bool:
        """Do two balance marks meet; what is eased in may lie between them."""
        return abs(pair.offset) <= max(map(abs, self.allowed)) + 2 * SEWS


def walk(garment: Garment) -> tuple[SeamWalk, ...]:
    """Every seam of a garment, in its order.

    Raises:
        NameUnknown: a seam names a piece or an edge that is not there.
    """
    pieces = {piece.name: piece for piece in garment.pieces}
    return tuple(_walk(garment, pieces, seam) for seam in garment.seams)


def side_length(garment: Garment, refs: Sequence[EdgeRef]) -> float:
    """Sewn length of one side of a seam (mm)."""
    return sum(r.length(garment.piece(r.piece)) * r.times for r in refs)


def _walk(garment: Garment, pieces: dict[str, Piece], seam: Seam) -> SeamWalk:
    for ref in (*seam.a, *seam.b):
        if ref.piece not in pieces:
            garment.piece(ref.piece)  # raises, offering the nearest name
    a = sum(r.length(pieces[r.piece]) * r.times for r in seam.a)
    b = sum(r.length(pieces[r.piece]) * r.times for r in seam.b)
    difference = b - a * (seam.ratio or 1.0)
    allowed = seam.ease if seam.ratio is None else (-GATHER_SLACK * a * seam.ratio, GATHER_SLACK * a * seam.ratio)
    sews = allowed[0] - SEWS <= difference <= allowed[1] + SEWS
    angles = _angles(pieces, seam)
    note = _note(difference, allowed, sews, angles)
    return SeamWalk(seam.name, (_words(seam.a), _words(seam.b)), a, b, difference, allowed, sews,
                    _pairs(pieces, seam, a, b), angles, note)


def _words(refs: Sequence[EdgeRef]) -> str:
    return " + ".join(f"{r.piece} {r.edge}" + (" (part)" if r.part else "") + (f" × {r.times}" if r.times > 1 else "")
                      for r in refs)


def _note(difference: float, allowed: tuple[float, float], sews: bool,
          angles: tuple[float | None, float | None]) -> str:
    parts = []
    if not sews:
        over = difference - allowed[1] if difference > allowed[1] else difference - allowed[0]
        parts.append(f"the second side is {abs(over):.1f} mm too {'long' if over > 0 else 'short'}")
    for where, angle in zip(("start", "end"), angles, strict=True):
        if angle is not None and abs(angle - pi) > CORNER:
            parts.append(f"a corner of {degrees(angle):.0f}° at its {where}, where a smooth run is 180°")
    return "; ".join(parts)


# -- balance marks ----------------------------------------------------------------------------------


def _marks(pieces: dict[str, Piece], refs: Sequence[EdgeRef]) -> tuple[list[tuple[str, float]], list[float]]:
    """Notches (name, place) and inner joints of one side, by sewn length from its start."""
    marks: list[tuple[str, float]] = []
    joints: list[float] = []
    done = 0.0
    for ref in refs:
        piece = pieces[ref.piece]
        first, last = ref.place(piece)
        length = last - first
        places = [(n.name, piece.sewn_at(ref.edge, n.at) - first) for n in piece.notches if n.edge == ref.edge]
        places = [(name, at) for name, at in places if ref.part is None or -SEWS <= at <= length + SEWS]
        for _ in range(ref.times):
            marks += [(name, done + (length - at if ref.reverse else at)) for name, at in places]
            done += length
            joints.append(done)
    return marks, joints[:-1]


def _pairs(pieces: dict[str, Piece], seam: Seam, a: float, b: float) -> tuple[NotchPair, ...]:
    free, joints = _marks(pieces, seam.a)
    grown = seam.ratio or 1.0
    scale = b / a if a else 1.0
    pairs = []
    marks = _marks(pieces, seam.b)[0]
    # Of several marks of one name, some may meet joints: a frill's quarters at a side seam.
    often = Counter(name for name, _ in marks)
    for name, at_b in marks:
        from_start = True
        near = min(joints, key=lambda s: abs(s * scale - at_b), default=None)
        same = [m for m in free if m[0] == name]
        best = min(same, key=lambda m: abs(m[1] * scale - at_b), default=None)
        if best and often[name] > 1 and near is not None and abs(near * scale - at_b) < abs(best[1] * scale - at_b):
            best = None
        if best:
            free.remove(best)
            at_a = best[1]
            from_start = at_a <= a / 2
        else:
            if near is None or abs(near * scale - at_b) > JOINT_REACH:
                continue
            at_a = near
        offset = at_b - at_a * grown if from_start else (at_b - b) - (at_a - a) * grown
        pairs.append(NotchPair(name, at_a, at_b, offset))
    return tuple(pairs)


# -- runs across the ends ---------------------------------------------------------------------------


def _angles(pieces: dict[str, Piece], seam: Seam) -> tuple[float | None, float | None]:
    if len(seam.a) != 1 or len(seam.b) != 1 or seam.ratio is not None or seam.upon or any(
            r.part or r.times > 1 for r in (*seam.a, *seam.b)):
        return None, None
    (a0, a1), (b0, b1) = (_inner_angles(pieces[r.piece], r) for r in (seam.a[0], seam.b[0]))
    return a0 + b0, a1 + b1


def _inner_angles(piece: Piece, ref: EdgeRef) -> tuple[float, float]:
    """Inner angles of the piece at both ends of an edge, in the direction in which the seam is walked."""
    ring = piece.edges
    i = ring.index(piece.edge(ref.edge))
    before, here, after = ring[i - 1].path, ring[i].path, ring[(i + 1) % len(ring)].path
    first = pi - turn(before.end_tangent, here.start_tangent)
    last = pi - turn(here.end_tangent, after.start_tangent)
    return (last, first) if ref.reverse else (first, last)
