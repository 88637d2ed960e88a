"""Where the marks of a pattern piece come to lie on the cloth, and which hand of a pair it is."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt

from toilewright.cutting.lay.plan import Laid
from toilewright.cutting.lay.reading import other_hand
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.piece import Piece

Place = Callable[[Point], Point]
"""From a pattern piece's own frame to the cloth on the table (mm)."""

_OFF = 0.05
"""mm; marks that miss their place by more than this belong to another piece of the same name."""

INSIDE = ("facing", "lining")
"""Pieces with such a word in their name are worn with their right side towards the body."""


def places_of(one: Laid, piece: Piece) -> tuple[Place, ...]:
    """The maps that bring a piece's lines to where it lies; two of them for a half piece that is cut opened out.

    Args:
        one: a piece on a lay.
        piece: the pattern piece that it was cut from.

    Returns:
        Nothing where the two do not belong together.
    """
    onto = _onto_cut_piece(one, piece)
    if onto is None:
        return ()

    def place(p: Point) -> Point:
        return one.pose.of(onto(p)) + one.at

    fold = next((e.path for e in piece.edges if e.kind is EdgeKind.FOLD), None)
    if fold is None or one.piece.on_fold:
        return (place,)
    start, way = fold.start, unit(fold.end - fold.start)
    return place, lambda p: place(start + way * ((p - start) * way.conjugate()).conjugate())


def _onto_cut_piece(one: Laid, piece: Piece) -> Place | None:
    """From the piece's frame to its cut piece's, found from the ends of its edges."""
    marks: dict[str, Point] = {}
    for mark in one.piece.marks:
        marks.setdefault(mark.name, mark.at)
    pairs = [(p, marks[name]) for e in piece.edges for name, p in
             ((f"{e.name} start", e.path.start), (f"{e.name} end", e.path.end)) if name in marks]
    if len(pairs) < 3:
        return None
    p0, q0 = pairs[0]
    p1, q1 = max(pairs, key=lambda pair: abs(pair[0] - p0))
    if p0 == p1:
        return None
    turn, flip = unit(q1 - q0) / unit(p1 - p0), unit(q1 - q0) / unit(p1 - p0).conjugate()
    tries: tuple[Place, ...] = (lambda p: q0 + (p - p0) * turn, lambda p: q0 + (p - p0).conjugate() * flip)
    off, best = min(((sqrt(sum(abs(f(p) - q) ** 2 for p, q in pairs)), f) for f in tries), key=lambda pair: pair[0])
    return best if off <= _OFF * len(pairs) else None


def hand_of(one: Laid, piece: Piece) -> str | None:
    """Which hand of a pair it becomes as it is worn, ``left`` or ``right``; None where the piece does not tell.

    Common practice, no published source: a piece is drawn as its right side is seen. Seen so, a front with its side
    seam on the right is her left one, a back her right one; a sleeve with its front on the left is her left one. What
    is worn with its right side towards the body is seen from within.
    """
    drawn = drawn_hand(piece)
    if drawn is None or one.piece.even or not one.piece.mirrored:
        return None
    return {"left": "right", "right": "left"}[drawn] if other_hand(one) else drawn


def drawn_hand(piece: Piece) -> str | None:
    """The hand of a piece of a pair as it is drawn, or None where its edges do not tell."""
    if piece.grain is None or piece.grain.start == piece.grain.end or not piece.cut.mirrored:
        return None
    rightwards = unit(piece.grain.end - piece.grain.start) * -1j
    outer = _side(piece, rightwards, "side seam")
    centre = _side(piece, rightwards, "centre front", "centre back", "wrap edge")
    sleeve = _side(piece, rightwards, "underarm front"), _side(piece, rightwards, "underarm back")
    words = piece.name.split()
    if None not in sleeve and sleeve[0] * sleeve[1] < 0.0:
        left = sleeve[0] < 0.0
    else:
        outwards = outer or (centre and -centre)
        unclear = outer is not None and centre is not None and outer * centre > 0.0
        if outwards is None or unclear or ("front" in words) == ("back" in words):
            return None
        left = (outwards > 0.0) == ("front" in words)
    if any(word in piece.name for word in INSIDE):
        left = not left
    return "left" if left else "right"


def _side(piece: Piece, rightwards: Point, *names: str) -> float | None:
    """How far to the right of the piece's middle the first of these edges lies (mm), or None."""
    edge = next((e for name in names for e in piece.edges if e.name == name), None)
    if edge is None:
        return None
    x0, y0, x1, y1 = piece.outline.bounds
    off = dot(edge.path.point_at(edge.path.length / 2) - complex(x0 + x1, y0 + y1) / 2, rightwards)
    return off or None
