"""Waistband, collar, cuff: straight bands opened (or lapped) where the piece they are sewn to has grown."""

from __future__ import annotations

from collections.abc import Collection

from toilewright.fit.follow.seams import grown, neighbours
from toilewright.fit.frame import CENTRES
from toilewright.fit.moves.edges import ends_at
from toilewright.fit.moves.opening import open_right_across
from toilewright.fit.moves.ring import Place, crossing, point_of
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.piece import Piece

BESIDE = 2.0
"""mm from a side seam at which a band is cut, so that the band's mark for the side goes along."""

_SIDES = ("side seam", "shoulder", "inseam", "underarm back", "underarm front")


def open_bands(before: Garment, after: Garment, seam: Seam, moved: Collection[str]) -> Garment:
    """A band sewn along several edges, cut across beside the corners that moved, and opened (or lapped) there."""
    for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a)):
        if len(theirs) != 1 or theirs[0].piece in moved:
            continue
        band = after.piece(theirs[0].piece)
        if any(band.has_edge(s) for s in _SIDES) or band.darts:
            continue
        length = before.piece(band.name).edge(theirs[0].edge).path.length
        places = [(length - at if theirs[0].reverse else at, by) for at, by in _openings(before, after, mine)]
        for at, by in sorted(places, reverse=True):  # the last one first: those before it stay where they are
            band = _opened(band, theirs[0].edge, at, by)
        return after if band is after.piece(band.name) else after.with_piece(band)
    return after


def _openings(before: Garment, after: Garment, refs: tuple[EdgeRef, ...]) -> list[tuple[float, float]]:
    """Where along the seam something has grown, just beside its side, and by how much (mm)."""
    found, done = [], 0.0
    for ref in refs:
        piece = before.piece(ref.piece)
        length, by = piece.sewn_length(ref.edge), grown(before, after, ref)
        for _ in range(ref.times):
            if abs(by) > 1e-6:
                beside = BESIDE + max(0.0, -by) / 2
                side_last = ends_at(piece, ref.edge, _side(piece, ref.edge)) != ref.reverse
                found.append((done + (length - beside if side_last else beside), by))
            done += length
    return found


def _side(piece: Piece, edge: str) -> str:
    """The neighbour of an edge at which it grows: a side seam or shoulder, never the centre if that can be helped."""
    beside = neighbours(piece, edge)
    return next((s for s in _SIDES if s in beside), next((n for n in beside if n not in CENTRES), beside[0]))


def _opened(band: Piece, edge: str, at: float, by: float) -> Piece:
    path = band.edge(edge).path
    if not BESIDE / 2 < at < path.length - BESIDE / 2:  # it was no match before; the walk of its seam says so
        return band
    here, along = path.point_at(at), path.tangent_at(at)
    names = [e.name for e in band.edges]
    across = next((c for n in names if n != edge for c in [crossing(band, n, here, along * 1j)]
                   if c is not None and abs(point_of(band, c) - here) > 1.0), None)
    if across is None:
        return band
    return open_right_across(band, Place(edge, at), across, by, names[names.index(edge) - 1], along)[0]
