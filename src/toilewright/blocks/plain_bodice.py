"""Loose bodice to the hip without darts, front and back: our own draft.

The draft, in words. Neck, shoulders and armholes are those of the fitted bodice, the armhole deeper. A quarter of the
bust and of a loose ease lies at the underarm; from there the side seam runs straight to a quarter of the hip and its
ease at the hip line and on to the hem. Front and back have one side seam, underarm and hem, so that they match by
construction. What the front is longer over the bust has no dart to go into: two fifths of it stay in the front's
length, the rest is let go, which is why such a bodice must be loose.

A dress is loose with 5 to 8 in of ease at the bust (from memory, many envelopes); ours has 6 3/4.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from toilewright.blocks.bodice_lines import (
    NECK_SHARE,
    UNDERARM_SHARE,
    BodiceEase,
    Half,
    armhole_line,
    back_half,
    bust_point_of,
    front_half,
    neck_line,
)
from toilewright.blocks.draft import SEAM, Measures, level_line, measure, upright, way
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, unit
from toilewright.pattern.parts import Cut, Edge, EdgeKind, Landmark, Notch
from toilewright.pattern.piece import Piece

HEM_DEPTH = 30.0
"""mm; turned up at the hem."""


@dataclass(frozen=True, slots=True)
class PlainEase:
    """Ease at bust and hip (mm, whole girth), depth of the armhole, length below the hip line, share of the front's
    greater length that stays in it."""

    bust: float = 172.0
    hip: float = 120.0
    armhole_depth: float = 32.0
    below_hip: float = 60.0
    front_length: float = 0.4


def draft_plain_bodice(body: Measures, ease: PlainEase | None = None) -> tuple[Piece, Piece]:
    """Front (on the fold) and back (cut as a pair, opening at the centre back).

    Args:
        body: measures by ISO 8559-1 name (mm).
        ease: how much larger than the body.

    Raises:
        InputError: a measure is missing.
        GeometryError: the measures do not go together.
    """
    ease = ease or PlainEase()
    fitted = BodiceEase(bust=ease.bust, armhole_depth=ease.armhole_depth, back_shoulder=4.0)
    behind = back_half(body, fitted)
    ahead = _balanced(front_half(body, fitted), behind, ease.front_length)
    bust_point = bust_point_of(body, ahead)
    hip_y = -measure(body, "waist to hip")
    at_hip = complex((measure(body, "hip girth") + ease.hip) / 4, hip_y)
    underarm = complex((measure(body, "bust girth") + ease.bust) / 4, behind.underarm_y)
    hem = at_hip + (at_hip - underarm) * (ease.below_hip / (underarm.imag - hip_y))
    side = Path.line(hem, underarm)
    levels = (("bust line", bust_point.imag), ("waist line", 0.0), ("hip line", hip_y),
              ("lengthen or shorten", 0.4 * bust_point.imag))
    front = _piece("front", ahead, side, levels, 1)
    return (replace(front, landmarks=(Landmark("bust point", bust_point), *front.landmarks)),
            _piece("back", behind, side, levels, 2))


def _balanced(front: Half, back: Half, stays: float) -> Half:
    """The front let down until only a share of its greater length is left, its underarm level with the back's."""
    down = 1j * (1 - stays) * (front.neck.imag - back.neck.imag)
    tip = front.tip - down
    rise = 0.44 * (tip.imag - back.underarm_y)
    return replace(front, centre_neck=front.centre_neck - down, neck=front.neck - down, tip=tip,
                   pitch=complex(front.pitch.real, back.underarm_y + rise), underarm_y=back.underarm_y)


def _piece(which: str, half: Half, side: Path, levels: tuple[tuple[str, float], ...], count: int) -> Piece:
    ahead = which == "front"
    share = 1 if ahead else -1
    armhole = armhole_line(half, side.end, unit(side.end - side.start) * way(90 - share * UNDERARM_SHARE))
    neck = neck_line(half, share * NECK_SHARE, *((0.52, 0.60) if ahead else (1.00, 0.60)))
    centre = Path.line(half.centre_neck, complex(0, side.start.imag))
    side_waist = level_line("", side, side, 0.0).path.start
    marks: tuple[tuple[str, Point], ...] = (
        *(() if ahead else (("nape", half.centre_neck),)), ("neck point", half.neck), ("shoulder tip", half.tip),
        ("underarm", side.end), ("centre waist", 0j), ("side waist", side_waist))
    return Piece(
        f"bodice {which}",
        (Edge(f"centre {which}", centre, *((EdgeKind.FOLD, 0.0) if ahead else (EdgeKind.OPENING, 20.0))),
         Edge("hem", Path.line(centre.end, side.start), EdgeKind.HEM, HEM_DEPTH),
         Edge("side seam", side, allowance=SEAM), Edge("armhole", armhole, allowance=SEAM),
         Edge("shoulder", Path.line(half.tip, half.neck), allowance=SEAM), Edge("neck", neck, allowance=SEAM)),
        (),
        (Notch(f"{which} notch", "armhole", 0.42 * armhole.length, count),
         Notch("side notch", "side seam", abs(side_waist - side.start))),
        upright(0.3 * side.start.real, side.start.imag + 60.0, half.underarm_y + 40.0),
        tuple(Landmark(name, at) for name, at in marks),
        tuple(level_line(name, centre, side, y) for name, y in levels),
        Cut() if ahead else Cut(2, mirrored=True))
