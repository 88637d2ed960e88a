"""Partners follow: what is sewn to an altered edge is altered with it, or eased onto it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from toilewright.fit.frame import CENTRES
from toilewright.fit.moves.edges import (
    Redrawn,
    corner,
    ends_at,
    match_length,
    redraw_across,
    redraw_edge,
    run_on,
    shift_end,
    towards,
)
from toilewright.fit.moves.ring import Place, crossing, point_of
from toilewright.fit.moves.slash import slash_parallel
from toilewright.geometry.affine import Affine
from toilewright.pattern.garment import EdgeRef, Garment
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.piece import Piece

BESIDE = 2.0
"""mm from a side seam at which a band is cut, so that the band's mark for the side goes along."""


def allow_ease(garment: Garment, piece: str, edge: str, grown: float) -> Garment:
    """The seam of an edge that has grown by `grown` mm and is eased onto its partner: it may now be so much longer."""
    def on(refs: tuple[EdgeRef, ...]) -> bool:
        return any(r.piece == piece and r.edge == edge for r in refs)

    def eased(seam: tuple[float, float], sign: float) -> tuple[float, float]:
        return seam[0] + min(sign * grown, 0.0), seam[1] + max(sign * grown, 0.0)

    return replace(garment, seams=tuple(
        replace(s, ease=eased(s.ease, -1.0 if on(s.a) else 1.0)) if on(s.a) or on(s.b) else s for s in garment.seams))


def opposite(garment: Garment, piece: str, edge: str) -> tuple[EdgeRef, ...]:
    """For each seam of an edge, the edge that lies against it: the one at the same place in a run of as many edges."""
    found = []
    for seam in garment.seams:
        for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a)):
            if len(mine) == len(theirs):
                found += [t for m, t in zip(mine, theirs, strict=True) if m.piece == piece and m.edge == edge]
    return tuple(found)


def turn_facing(garment: Garment, bodice: Piece, angle: float, longer: float = 0.0) -> Garment:
    """The neck facing's shoulder turned about its neck point as far as the bodice's shoulder was (radians).

    Args:
        bodice: the piece as it was, so that a facing of the other hand turns the other way.
        longer: mm by which the bodice's neck has grown at the shoulder; the facing's grows with it.
    """
    for ref in opposite(garment, bodice.name, "neck"):
        facing = garment.piece(ref.piece)
        if not (facing.has_edge("shoulder") and facing.has_edge(ref.edge)):
            continue
        same_hand = ends_at(facing, ref.edge, "shoulder") == ends_at(bodice, "neck", "shoulder")
        here = corner(facing, "shoulder", ref.edge)
        turned = Affine.turn(angle if same_hand else -angle, here)
        neck = []
        if longer:
            neck = [run_on(facing, ref.edge, "shoulder", longer)]
            ends = neck[0].path.end, neck[0].path.start
            turned = turned.then(Affine.shift((ends[0] if ends_at(facing, ref.edge, "shoulder") else ends[1]) - here))
        names = [e.name for e in facing.edges]
        i = names.index("shoulder")
        outer = next(n for n in (names[i - 1], names[(i + 1) % len(names)]) if n != ref.edge)
        path = facing.edge("shoulder").path
        drawn = Redrawn("shoulder", path.mapped(turned), (0.0, path.length), (0.0, path.length))
        garment = garment.with_piece(redraw_edge(
            facing, drawn, shift_end(facing, outer, "shoulder", turned), *neck))
    return garment


def move_cap_notch(garment: Garment, front: str, by: float) -> Garment:
    """The sleeve head's shoulder point moved towards the front by `by` mm along the cap."""
    for seam in garment.seams:
        refs = (*seam.a, *seam.b)
        if not any(r.piece == front and r.edge == "armhole" for r in refs):
            continue
        for ref in refs:
            sleeve = garment.piece(ref.piece)
            mark = next((n for n in sleeve.notches if n.name == "shoulder point" and n.edge == ref.edge), None)
            if mark is not None:
                at = mark.at + by * _towards_front(sleeve, ref.edge, mark.at)
                spot = sleeve.edge(ref.edge).path.point_at(at)
                garment = garment.with_piece(replace(
                    sleeve,
                    notches=tuple(replace(n, at=at) if n is mark else n for n in sleeve.notches),
                    landmarks=tuple(replace(m, at=spot) if m.name == mark.name else m for m in sleeve.landmarks)))
    return garment


def _towards_front(sleeve: Piece, cap: str, at: float) -> float:
    """+1 when the front of the sleeve lies towards the end of the cap, else -1."""
    front = next((n.at for n in sleeve.notches if n.name == "front notch" and n.edge == cap), None)
    if front is not None:
        return 1.0 if front > at else -1.0
    if sleeve.has_edge("underarm front"):
        return 1.0 if ends_at(sleeve, cap, "underarm front") else -1.0
    return 1.0


def grow_bands(before: Garment, after: Garment, edge: str, side: str, grown: Mapping[str, float]) -> Garment:
    """Straight bands sewn along several pieces, cut across beside the corners that moved, and opened (or lapped) there.

    Args:
        before: the garment in which band and pieces still match.
        edge: the edges of the pieces that the band is sewn to.
        side: the edge at whose corner they have grown.
        grown: by piece, how much (mm).
    """
    for seam in before.seams:
        for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a)):
            if len(theirs) != 1 or not any(r.edge == edge and r.piece in grown for r in mine):
                continue
            band = after.piece(theirs[0].piece)
            if band.has_edge(side) or band.darts:
                continue
            for at, by in sorted(_openings(before, mine, side, grown), reverse=True):
                length = before.piece(band.name).edge(theirs[0].edge).path.length
                band = _opened(band, theirs[0].edge, length - at if theirs[0].reverse else at, by)
            after = after.with_piece(band)
    return after


def _openings(before: Garment, refs: tuple[EdgeRef, ...], side: str, grown: Mapping[str, float],
              ) -> list[tuple[float, float]]:
    """Where along the seam something has grown, just beside the side, and by how much (mm)."""
    found, done = [], 0.0
    for ref in refs:
        piece = before.piece(ref.piece)
        length = piece.sewn_length(ref.edge)
        for _ in range(ref.times):
            if ref.piece in grown:
                by = grown[ref.piece]
                beside = BESIDE + max(0.0, -by) / 2
                side_last = ends_at(piece, ref.edge, side) != ref.reverse
                found.append((done + (length - beside if side_last else beside), by))
            done += length
    return found


def _opened(band: Piece, edge: str, at: float, by: float) -> Piece:
    path = band.edge(edge).path
    here, along = path.point_at(at), path.tangent_at(at)
    names = [e.name for e in band.edges]
    across = next((c for n in names if n != edge for c in [crossing(band, n, here, along * 1j)]
                   if c is not None and abs(point_of(band, c) - here) > 1.0), None)
    if across is None:
        return band
    opened = slash_parallel(band, Place(edge, at), across, along * by, names[names.index(edge) - 1])
    band = opened.piece
    for name, old in ((edge, at), (across.edge, across.at)):
        gap = opened.at(name, old), opened.at(name, old, after=True)
        band = redraw_edge(band, redraw_across(band, name, *gap))
    return band


def follow_gathers(before: Garment, after: Garment, edge: str) -> Garment:
    """What is gathered onto an edge that has grown grows with it, at the ratio of its seam, at its outer side."""
    for seam in before.seams:
        if not seam.ratio or not any(r.edge == edge for r in seam.a):
            continue
        grown = [(after.piece(r.piece).sewn_length(r.edge) - before.piece(r.piece).sewn_length(r.edge)) * r.times
                 for r in seam.a]
        if sum(map(abs, grown)) < 1e-6:
            continue
        paired = len(seam.a) == len(seam.b) and len({r.piece for r in seam.b}) == len(seam.b)
        for i, ref in enumerate(seam.b):
            if any(r.piece == ref.piece for r in seam.b[:i]):
                continue
            share = grown[i] / ref.times if paired else sum(grown) / sum(r.times for r in seam.b)
            after = after.with_piece(_widened(after.piece(ref.piece), ref.edge, share * seam.ratio))
    return after


def _widened(piece: Piece, top: str, by: float) -> Piece:
    """A tier or frill wider by `by` mm: the side that is not at its centre moves out, along its top."""
    names = [e.name for e in piece.edges]
    beside = [piece.edge(n) for n in (names[names.index(top) - 1], names[(names.index(top) + 1) % len(names)])]
    side = next((e.name for e in beside if e.kind is not EdgeKind.FOLD and e.name not in CENTRES), beside[0].name)
    move = Affine.shift(towards(piece, top, side).end_tangent * by)
    path = piece.edge(side).path
    drawn = [Redrawn(side, path.mapped(move), (0.0, path.length), (0.0, path.length))]
    drawn += [shift_end(piece, n, side, move) for n in (names[names.index(side) - 1],
                                                        names[(names.index(side) + 1) % len(names)])]
    return redraw_edge(piece, *drawn)


def even(garment: Garment, one: tuple[str, str, str], other: tuple[str, str, str], before: float) -> Garment:
    """Two partner edges made to differ as they did before, half of what is missing on each.

    Args:
        one, other: piece, edge, and the edge at the corner that slides.
        before: length of the other minus length of the one, as it should be (mm).
    """
    a, b = garment.piece(one[0]), garment.piece(other[0])
    miss = (b.sewn_length(other[1]) - a.sewn_length(one[1]) - before) / 2
    if abs(miss) < 0.005:
        return garment

    a = match_length(a, one[1], one[2], a.sewn_length(one[1]) + miss)
    b = match_length(b, other[1], other[2], b.sewn_length(other[1]) - miss)
    return garment.with_piece(a).with_piece(b)


