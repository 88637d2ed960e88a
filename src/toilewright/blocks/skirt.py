"""A-line skirt, front and back, that meets a bodice's waist: our own draft.

The draft, in words. A quarter of the hip and of its ease lies at the hip line; from there the side seam runs straight
down, leaning out by a few degrees, and curves in to the waist above. One waist dart in each half takes about a third
of what the waist is smaller than the hip, the side seam the rest. The dart stands where the bodice's waist dart stands,
so the two meet in the waist seam. Waist and hem are square to the centre and to the side seam, and the waist rises
towards the side; its second stretch starts so that the waist runs on smoothly behind the closed dart. Both side seams
are as long as the centre front, and the back leans out just so much that its hem is as long as the front's.

Hip ease 2 in as a minimum, 3 in as usual (New Mexico State University, Cooperative Extension, C-228).
"""

from __future__ import annotations

import cmath
from dataclasses import dataclass, replace
from math import atan, degrees, tan

from toilewright.blocks.draft import SEAM, Measures, across, curve, dart_width, measure, settled, upright, way
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, turn
from toilewright.pattern.parts import Cut, Dart, Edge, EdgeKind, Landmark, Notch, Press
from toilewright.pattern.piece import Piece
from toilewright.pattern.truing import true_darts

SIDE_RISE = 12.0
"""mm; how far the waist lies higher at the side than at the centre (common practice, no published source)."""


HEM_DEPTH = 35.0
"""mm; turned up at a hem."""


@dataclass(frozen=True, slots=True)
class SkirtEase:
    """Ease at the hip (mm, whole girth), length as a share of the waist's height, lean of the side seam (degrees)."""

    hip: float = 72.0
    length: float = 0.50
    flare: float = 7.0


@dataclass(frozen=True, slots=True)
class Half:
    """What half a skirt panel is drawn from, in mm.

    Attributes:
        inner, outer: waist from the centre to the dart and from the dart to the side, as sewn.
        dart_width, dart_depth: of the waist dart.
        hip, hip_depth: width at the hip line, and its depth under the waist.
        length: of the centre, and of the side seam.
        flare: lean of the side seam below the hip (degrees).
        beyond: how far the panel reaches beyond the centre (the wrap).
    """

    inner: float
    outer: float
    dart_width: float
    dart_depth: float
    hip: float
    hip_depth: float
    length: float
    flare: float
    beyond: float = 0.0


@dataclass(frozen=True, slots=True)
class Lines:
    """Edges of half a panel as on the finished ring: hem outwards, side seam up, waist inwards (mm)."""

    half: Half
    hem: Path
    side_seam: Path
    waist: Path
    dart: Dart

    @property
    def centre(self) -> Path:
        """From the waist down to the hem, at the centre or at the wrap's edge."""
        return Path.line(self.waist.end, self.hem.start)


def draft_skirt(body: Measures, front: Piece, back: Piece, ease: SkirtEase | None = None,
                tiered: bool = True) -> tuple[Piece, Piece]:
    """Skirt front (on the fold) and back (a pair, opening at the centre back) for the waist of a bodice.

    Args:
        body: measures by ISO 8559-1 name (mm).
        front, back: bodice pieces with an edge `waist` walked from the centre to the side, and a `waist dart` on it.
        tiered: a tier is sewn to the hem; else it is turned up.

    Raises:
        InputError: a measure is missing.
    """
    ease = ease or SkirtEase()
    front_lines, back_lines = pair_of_lines(
        _half_for(body, front, ease, 0.30, 95.0), _half_for(body, back, ease, 0.40, 125.0))
    hem = (EdgeKind.SEAM, SEAM) if tiered else (EdgeKind.HEM, HEM_DEPTH)
    half_way = (Notch("tier notch", "hem", front_lines.hem.length / 2),) if tiered else ()
    return (panel("skirt front", front_lines, Edge("centre front", front_lines.centre, EdgeKind.FOLD, 0.0), hem,
                  half_way),
            panel("skirt back", back_lines, Edge("centre back", back_lines.centre, EdgeKind.OPENING, 20.0), hem,
                  half_way, Cut(2, mirrored=True)))


def _half_for(body: Measures, bodice: Piece, ease: SkirtEase, dart_share: float, dart_depth: float) -> Half:
    dart = bodice.dart("waist dart")
    waist = bodice.sewn_length("waist")
    hip = (measure(body, "hip girth") + ease.hip) / 4
    return Half(dart.start, waist - dart.start, dart_width(dart_share, hip - waist), dart_depth, hip,
                measure(body, "waist to hip"), ease.length * measure(body, "waist height"), ease.flare)


def pair_of_lines(front: Half, back: Half) -> tuple[Lines, Lines]:
    """Front and back, the back leaning out so much that both hems (without the wrap) are equally long."""
    front_lines = lines(front)
    goal = front_lines.hem.length - front.beyond
    flare = settled(lambda f: lines(replace(back, flare=f)).hem.length - back.beyond - goal, back.flare)
    return front_lines, lines(replace(back, flare=flare))


def lines(half: Half) -> Lines:
    """The edges of half a panel, the centre at x = 0, the waist at the centre at y = 0."""
    inner, lean = _inner_waist(half)
    foot = inner.end + half.dart_width

    def upper(x: float) -> tuple[Path, Path]:
        side = _side_above_hip(half, complex(x, SIDE_RISE))
        reach = abs(side.end - foot)
        return side, curve(foot, way(-lean), 0.3 * reach, side.end, side.end_tangent * -1j, 0.36 * reach)

    x = settled(lambda x: upper(x)[1].length - half.outer, half.inner + half.outer + half.dart_width)
    side, outer = upper(x)
    corner = side.start - way(90 + half.flare) * (half.length - side.length)
    start = complex(-half.beyond, -half.length)
    below = complex(0, -half.length)
    hem = curve(below, 1, 0.40 * corner.real, corner, way(half.flare), 0.30 * corner.real)
    waist = [outer.reversed(), Path.line(foot, inner.end), inner.reversed()]
    if half.beyond:
        hem = Path.joined([Path.line(start, below), hem])
        waist.append(Path.line(0j, complex(-half.beyond, 0)))
    first = outer.length
    dart = Dart("waist dart", "waist", first, first + half.dart_width,
                (foot + inner.end) / 2 - 1j * half.dart_depth, Press.TO_END)
    return Lines(half, hem, Path.joined([Path.line(corner, side.start), side]), Path.joined(waist), dart)


def _inner_waist(half: Half) -> tuple[Path, float]:
    """Waist from the centre to the dart, rising to meet it, and half the dart's angle (degrees)."""
    lean = atan(half.dart_width / 2 / half.dart_depth)

    def to(x: float) -> Path:
        return curve(0j, 1, x / 3, complex(x, x * tan(lean) / 2), way(degrees(lean)), x / 3)

    return to(settled(lambda x: to(x).length - half.inner, half.inner)), degrees(lean)


def _side_above_hip(half: Half, side: Point) -> Path:
    """From the hip up to the waist, running on from the straight below."""
    hip = complex(half.hip, -half.hip_depth)
    chord, along = side - hip, way(90 + half.flare)
    arriving = along * cmath.rect(1.0, 2 * turn(along, chord))
    return curve(hip, along, abs(chord) / 3, side, arriving, abs(chord) / 3)


def panel(name: str, drawn: Lines, centre: Edge, hem: tuple[EdgeKind, float] = (EdgeKind.SEAM, SEAM),
          notches: tuple[Notch, ...] = (), cut: Cut | None = None) -> Piece:
    """A skirt panel around its lines, darts trued, with a notch at the hip on its side seam.

    Args:
        centre: the edge from the waist down to the hem.
        hem: what happens to the hem, and its allowance (mm).
    """
    half, side = drawn.half, drawn.side_seam
    landmarks = (Landmark("centre waist", 0j), Landmark("side waist", side.end))
    level = -(half.hip_depth + half.length) / 2
    return true_darts(Piece(
        name,
        (centre, Edge("hem", drawn.hem, *hem), Edge("side seam", side, allowance=SEAM),
         Edge("waist", drawn.waist, allowance=SEAM)),
        (drawn.dart,),
        (Notch("hip notch", "side seam", side.length - half.hip_depth), *notches),
        upright(0.25 * half.hip, -0.8 * half.length, -0.25 * half.length),
        landmarks,
        (across("hip line", side, -half.hip_depth, -half.beyond),
         across("lengthen or shorten", side, level, -half.beyond)),
        cut or Cut()))
