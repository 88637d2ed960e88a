"""Lengths of a skirt or of trousers laid flat (mm)."""

from __future__ import annotations

from toilewright.fit.flat.laid import HIP_DEPTH, Laid, Read, length, level_of, wrap_centre
from toilewright.fit.flat.round import hip_top
from toilewright.fit.levels import centre_edge, fronts_first, place, width_at
from toilewright.pattern.piece import Piece


def waist_to_hip(laid: Laid) -> Read | None:
    """Straight down at the centre, from the waist to the hip line."""
    for piece in fronts_first((*laid.skirt, *laid.wrap, *laid.bodice)):
        level = level_of(piece, "hip line")
        if level is not None:
            return length(hip_top(piece) - level, "straight down from the waist to the hip line", piece)
    return None


def skirt_length(laid: Laid) -> Read | None:
    """Down the centre from the waist to the hem."""
    for piece in (*(p for p in laid.skirt if not p.has_edge("inseam")), *laid.wrap):
        centre = centre_edge(piece)
        if centre is not None:
            return length(piece.sewn_length(centre), "along the centre", piece)
    return None


def crotch_depth(laid: Laid) -> Read | None:
    """Straight down from the side waist to the level of the crotch point."""
    for piece in laid.legs:
        side, level = place(piece, "side waist"), _crotch_level(piece)
        if side is not None and level is not None:
            return length(side.imag - level, "from the side waist down to the crotch line", piece)
    return None


def _crotch_level(piece: Piece) -> float | None:
    drawn = piece.landmark("crotch point")
    return drawn.imag if drawn is not None else level_of(piece, "crotch line")


def crotch_length(laid: Laid, side: str) -> Read | None:
    """Along the crotch seam from the waist to the crotch point, front or back."""
    return _along(laid, side, "crotch seam")


def whole_crotch(laid: Laid) -> Read | None:
    """Along both crotch seams, from the waist in front to the waist behind."""
    both = [p for p in laid.legs if p.has_edge("crotch seam")]
    if len(both) != 2:
        return None
    return length(sum(p.sewn_length("crotch seam") for p in both), "along the crotch seams", *both)


def inside_leg(laid: Laid) -> Read | None:
    """Along the inseam."""
    return _along(laid, "front", "inseam") or _along(laid, "back", "inseam")


def outside_leg(laid: Laid) -> Read | None:
    """Along the side seam from the waist to the hem."""
    return _along(laid, "front", "side seam") or _along(laid, "back", "side seam")


def _along(laid: Laid, side: str, edge: str) -> Read | None:
    piece = next((p for p in laid.legs if side in p.name and p.has_edge(edge)), None)
    return length(piece.sewn_length(edge), f"along the {edge}", piece) if piece else None


# -- a wrap ------------------------------------------------------------------------------------------

KNEE_BELOW_WAIST = 580.0
"""mm; where the knee is when nobody says (common practice, no published source)."""


def overlap(laid: Laid, where: str) -> Read | None:
    """How far the ends of a wrap lie over each other at waist, hip or knee: twice what reaches beyond the centre."""
    piece = next((p for p in laid.wrap if wrap_centre(p) is not None), None)
    centre, side = (wrap_centre(piece), place(piece, "side waist")) if piece else (None, None)
    if piece is None or centre is None or side is None:
        return None
    beyond = ((float("-inf"), centre.real) if side.real > centre.real else (centre.real, float("inf")))
    if where == "waist":
        at = piece.edge("waist").path.nearest(centre)[0]
        done = piece.sewn_at("waist", at)
        first = abs(piece.edge("waist").path.start - side) < abs(piece.edge("waist").path.end - side)
        reach = piece.sewn_length("waist") - done if first else done
    else:
        level = level_of(piece, f"{where} line")
        if level is None:
            deep = KNEE_BELOW_WAIST if where == "knee" else HIP_DEPTH if laid.depth is None else laid.depth
            level = centre.imag - deep
        reach = width_at(piece, level, beyond)
    return length(2 * reach, f"beyond the centre at the {where}, both ends together,", piece) if reach > 0 else None
