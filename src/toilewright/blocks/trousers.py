"""Straight trousers with darts at the waist, front and back: our own draft.

The draft, in words. The waist lies at height 0 at the side; hip line and crotch line lie under it by the body's waist
to hip and by its crotch depth with sitting ease. A quarter of the hip and of its ease lies at the hip line, 12 mm more
behind than in front. Just below the crotch line both panels together are as wide as the thigh with its ease; the fork
reaches out so far beyond the hip, a little less than a third of it in front. The crease, which is the grain, halves the
crotch line; knee and hem lie even to both sides of it, 10 mm more at each side of the back. The leg is straight below
the knee. The front's centre line leans in a little; the back's leans in more (the seat angle) and rises above the
waist, and the rise is settled so that the crotch seam is the body's crotch length and its ease. The back crotch point
lies just so much lower that both inseams are equally long, and the back side seam ends where it is as long as the
front's.

Hip ease at least 2 in, sitting ease 1/2 to 1 in with the hip, thigh ease 1 to 2 in, knee 1 in or more (New Mexico
State University, Cooperative Extension, C-209); ours hang straight: more at thigh and knee.
"""

from __future__ import annotations

import cmath
from collections.abc import Callable
from dataclasses import dataclass, replace
from math import atan, degrees, tan

from toilewright.blocks.draft import SEAM, Measures, curve, dart_width, level_line, measure, settled, upright, way
from toilewright.errors import GeometryError
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, turn, unit
from toilewright.pattern.parts import Cut, Dart, Edge, EdgeKind, Landmark, Notch, Press
from toilewright.pattern.piece import Piece
from toilewright.pattern.truing import true_darts

CENTRE_DIPS = 8.0
"""mm; how far the front waist lies lower at the centre than at the side (common practice, no published source)."""

HEM_ABOVE_FLOOR = 40.0
"""mm; where a straight leg ends (common practice, no published source)."""

HEM_DEPTH = 40.0
"""mm; turned up at the hem."""

THIGH_BELOW = 40.0
"""mm; how far the fullest part of the thigh lies below the crotch line (common practice, no published source)."""

KNEE_ABOVE_MIDDLE = 50.0
"""mm; how far the knee lies over the middle between crotch line and hem (common practice, no published source)."""


@dataclass(frozen=True, slots=True)
class TrouserEase:
    """Ease in mm, whole girth; the hem's width as a share of the knee's."""

    waist: float = 20.0
    hip: float = 64.0
    thigh: float = 62.0
    knee: float = 104.0
    crotch_length: float = 10.0
    hem: float = 0.91


@dataclass(frozen=True, slots=True)
class _Levels:
    """Heights (mm, the waist at the side at 0) that front and back share."""

    hip: float
    crotch: float
    knee: float
    calf: float
    hem: float


@dataclass(frozen=True, slots=True)
class _Panel:
    """What one panel is drawn from, in mm.

    Attributes:
        waist, hip: as sewn, from the centre to the side.
        fork: how far the crotch point lies beyond the centre line.
        knee, hem: half widths.
        lean: of the centre line, inwards from the hip line up to height 0.
        hollow: height over the crotch line where the crotch seam begins to curve, as a share of the fork.
        dart: its place and its share of the surplus, both from the centre; its depth.
        drop: how far the crotch point lies below the crotch line.
        rise, side_rise: height of the waist at the centre and at the side.
    """

    waist: float
    hip: float
    fork: float
    knee: float
    hem: float
    lean: float
    hollow: float
    dart: tuple[float, float, float]
    drop: float = 0.0
    rise: float = -CENTRE_DIPS
    side_rise: float = 0.0


@dataclass(frozen=True, slots=True)
class _Drawn:
    """Edges of a panel as on the finished ring."""

    crotch_seam: Path
    inseam: Path
    hem: Path
    side_seam: Path
    waist: Path
    dart: Dart
    crease: float


def draft_trousers(body: Measures, ease: TrouserEase | None = None) -> tuple[Piece, Piece]:
    """Trouser front and back, each cut as a pair; waist, side seam and inseam of equal length.

    Args:
        body: measures by ISO 8559-1 name (mm).
        ease: how much larger than the body.

    Raises:
        InputError: a measure is missing.
        GeometryError: the measures do not go together, so that the draft does not close.
    """
    ease = ease or TrouserEase()
    levels = _levels(body)
    thigh = measure(body, "thigh girth") + ease.thigh
    least = measure(body, "hip girth") / 8

    def missing(fork: float) -> float:
        return sum(_thigh(p, levels) for p in _pair(body, ease, levels, fork)) - thigh

    fork = max(settled(missing, thigh - (measure(body, "hip girth") + ease.hip) / 2), least)
    front_panel, back_panel = _pair(body, ease, levels, fork)
    front = _drawn(front_panel, levels)
    back = _back_to(back_panel, levels, front, measure(body, "total crotch length") + ease.crotch_length)
    marks = (front.side_seam.nearest(complex(front.side_seam.bounds[2], levels.hip))[0],
             abs(front.side_seam.nodes[1] - front.side_seam.start),
             front.inseam.length - abs(front.inseam.nodes[-2] - front.inseam.end))
    return _piece("trouser front", front, levels, marks, 1), _piece("trouser back", back, levels, marks, 2)


def sitting_ease(hip: float) -> float:
    """Ease of the crotch depth: 1/2 in up to a hip of 36 in, 3/4 between 36 and 38, 1 over it (NMSU C-209); in even
    steps between, so that sizes lie in one another (mm)."""
    return 12.7 + 12.7 * min(max((hip - 889.0) / 101.6, 0.0), 1.0)


# -- the points -------------------------------------------------------------------------------------


def _levels(body: Measures) -> _Levels:
    hip = -measure(body, "waist to hip")
    crotch = -measure(body, "crotch depth") - sitting_ease(measure(body, "hip girth"))
    hem = HEM_ABOVE_FLOOR - measure(body, "waist height")
    knee = (crotch + hem) / 2 + KNEE_ABOVE_MIDDLE
    if crotch > hip - 25.0:
        raise GeometryError(f'The "crotch depth" of {measure(body, "crotch depth"):.0f} mm ends at the hip, '
                            f"{-hip:.0f} mm below the waist; measure both again: the crotch lies 40 mm lower or more.")
    return _Levels(hip, crotch, knee, knee + 0.36 * (hem - knee), hem)


def _quarter(body: Measures, name: str, ease: float, more: float) -> float:
    return (measure(body, name) + ease) / 4 + more


def _pair(body: Measures, ease: TrouserEase, levels: _Levels, fork: float) -> tuple[_Panel, _Panel]:
    """Front and back for a fork of both together, the back crotch point so low that the inseams are equally long."""
    front, back = _front(body, ease, 0.31 * fork), _back(body, ease, 0.69 * fork)
    goal = _inseam(front, levels).length
    drop = settled(lambda d: _inseam(replace(back, drop=d), levels).length - goal, 6.0)
    return front, replace(back, drop=drop)


def _thigh(panel: _Panel, levels: _Levels) -> float:
    """Width at the thigh line."""
    inner = Path.joined([_crotch_seam(panel, levels), _inseam(panel, levels)])
    return level_line("", inner, _side_seam(panel, levels, panel.hip), levels.crotch - THIGH_BELOW).path.length


def _front(body: Measures, ease: TrouserEase, fork: float) -> _Panel:
    waist, hip = _quarter(body, "waist girth", ease.waist, 3.0), _quarter(body, "hip girth", ease.hip, -6.0)
    knee = _quarter(body, "knee girth", ease.knee, -5.0)
    return _Panel(waist, hip, fork, knee, ease.hem * knee, lean=2.0 + 0.08 * (hip - waist),
                  hollow=1.7, dart=(0.46, 0.30, 90.0))


def _back(body: Measures, ease: TrouserEase, fork: float) -> _Panel:
    waist, hip = _quarter(body, "waist girth", ease.waist, -3.0), _quarter(body, "hip girth", ease.hip, 6.0)
    knee = _quarter(body, "knee girth", ease.knee, 5.0)
    return _Panel(waist, hip, fork, knee, ease.hem * knee, lean=18.0 + 0.24 * (hip - waist),
                  hollow=0.95, dart=(0.46, 0.32, 125.0))


def _back_to(back: _Panel, levels: _Levels, front: _Drawn, crotch_length: float) -> _Drawn:
    """The back with its waist at the centre and at the side settled for the front it is sewn to."""
    goal = crotch_length - front.crotch_seam.length
    rise = settled(lambda r: _crotch_seam(replace(back, rise=r), levels).length - goal, 35.0)
    if not -20.0 < rise < 110.0:
        raise GeometryError(
            f"A crotch length of {crotch_length:.0f} mm with its ease does not go with this crotch depth: the back "
            f"waist would lie {rise:.0f} mm above the front one, where 20 to 60 mm is usual; measure both again.")
    back = replace(back, rise=rise)
    side = settled(lambda y: _drawn(replace(back, side_rise=y), levels).side_seam.length - front.side_seam.length, 0.0)
    return _drawn(replace(back, side_rise=side), levels)


# -- the edges --------------------------------------------------------------------------------------


def _drawn(panel: _Panel, levels: _Levels) -> _Drawn:
    crotch_seam, inseam = _crotch_seam(panel, levels), _inseam(panel, levels)
    crease = _crease(panel)
    hem = Path.line(inseam.end, complex(crease + panel.hem, levels.hem))
    waist_of = _waist(panel, crotch_seam.start, -crotch_seam.start_tangent)

    def to(x: float) -> tuple[Path, Path, Dart]:
        side = _side_seam(panel, levels, x)
        return (side, *waist_of(side))

    x = settled(lambda x: to(x)[1].length - panel.waist - _dart_width(panel), panel.hip - 20.0)
    side, waist, dart = to(x)
    return _Drawn(crotch_seam, inseam, hem, side, waist, dart, crease)


def _crease(panel: _Panel) -> float:
    return (panel.hip - panel.fork) / 2


def _inseam(panel: _Panel, levels: _Levels) -> Path:
    """From the crotch point hollow to the knee, then straight to the hem."""
    crease = _crease(panel)
    start = complex(-panel.fork, levels.crotch - panel.drop)
    knee, hem = complex(crease - panel.knee, levels.knee), complex(crease - panel.hem, levels.hem)
    chord, along = knee - start, unit(hem - knee)
    leaving = chord * cmath.rect(1.0, 0.45 * turn(along, chord))
    reach = abs(chord) / 3
    return Path.joined([curve(start, leaving, reach, knee, along, reach), Path.line(knee, hem)])


def _crotch_seam(panel: _Panel, levels: _Levels) -> Path:
    """From the waist straight down the centre line, then hollow to the crotch point, square to the inseam."""
    up = unit(complex(panel.lean, -levels.hip))
    foot = complex(0.0, levels.hip)
    start = foot + up * ((panel.rise - levels.hip) / up.imag)
    over = panel.hollow * panel.fork
    bend = foot + up * ((levels.crotch + over - levels.hip) / up.imag)
    inseam = _inseam(panel, levels)
    end, arriving = inseam.start, inseam.start_tangent * -1j
    return Path.joined([Path.line(start, bend),
                        curve(bend, -up, 0.62 * (over + panel.drop), end, arriving, 0.64 * (bend.real - end.real))])


def _side_seam(panel: _Panel, levels: _Levels, x: float) -> Path:
    """From the hem straight to the knee, out to the hip, in to the waist at x."""
    crease = _crease(panel)
    hem, knee = complex(crease + panel.hem, levels.hem), complex(crease + panel.knee, levels.knee)
    hip, side = complex(panel.hip, levels.hip), complex(x, panel.side_rise)
    thigh = curve(knee, knee - hem, 0.38 * abs(hip - knee), hip, 1j, 0.38 * abs(hip - knee))
    chord = side - hip
    arriving = 1j * cmath.rect(1.0, 2 * turn(1j, chord))
    return Path.joined([Path.line(hem, knee), thigh,
                        curve(hip, 1j, abs(chord) / 3, side, arriving, abs(chord) / 3)])


def _dart_width(panel: _Panel) -> float:
    return dart_width(panel.dart[1], panel.hip - panel.waist)


def _waist(panel: _Panel, centre: Point, up: Point) -> Callable[[Path], tuple[Path, Dart]]:
    """The waist and its dart for a given side seam; square to the centre line and to the side seam."""
    along, width = up * -1j, _dart_width(panel)
    place, _, depth = panel.dart
    lean = atan(width / 2 / depth)

    def inner_to(x: float) -> Path:
        return curve(0j, 1, x / 3, complex(x, x * tan(lean) / 2), way(degrees(lean)), x / 3)

    inner = inner_to(settled(lambda x: inner_to(x).length - place * panel.waist, place * panel.waist))
    inner = inner.mapped(lambda p: centre + along * p)
    foot, apex = inner.end + along * width, inner.end + along * complex(width / 2, -depth)

    def waist_of(side: Path) -> tuple[Path, Dart]:
        reach = abs(side.end - foot)
        outer = curve(foot, along * way(-degrees(lean)), 0.3 * reach, side.end, side.end_tangent * -1j, 0.28 * reach)
        path = Path.joined([outer.reversed(), Path.line(foot, inner.end), inner.reversed()])
        return path, Dart("waist dart", "waist", outer.length, outer.length + width, apex, Press.TO_END)

    return waist_of


# -- the pieces -------------------------------------------------------------------------------------


def _piece(name: str, drawn: _Drawn, levels: _Levels, marks: tuple[float, float, float], count: int) -> Piece:
    hip, side_knee, inner_knee = marks
    inner = Path.joined([drawn.crotch_seam, drawn.inseam])
    lines = (("hip line", levels.hip), ("crotch line", levels.crotch), ("thigh line", levels.crotch - THIGH_BELOW),
             ("knee line", levels.knee),
             ("lengthen or shorten", levels.knee + 60.0), ("calf line", levels.calf))
    crotch_notch = drawn.crotch_seam.length - 60.0
    return true_darts(Piece(
        name,
        (Edge("crotch seam", drawn.crotch_seam, allowance=SEAM), Edge("inseam", drawn.inseam, allowance=SEAM),
         Edge("hem", drawn.hem, EdgeKind.HEM, HEM_DEPTH), Edge("side seam", drawn.side_seam, allowance=SEAM),
         Edge("waist", drawn.waist, allowance=SEAM)),
        (drawn.dart,),
        (Notch("crotch notch", "crotch seam", crotch_notch, count), Notch("knee notch", "inseam", inner_knee),
         Notch("side knee notch", "side seam", side_knee), Notch("hip notch", "side seam", hip)),
        upright(drawn.crease, levels.hem + 120.0, levels.crotch - 40.0),
        (Landmark("crotch point", drawn.inseam.start), Landmark("centre waist", drawn.crotch_seam.start),
         Landmark("side waist", drawn.side_seam.end)),
        tuple(level_line(line, inner, drawn.side_seam, y) for line, y in lines),
        Cut(2, mirrored=True)))
