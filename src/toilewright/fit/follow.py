"""Partners follow: what is sewn to an altered edge is altered with it, or eased onto it."""

from __future__ import annotations

from dataclasses import replace

from toilewright.fit.moves.edges import (
    Redrawn,
    corner,
    ends_at,
    match_length,
    redraw_across,
    redraw_edge,
    shift_end,
)
from toilewright.fit.moves.ring import Place, crossing
from toilewright.fit.moves.slash import slash_parallel
from toilewright.geometry.affine import Affine
from toilewright.pattern.garment import EdgeRef, Garment
from toilewright.pattern.piece import Piece


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


def turn_facing(garment: Garment, bodice: Piece, angle: float) -> Garment:
    """The neck facing's shoulder turned about its neck point as far as the bodice's shoulder was (radians).

    Args:
        bodice: the piece as it was, so that a facing of the other hand turns the other way.
    """
    for ref in opposite(garment, bodice.name, "neck"):
        facing = garment.piece(ref.piece)
        if not (facing.has_edge("shoulder") and facing.has_edge(ref.edge)):
            continue
        same_hand = ends_at(facing, ref.edge, "shoulder") == ends_at(bodice, "neck", "shoulder")
        turned = Affine.turn(angle if same_hand else -angle, corner(facing, "shoulder", ref.edge))
        names = [e.name for e in facing.edges]
        i = names.index("shoulder")
        outer = next(n for n in (names[i - 1], names[(i + 1) % len(names)]) if n != ref.edge)
        path = facing.edge("shoulder").path
        drawn = Redrawn("shoulder", path.mapped(turned), (0.0, path.length), (0.0, path.length))
        garment = garment.with_piece(redraw_edge(facing, drawn, shift_end(facing, outer, "shoulder", turned)))
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


def grow_band(garment: Garment, piece: str, edge: str, side: str, by: float) -> Garment:
    """A straight band sewn to an edge that has grown by `by` mm at its corner with `side`: cut across there and opened.

    Nothing happens where no such band is sewn on.
    """
    for seam in garment.seams:
        for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a)):
            if len(theirs) != 1 or len(mine) < 2:
                continue
            band = garment.piece(theirs[0].piece)
            if band.has_edge(side) or band.darts:
                continue
            band = _opened(garment, band, theirs[0], mine, (piece, edge, side), by)
            garment = garment.with_piece(band)
    return garment


def _opened(garment: Garment, band: Piece, ref: EdgeRef, mine: tuple[EdgeRef, ...], grown: tuple[str, str, str],
            by: float) -> Piece:
    total = sum(garment.piece(r.piece).sewn_length(r.edge) * r.times for r in mine)
    places, done = [], 0.0
    for r in mine:
        length = garment.piece(r.piece).sewn_length(r.edge) * r.times
        if (r.piece, r.edge) == grown[:2]:
            at_end = ends_at(garment.piece(r.piece), r.edge, grown[2]) != r.reverse
            places.append(done + (length - 2.0 if at_end else 2.0))
        done += length
    path = band.edge(ref.edge).path
    for share in sorted(places, reverse=True):
        at = path.length * (1 - share / total if ref.reverse else share / total)
        path = band.edge(ref.edge).path
        along = path.tangent_at(at)
        here = path.point_at(at)
        across = next((c for e in band.edges if e.name != ref.edge
                       for c in [crossing(band, e.name, here, along * 1j)] if c is not None
                       and abs(e.path.point_at(c.at) - here) > 1.0), None)
        if across is not None:
            names = [e.name for e in band.edges]
            stays = names[names.index(ref.edge) - 1]
            opened = slash_parallel(band, Place(ref.edge, at), across, along * by, stays)
            band = opened.piece
            for edge, old in ((ref.edge, at), (across.edge, across.at)):
                gap = opened.at(edge, old), opened.at(edge, old, after=True)
                band = redraw_edge(band, redraw_across(band, edge, *gap))
    return band


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


