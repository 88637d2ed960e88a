"""The sleeve follows its armhole: its head at the underarm corners, and the mark of the shoulder point."""

from __future__ import annotations

from dataclasses import replace

from toilewright.errors import Finding, Severity
from toilewright.fit.follow.seams import difference, grown, neighbours
from toilewright.fit.moves.edges import ends_at, match_length
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

MOST = 15.0
"""mm in all that a sleeve may be let out or taken in at its underarm; more changes how it hangs (our own choice)."""


def let_head_out(before: Garment, after: Garment, seam: Seam) -> tuple[Garment, tuple[Finding, ...]]:
    """The sleeve head as much longer than its armhole as it was: each underarm corner goes out by what its half gained.

    What would take more than :data:`MOST` is left, and told.
    """
    armholes, heads = (seam.a, seam.b) if seam.b[0].edge == "cap" else (seam.b, seam.a)
    miss = difference(after, seam) - difference(before, seam)
    missing = -miss if heads is seam.b else miss
    if len(heads) != 1:
        return after, ()
    head = heads[0]
    if abs(grown(before, after, head)) + abs(missing) > MOST:
        ease = abs(difference(after, seam))
        return after, (Finding(
            "sleeve-head", f"The armhole is now {show_both(abs(missing))} {'larger' if missing > 0 else 'smaller'} "
            f'against the sleeve head, whose ease comes to {show_both(ease)}; "upper arm" or "sleeve head height" '
            f"would bring back what it was ({show_both(abs(difference(before, seam)))}).", Severity.LOOK, head.piece,
            "cap", asked=missing),)
    first, last = _halves(before, after, armholes, missing)
    sleeve = after.piece(head.piece)
    corners = neighbours(sleeve, head.edge)
    for by, corner in zip((first, last), corners[::-1] if head.reverse else corners, strict=True):
        if abs(by) > 1e-6:
            sleeve = match_length(sleeve, head.edge, corner, sleeve.sewn_length(head.edge) + by)
    return after.with_piece(sleeve), ()


def _halves(before: Garment, after: Garment, armholes: tuple[EdgeRef, ...], missing: float) -> tuple[float, float]:
    """What is missing at the start of the seam and at its end, by what each half of the armhole has gained."""
    whole = sum(before.piece(r.piece).sewn_length(r.edge) for r in armholes)
    gains, done = [0.0, 0.0], 0.0
    for ref in armholes:
        length = before.piece(ref.piece).sewn_length(ref.edge)
        gains[done + length / 2 > whole / 2] += grown(before, after, ref)
        done += length
    # Where one half gained what the other lost (a shoulder seam that moved), only the rest is shared.
    kept = [g if g * missing > 0 else 0.0 for g in gains]
    total = sum(kept)
    return (missing * kept[0] / total, missing * kept[1] / total) if total else (missing / 2, missing / 2)


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
