"""An uneven figure: what differs on her left and her right becomes two pieces, clearly named, that sew together.

A garment shows one half of her. Its alterations are made with what is asked for her left, with what is asked for her
right, and with the mean of both; here they are put together. A pair becomes two pieces; a piece on the fold is opened
out into one whole piece; a piece that is whole already (a waistband) is taken from the mean.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from toilewright.body.tape import Body
from toilewright.errors import AlterationError, Finding, Severity
from toilewright.fit.ease import Ease, ease_row, measure_ease, measure_garment
from toilewright.fit.levels import upright
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Cut, Dart, Edge, EdgeKind, InnerLine, Landmark, Notch
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

LEFT, RIGHT = SIDES = ("left", "right")

FOLD_SLACK = 0.5
"""mm by which the two halves of a piece may differ along its fold (a pen line)."""

_INNER = ("centre front", "centre back", "wrap edge", "crotch seam", "princess seam")


def differing(left: Garment, right: Garment) -> tuple[str, ...]:
    """Names of the pieces that are not the same on both sides."""
    return tuple(p.name for p in left.pieces if right.has(p.name) and right.piece(p.name) != p)


def divided(left: Garment, right: Garment, mean: Garment, names: Collection[str]) -> Garment:
    """Both sides put together: the pieces of these names for each side, the others as they are.

    Args:
        left, right, mean: the garment as her left side, her right side and the mean of both ask for it, drawn as usual.

    Raises:
        AlterationError: the sides have other pieces, or two halves no longer meet along a fold.
    """
    if [p.name for p in left.pieces] != [p.name for p in right.pieces]:
        raise AlterationError("An alteration that cuts a piece in two has to be made on both sides alike; leave its "
                              "side out.")
    kinds = {name: _kind(left, name) for name in names}
    pieces: list[Piece] = []
    for one, other, between in zip(left.pieces, right.pieces, mean.pieces, strict=True):
        pieces += _both(one, other, between, kinds[one.name]) if one.name in names else (one,)
    hands = {p.name: hand(p) for p in left.pieces}
    seams = [s for a, b in zip(left.seams, right.seams, strict=True)
             for s in _seams(replace(a, ease=_either(a.ease, b.ease)), kinds, hands)]
    return Garment(tuple(pieces), tuple(seams), left.taken)


def marks_to_move(left: Garment, right: Garment) -> tuple[Finding, ...]:
    """What is to be said about whole pieces whose ends ask for different things."""
    return tuple(Finding(
        "whole-piece-between", f'"{p.name}" is cut whole, and her two sides ask for different ones: its length is '
        "right, but mark its places for the side seams from the sewn garment.", Severity.LOOK, p.name)
        for p in left.pieces if p.name in differing(left, right) and _kind(left, p.name) == "whole")


def ease_on_both(halves: tuple[Garment, Garment], body: Body) -> tuple[Ease, ...]:
    """Real ease of a garment whose sides differ: every size the mean of what both halves tell."""
    left, right = halves
    if left is right:
        return measure_ease(left, body)
    depth = body.get("waist to hip")
    rows = [{g.place: g for g in measure_garment(half, depth and depth.value)} for half in halves]
    found = []
    for place, one in rows[0].items():
        other = rows[1].get(place, one)
        value = replace(one.value, value=(one.value.value + other.value.value) / 2,
                        reason=f"{one.value.reason}, mean of left and right")
        found.append(ease_row(replace(one, value=value), body))
    return tuple(found)


def names_of(name: str, garment: Garment, side: str) -> tuple[str, ...]:
    """Under which names a piece stands in a divided garment: on one side, or ("" for both) on both."""
    if garment.has(name):
        return (name,)
    return tuple(n for n in (f"{name} {s}" for s in SIDES if side in ("", s)) if garment.has(n))


def hand(piece: Piece) -> str:
    """Which of her sides a piece shows as it is drawn, right side up; ``left`` where that cannot be told.

    Seen from before her, her left lies on the right hand; seen from behind, on the left. The front of her left sleeve,
    seen from her left, lies on the left hand.
    """
    stood = upright(piece)
    if stood.has_edge("cap"):
        front = next((stood.edge("cap").path.point_at(n.at) for n in stood.notches
                      if n.edge == "cap" and n.name.startswith("front")), None)
        if front is None and stood.has_edge("underarm front"):
            front = _middle(stood, "underarm front")
        return RIGHT if front is not None and front.real > _centre(stood).real else LEFT
    outer = next((e for e in ("side seam", "armhole") if stood.has_edge(e)), None)
    inner = next((e for e in _INNER if stood.has_edge(e)), None)
    if outer is None:
        return LEFT
    away = _middle(stood, outer) - (_middle(stood, inner) if inner else _centre(stood))
    seen_from_behind = "back" in piece.name or stood.has_edge("centre back")
    return LEFT if (away.real > 0) is not seen_from_behind else RIGHT


def _middle(piece: Piece, edge: str) -> Point:
    path = piece.edge(edge).path
    return (path.start + path.end) / 2


def _centre(piece: Piece) -> Point:
    return sum(e.path.start for e in piece.edges) / len(piece.edges)


# -- pieces -----------------------------------------------------------------------------------------


def _kind(garment: Garment, name: str) -> str:
    """``fold``, ``pair`` (left and right mirrored), ``two`` (left and right alike) or ``whole``."""
    piece = garment.piece(name)
    if piece.on_fold:
        return "fold"
    if piece.cut.mirrored and piece.cut.count >= 2:
        return "pair"
    round_both = any(r.piece == name for s in garment.seams for mine, theirs in ((s.a, s.b), (s.b, s.a))
                     if _twice(theirs) for r in mine)
    return "two" if piece.cut.count >= 2 and not round_both else "whole"


def _both(left: Piece, right: Piece, mean: Piece, kind: str) -> tuple[Piece, ...]:
    if kind == "fold":
        return (_opened_out(left, right),)
    if kind == "whole":
        return (mean,)
    cut = replace(left.cut, count=left.cut.count // 2, mirrored=False)
    drawn = hand(left)
    return tuple(replace(p if side == drawn or kind == "two" else _other_hand(p), name=f"{left.name} {side}", cut=cut)
                 for side, p in ((LEFT, left), (RIGHT, right)))


def _other_hand(piece: Piece) -> Piece:
    up = piece.grain.end - piece.grain.start if piece.grain else 1j
    middle = _centre(piece)
    return piece.mirrored(middle, middle + up)


def _opened_out(left: Piece, right: Piece) -> Piece:
    """Half of the piece from each side, joined along the fold."""
    drawn = hand(left)
    kept, turned = (left, right) if drawn == LEFT else (right, left)
    fold, other = _fold(kept), _fold(turned)
    miss = abs(other.path.end - other.path.start) - abs(fold.path.end - fold.path.start)
    if abs(miss) > FOLD_SLACK:
        raise AlterationError(f'The two halves of "{left.name}" would differ by {show_both(abs(miss))} along the fold; '
                              "an alteration that changes the centre has to be made on both sides alike.")
    twin = turned.mirrored(other.path.start, other.path.end)
    place = _onto(_fold(twin).path, fold.path.reversed())
    twin = twin.mapped(place)
    a, b = _without(kept, fold.name, drawn), _without(twin, fold.name, LEFT if drawn == RIGHT else RIGHT)
    edges = (*a.edges, *_meeting(a.edges, b.edges))
    line = InnerLine(fold.name, fold.path)
    return replace(kept, edges=edges, darts=(*a.darts, *b.darts), notches=(*a.notches, *b.notches),
                   landmarks=(*a.landmarks, *b.landmarks), lines=(line, *a.lines, *b.lines),
                   cut=Cut(kept.cut.count, False, kept.cut.cloth))


def _fold(piece: Piece) -> Edge:
    return next(e for e in piece.edges if e.kind is EdgeKind.FOLD)


def _onto(path: Path, goal: Path) -> Affine:
    """The rigid move that lays the start of one line on that of another, in its direction."""
    turn = (goal.end - goal.start) / (path.end - path.start)
    turn /= abs(turn)
    return Affine(turn, 0j, goal.start - turn * path.start)


@dataclass(frozen=True, slots=True)
class _Half:
    """The open run of edges of a half, and its marks, under names that tell the side."""

    edges: tuple[Edge, ...]
    darts: tuple[Dart, ...]
    notches: tuple[Notch, ...]
    landmarks: tuple[Landmark, ...]
    lines: tuple[InnerLine, ...]


def _without(piece: Piece, fold: str, side: str) -> _Half:
    i = [e.name for e in piece.edges].index(fold)
    run = (*piece.edges[i + 1:], *piece.edges[:i])
    return _Half(tuple(replace(e, name=f"{e.name} {side}") for e in run),
                 tuple(replace(d, name=f"{d.name} {side}", edge=f"{d.edge} {side}") for d in piece.darts),
                 tuple(replace(n, edge=f"{n.edge} {side}") for n in piece.notches if n.edge != fold),
                 tuple(replace(m, name=f"{m.name} {side}") for m in piece.landmarks),
                 tuple(replace(m, name=f"{m.name} {side}") for m in piece.lines))


def _meeting(first: Sequence[Edge], second: Sequence[Edge]) -> tuple[Edge, ...]:
    """The second run with its two ends exactly on those of the first."""
    run = list(second)
    run[0] = replace(run[0], path=run[0].path.with_ends(start=first[-1].path.end))
    run[-1] = replace(run[-1], path=run[-1].path.with_ends(end=first[0].path.start))
    return tuple(run)


# -- seams ------------------------------------------------------------------------------------------


def _either(one: tuple[float, float], other: tuple[float, float]) -> tuple[float, float]:
    """The ease that is allowed on one side of her or on the other."""
    return min(one[0], other[0]), max(one[1], other[1])


def _seams(seam: Seam, kinds: Mapping[str, str], hands: Mapping[str, str]) -> tuple[Seam, ...]:
    """The seam as it is; or twice, once for each side; or, where a whole piece goes round both sides, once in all."""
    names = {r.piece for r in (*seam.a, *seam.b)}
    parts = {n for n in names if kinds.get(n) in ("fold", "pair", "two")}
    if not parts:
        return (seam,)
    if _twice(seam.a) or _twice(seam.b):
        return (replace(seam, a=_alternate(seam.a, parts, kinds, hands), b=_alternate(seam.b, parts, kinds, hands)),)
    return tuple(replace(seam, name=f"{seam.name}, {side}",
                         a=tuple(_ref(r, side, parts, kinds, hands) for r in seam.a),
                         b=tuple(_ref(r, side, parts, kinds, hands) for r in seam.b)) for side in SIDES)


def _twice(refs: Sequence[EdgeRef]) -> bool:
    """Does a run go round both of her sides: the same edge there and back?"""
    return any(r.times > 1 for r in refs) or len({(r.piece, r.edge) for r in refs}) < len(refs)


def _alternate(refs: Sequence[EdgeRef], parts: Collection[str], kinds: Mapping[str, str],
               hands: Mapping[str, str]) -> tuple[EdgeRef, ...]:
    """A run round both sides: the first time that a piece comes it is that of one side, then that of the other."""
    seen: dict[tuple[str, str], int] = {}
    found = []
    for ref in refs:
        for _ in range(ref.times):
            k = seen[ref.piece, ref.edge] = seen.get((ref.piece, ref.edge), -1) + 1
            found.append(_ref(replace(ref, times=1), SIDES[k % 2], parts, kinds, hands))
    return tuple(found)


def _ref(ref: EdgeRef, side: str, parts: Collection[str], kinds: Mapping[str, str],
         hands: Mapping[str, str]) -> EdgeRef:
    if ref.piece not in parts:
        return ref
    turned = ref.reverse is not (side != hands[ref.piece] and kinds[ref.piece] != "two")
    if kinds[ref.piece] == "fold":
        return replace(ref, edge=f"{ref.edge} {side}", reverse=turned)
    return replace(ref, piece=f"{ref.piece} {side}", reverse=turned)
