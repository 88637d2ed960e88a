"""Girths of a garment laid flat, half a piece counted twice, darts closed, overlaps left out (mm)."""

from __future__ import annotations

from collections.abc import Sequence

from toilewright.fit.flat.laid import HIP_DEPTH, Laid, Read, girth, level_of, side_of_centre, times, wrap_centre
from toilewright.fit.levels import bust_width, first_of, width_at
from toilewright.known import Origin
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

HIGH_HIP_SHARE = 0.5
"""Of the way from waist to hip; where the high hip is when no line shows it (a hand's breadth under the waist; common
practice, no published source)."""

HAIR = 1e-3
"""mm; a level at a corner only touches the outline there, so it is taken a hair beside it."""


def bust(laid: Laid) -> Read | None:
    """Over the bust point."""
    levels, origin = laid.levels
    parts = [(p, bust_width(p, levels[p.name])) for p in laid.bodice if p.name in levels]
    if origin is None:
        return girth(parts, "at the underarm (no bust point is drawn), across the grain", spread=5.0)
    words = "at the bust point" if origin is Origin.READ else "at the bust point as the bust dart tells it"
    return girth(parts, f"{words}, across the grain", origin, 0.0 if origin is Origin.READ else 3.0)


def waist(laid: Laid) -> Read | None:
    """Along the waist seam, or at the waist line of a garment without one."""
    bodice = laid.bodice
    seamed = [(p, waist_seam(laid.garment, p)) for p in bodice if p.has_edge("waist")]
    if seamed and len(seamed) == len(bodice):
        return girth(seamed, "along the waist seam, darts closed,")
    lined = [(p, level_of(p, "waist line")) for p in bodice]
    if lined and all(level is not None for _, level in lined):
        return girth([(p, width_at(p, level)) for p, level in lined if level is not None],
                     "at the waist line, across the grain, darts closed,")
    return None if bodice else _skirt_waist(laid.garment, laid.skirt)


def wrap_waist(laid: Laid) -> Read | None:
    """Of a wrap skirt, without its overlap."""
    return _skirt_waist(laid.garment, laid.wrap)


def _skirt_waist(garment: Garment, skirt: Sequence[Piece]) -> Read | None:
    return girth([(p, waist_seam(garment, p)) for p in skirt],
                 "along the waist seam, darts closed and overlap left out,")


def waist_seam(garment: Garment, piece: Piece) -> float:
    """Sewn length of the waist from the centre to the side; gathers drawn up (mm)."""
    edge = piece.edge("waist").path
    length = piece.sewn_length("waist")
    centre = wrap_centre(piece)
    if centre is not None:
        at = edge.nearest(centre)[0]
        side = first_of(piece, "side waist")
        done = piece.sewn_at("waist", at)
        length = done if abs(edge.start - side) < abs(edge.end - side) else length - done
    ratio = next((s.ratio for s in garment.seams if s.ratio and any(
        r.piece == piece.name and r.edge == "waist" for r in s.b)), 1.0)
    return length / ratio


def hip(laid: Laid) -> Read | None:
    """At the hip line; of a dress in one its own, else the skirt's."""
    whole = tuple(p for p in laid.bodice if p.line("hip line") is not None)
    return _below(laid, whole or laid.skirt, ("hip line",), 1.0)


def high_hip(laid: Laid) -> Read | None:
    """At the high hip line, or half way from the waist to the hip."""
    whole = tuple(p for p in laid.bodice if p.line("hip line") is not None and p.line("waist line") is not None)
    return _below(laid, whole or laid.skirt, ("high hip line",), HIGH_HIP_SHARE)


def wrap_hip(laid: Laid) -> Read | None:
    """Of a wrap skirt, without its overlap."""
    return _below(laid, laid.wrap, ("hip line",), 1.0)


def _below(laid: Laid, pieces: Sequence[Piece], lines: tuple[str, ...], share: float) -> Read | None:
    """At a line, else at that share of the way from the waist down to the hip."""
    parts, words, origin, spread = [], f"at the {lines[0]}", Origin.READ, 0.0
    for piece in pieces:
        level = level_of(piece, *lines)
        if level is None:
            top = hip_top(piece)
            drawn = level_of(piece, "hip line")
            deep = top - drawn if drawn is not None else HIP_DEPTH if laid.depth is None else laid.depth
            level, words, spread = top - share * deep, f"{share * deep / 10:.1f} cm below the waist", 5.0
            if laid.depth is None and drawn is None:
                origin = Origin.TRADE
        parts.append((piece, width_at(piece, level, side_of_centre(piece))))
    return girth(parts, f"{words}, across the grain,", origin, spread)


def hip_top(piece: Piece) -> float:
    """Height of the waist, from which the hip is counted, on an upright piece (mm)."""
    line = level_of(piece, "waist line")
    return first_of(piece, "centre waist", "side waist").imag if line is None else line


# -- arm and leg -------------------------------------------------------------------------------------


def upper_arm(laid: Laid) -> Read | None:
    """At the upper arm line, else where the cap begins."""
    sleeve = laid.sleeve
    if sleeve is None:
        return None
    level = level_of(sleeve, "upper arm line", "biceps line")
    if level is None:
        cap = sleeve.edge("cap").path
        level = min(cap.start.imag, cap.end.imag)
    return girth([(sleeve, width_at(sleeve, level - HAIR))], "at the biceps line, across the grain,")


def elbow(laid: Laid) -> Read | None:
    """At the elbow line of a sleeve."""
    level = level_of(laid.sleeve, "elbow line") if laid.sleeve else None
    if laid.sleeve is None or level is None:
        return None
    return girth([(laid.sleeve, width_at(laid.sleeve, level))], "at the elbow line, across the grain,")


def wrist(laid: Laid) -> Read | None:
    """Along the hem of a sleeve that goes on below the elbow."""
    sleeve = laid.sleeve
    if sleeve is None or sleeve.line("elbow line") is None or not sleeve.has_edge("hem"):
        return None
    return girth([(sleeve, sleeve.sewn_length("hem"))], "along the hem")


def _one(piece: Piece) -> int:
    """One leg takes each piece once."""
    return 1


def _leg(laid: Laid, where: str, *lines: str) -> Read | None:
    at = [(p, level_of(p, *lines)) for p in laid.legs]
    if len(at) < 2 or any(level is None for _, level in at):
        return None
    return girth([(p, width_at(p, level - HAIR)) for p, level in at if level is not None],
                 f"at the {where} of one leg, across the grain,", count=_one)


def thigh(laid: Laid) -> Read | None:
    """One leg, just under the crotch."""
    return _leg(laid, "crotch line", "thigh line", "crotch line")


def knee(laid: Laid) -> Read | None:
    """One leg, at the knee line."""
    return _leg(laid, "knee line", "knee line")


def calf(laid: Laid) -> Read | None:
    """One leg, at the calf line."""
    return _leg(laid, "calf line", "calf line")


def hem_width(laid: Laid) -> Read | None:
    """Round the hem of a skirt, or of one leg."""
    if laid.legs:
        return girth([(p, p.sewn_length("hem")) for p in laid.legs], "along the hem of one leg", count=_one)
    pieces = laid.skirt or tuple(p for p in laid.bodice if p.has_edge("hem"))
    return girth([(p, p.sewn_length("hem")) for p in pieces], "along the hem", count=times)
