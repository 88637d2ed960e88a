"""Fitted bodice, front and back: our own draft.

The draft, in words. Heights are taken from the waist up: the nape, the neck point in front and behind, the underarm
(the body's armscye depth and 16 mm for movement), the bust point from the neck point. Widths at the bust are a
quarter of the body and of the ease each, 10 mm more in front than behind. The waist darts stand under the bust point
and under the shoulder blade and take about half of what the waist is smaller than the bust; the side seams take the
rest. The front armhole is 20 mm shallower than the back one: what the front side seam is then longer than the
back one is taken up by the bust dart, which lies on the side seam with its upper leg just below the bust line and
aims at the bust point. So the dart grows with the front, and the seams match by construction.

Common practice, no published source: the bust dart stops 25 mm short of the bust point and the waist dart 18 mm below
it; the back shoulder is eased 8 mm. Neck and waist are square to the centre, the waist to the side seams, the armhole
to the shoulders; shoulder at the neck and side seam at the armhole make two right angles, front and back together.
"""

from __future__ import annotations

from math import atan, degrees, tan

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
from toilewright.blocks.bust_dart import FrontSide, dart_on_side
from toilewright.blocks.draft import SEAM, Measures, across, curve, dart_width, measure, settled, upright, way
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, unit
from toilewright.pattern.parts import Cut, Dart, Edge, EdgeKind, Landmark, Notch, Press
from toilewright.pattern.piece import Piece
from toilewright.pattern.truing import true_darts

WAIST_DART_STOPS = 18.0
"""mm below the bust point (15 to 20; common practice, no published source)."""


def draft_bodice(body: Measures, ease: BodiceEase | None = None) -> tuple[Piece, Piece]:
    """Front (on the fold) and back (cut as a pair, opening at the centre back), seams of equal length.

    Args:
        body: measures by ISO 8559-1 name (mm).
        ease: how much larger than the body.

    Raises:
        InputError: a measure is missing.
        GeometryError: the body is so far from any other that the draft does not close.
    """
    ease = ease or BodiceEase()
    behind, ahead = back_half(body, ease), front_half(body, ease)
    bust_point = bust_point_of(body, ahead)
    bust_drop = ahead.underarm_y - bust_point.imag
    back = _draft_back(body, ease, behind, behind.underarm_y - bust_drop)
    front = _draft_front(body, ease, ahead, bust_point, back.edge("side seam").path.length)
    return front, back


# -- the edges --------------------------------------------------------------------------------------


def _centre_waist(middle: float, width: float, apex_y: float) -> tuple[Path, Point, float]:
    """Waist from the centre to the dart's first foot, the second foot, half the dart's angle (degrees).

    The line sinks so far that it runs smoothly on behind the closed dart.
    """
    reach = middle - width / 2
    dip = 0.0
    for _ in range(12):
        half_angle = atan(width / 2 / (apex_y + dip))
        dip = reach * tan(half_angle) / 2
    foot = complex(reach, -dip)
    path = curve(0j, 1, reach / 3, foot, way(-degrees(half_angle)), reach / 3)
    return path, foot + width, degrees(half_angle)


def _side_waist(foot: Point, leaning: float, side: Point, side_way: Point) -> Path:
    """Waist from the dart's second foot to the side seam, square to it."""
    reach = abs(side - foot)
    return curve(foot, way(leaning), 0.3 * reach, side, -1j * side_way, 0.36 * reach)


def _waist_width(body: Measures, ease: BodiceEase, more: float) -> float:
    return (measure(body, "waist girth") + ease.waist) / 4 + more


def _bust_width(body: Measures, ease: BodiceEase, more: float) -> float:
    return (measure(body, "bust girth") + ease.bust) / 4 + more


# -- the back ---------------------------------------------------------------------------------------


def _draft_back(body: Measures, ease: BodiceEase, half: Half, bust_y: float) -> Piece:
    at_bust, waist = _bust_width(body, ease, -5.0), _waist_width(body, ease, -5.0)
    width = dart_width(0.56, at_bust - waist)
    middle = 0.47 * waist
    apex = complex(middle, half.underarm_y - 12.0)
    inner, foot, leaning = _centre_waist(middle, width, apex.imag)

    def side_of(x: float) -> tuple[Point, Point, Path]:
        side = complex(x, 2.0)
        side_way = unit(complex(at_bust, bust_y) - side)
        return side, side_way, _side_waist(foot, leaning, side, side_way)

    side, side_way, outer = side_of(settled(
        lambda x: inner.length + side_of(x)[2].length - waist, waist + width))
    underarm = side + side_way * ((half.underarm_y - side.imag) / side_way.imag)
    side_seam = Path.line(side, underarm)
    armhole = armhole_line(half, underarm, side_way * way(90 + UNDERARM_SHARE))
    edges = (
        Edge("centre back", Path.line(half.centre_neck, 0j), EdgeKind.OPENING, 20.0),
        Edge("waist", Path.joined([inner, Path.line(inner.end, foot), outer]), allowance=SEAM),
        Edge("side seam", side_seam, allowance=SEAM),
        Edge("armhole", armhole, allowance=SEAM),
        Edge("shoulder", Path.line(half.tip, half.neck), allowance=SEAM),
        Edge("neck", neck_line(half, -NECK_SHARE, 1.00, 0.60), allowance=SEAM),
    )
    dart = Dart("waist dart", "waist", inner.length, inner.length + width, apex, Press.TO_START)
    return true_darts(Piece(
        "bodice back", edges, (dart,),
        (Notch("back notch", "armhole", 0.42 * armhole.length, 2), Notch("side notch", "side seam", 60.0)),
        upright(0.22 * waist, 60.0, half.underarm_y + 90.0),
        (Landmark("nape", half.centre_neck), Landmark("neck point", half.neck),
         Landmark("shoulder tip", half.tip), Landmark("underarm", underarm),
         Landmark("centre waist", 0j), Landmark("side waist", side)),
        (across("bust line", side_seam, bust_y), across("lengthen or shorten", side_seam, 40.0)),
        Cut(2, mirrored=True)))


# -- the front --------------------------------------------------------------------------------------


def _draft_front(body: Measures, ease: BodiceEase, half: Half, bust_point: Point, side_sewn: float) -> Piece:
    at_bust, waist = _bust_width(body, ease, 5.0), _waist_width(body, ease, 5.0)
    width = dart_width(0.52, at_bust - waist)
    apex = bust_point - 1j * WAIST_DART_STOPS
    inner, foot, leaning = _centre_waist(bust_point.real, width, apex.imag)
    bust_level, drop = complex(at_bust, bust_point.imag), half.underarm_y - bust_point.imag

    def side_of(x: float) -> tuple[FrontSide, Path]:
        side = dart_on_side(complex(x, 2.0), bust_level, drop, bust_point, side_sewn)
        return side, _side_waist(foot, leaning, side.waist, side.start_way)

    side, outer = side_of(settled(lambda x: inner.length + side_of(x)[1].length - waist, waist + width))
    side_seam = Path.polyline((outer.end, side.lower, side.upper, side.underarm))
    armhole = armhole_line(half, side.underarm, side.end_way * way(90 - UNDERARM_SHARE))
    lower_run = abs(side.lower - outer.end)
    edges = (
        Edge("centre front", Path.line(half.centre_neck, 0j), EdgeKind.FOLD, 0.0),
        Edge("waist", Path.joined([inner, Path.line(inner.end, foot), outer]), allowance=SEAM),
        Edge("side seam", side_seam, allowance=SEAM),
        Edge("armhole", armhole, allowance=SEAM),
        Edge("shoulder", Path.line(half.tip, half.neck), allowance=SEAM),
        Edge("neck", neck_line(half, NECK_SHARE, 0.52, 0.60), allowance=SEAM),
    )
    darts = (
        Dart("waist dart", "waist", inner.length, inner.length + width, apex, Press.TO_START),
        Dart("bust dart", "side seam", lower_run, lower_run + abs(side.upper - side.lower), side.apex,
             Press.TO_START),
    )
    return true_darts(Piece(
        "bodice front", edges, darts,
        (Notch("front notch", "armhole", 0.42 * armhole.length), Notch("side notch", "side seam", 60.0)),
        upright(0.2 * waist, 60.0, half.underarm_y + 60.0),
        (Landmark("bust point", bust_point), Landmark("neck point", half.neck),
         Landmark("shoulder tip", half.tip), Landmark("underarm", side.underarm),
         Landmark("centre waist", 0j), Landmark("side waist", outer.end)),
        (across("bust line", side_seam, bust_point.imag), across("lengthen or shorten", side_seam, 40.0))))
