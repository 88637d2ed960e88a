"""Wrap skirt, front and back: our own draft.

Drawn like the A-line skirt (see :mod:`toilewright.blocks.skirt`), but on a waist of its own. Each front is a full
front panel: it runs from its side seam across the centre and on to the wrap's edge, so that the two fronts lie over
each other from edge to edge. To cover when seated, a wrap skirt asks an overlap of a third to a half of the waist
(common practice, no published source); ours is 0.38 of it, half of it beyond the centre on each front.
"""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.blocks.draft import Measures, dart_width, measure
from toilewright.blocks.skirt import Half, pair_of_lines, panel
from toilewright.pattern.parts import Cut, Edge, EdgeKind, Notch
from toilewright.pattern.piece import Piece


@dataclass(frozen=True, slots=True)
class WrapEase:
    """Ease at waist and hip (mm, whole girth), overlap as a share of the waist, length as a share of the waist's
    height, lean of the side seam (degrees)."""

    waist: float = 16.0
    hip: float = 80.0
    overlap: float = 0.38
    length: float = 0.64
    flare: float = 6.0


def draft_wrap_skirt(body: Measures, ease: WrapEase | None = None) -> tuple[Piece, Piece]:
    """Wrap skirt front (cut as a pair) and back (on the fold).

    Args:
        body: measures by ISO 8559-1 name (mm).

    Raises:
        InputError: a measure is missing.
    """
    ease = ease or WrapEase()
    waist_girth = measure(body, "waist girth")
    front, back = pair_of_lines(
        _half(body, ease, 5.0, 0.30, 95.0, ease.overlap / 2 * waist_girth), _half(body, ease, -5.0, 0.40, 125.0, 0.0))
    hem = (EdgeKind.HEM, 35.0)
    at_centre = Notch("centre notch", "waist", front.waist.length - front.half.beyond)
    return (panel("wrap skirt front", front, Edge("wrap edge", front.centre, EdgeKind.OPENING, 30.0), hem, (at_centre,),
                  Cut(2, mirrored=True)),
            panel("wrap skirt back", back, Edge("centre back", back.centre, EdgeKind.FOLD, 0.0), hem))


def _half(body: Measures, ease: WrapEase, more: float, dart_share: float, dart_depth: float, beyond: float) -> Half:
    waist = (measure(body, "waist girth") + ease.waist) / 4 + more
    hip = (measure(body, "hip girth") + ease.hip) / 4
    width = dart_width(dart_share, hip - waist)
    return Half(0.45 * waist, 0.55 * waist, width, dart_depth, hip, measure(body, "waist to hip"),
                ease.length * measure(body, "waist height"), ease.flare, beyond)
