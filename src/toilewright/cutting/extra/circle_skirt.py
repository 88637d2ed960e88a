"""Circle skirts, whole or in part: a ring, or a sector of one, whose inner arc is the waist.

The radius of the waist is the waist over 2 pi for a full circle, over pi for half a one (arithmetic): 70 cm gives 11.14
and 22.28 cm.
"""

from __future__ import annotations

import cmath
from dataclasses import replace
from math import ceil, cos, degrees, pi, sin, tan

from toilewright.cutting.extra.already import sewn_already
from toilewright.cutting.extra.kinds import (
    Asks,
    Built,
    Example,
    Figure,
    Kind,
    Option,
    Options,
    Sum,
    length_of,
    mm,
    word_of,
)
from toilewright.cutting.extra.places import find_run, with_notches
from toilewright.cutting.extra.strips import CLOTH_OPTION, NAME_OPTION, WIDTH_OF_CLOTH, words_for
from toilewright.errors import Finding, InputError, Severity
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Cut, Edge, EdgeKind, Grain, Notch
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

PARTS = {"full": 1.0, "three quarter": 0.75, "half": 0.5, "third": 1 / 3, "quarter": 0.25}

SEAM = 15.0
"""mm; side seams and waist (as on envelopes)."""

HEM = 10.0
"""mm; a hem on the curve can only be narrow (common practice, no published source)."""

_STEP = pi / 12
"""radians; one cubic of an arc, true to its circle within a 100,000th of a mm at garment size."""


def waist_radius(waist: float, part: float) -> float:
    """Radius of the waist (mm) of so large a part of a circle.

    >>> round(waist_radius(700, 1.0), 1), round(waist_radius(700, 0.5), 1)
    (111.4, 222.8)
    """
    return waist / (2 * pi * part)


def arc(centre: Point, radius: float, start: float, end: float) -> Path:
    """A true arc between two bearings (radians), counter-clockwise when `end` is the larger one."""
    n = max(1, ceil(abs(end - start) / _STEP - 1e-9))
    step = (end - start) / n
    reach = 4 / 3 * tan(step / 4) * radius
    at = [start + step * k for k in range(n + 1)]
    nodes = tuple(centre + cmath.rect(radius, a) for a in at)
    along = [cmath.rect(1.0, a) * 1j for a in at]
    return Path(nodes, tuple((nodes[k] + along[k] * reach, nodes[k + 1] - along[k + 1] * reach) for k in range(n)))


def part_of(said: str) -> float:
    """The part of a circle that a word or a number names.

    Raises:
        InputError: it is none.
    """
    if said.lower() in PARTS:
        return PARTS[said.lower()]
    try:
        value = float(said.replace(",", "."))
    except ValueError:
        value = -1.0
    if not 0.1 <= value <= 3.0:
        raise InputError(f'"part" is "{said}"; say {", ".join(PARTS)}, or a number of circles from 0.1 to 3, such '
                         "as 0.6.")
    return value


def panel_width(inner: float, outer: float, angle: float) -> float:
    """How much of the cloth's width a panel takes, its middle along the grain (mm).

    Args:
        inner, outer: radii of waist and hem line with what is cut beyond them (mm).
        angle: of the panel (radians).
    """
    return 2 * outer * sin(min(angle, pi) / 2)


def panel_length(inner: float, outer: float, angle: float) -> float:
    """How much of the cloth's length a panel takes, its middle along the grain (mm)."""
    return outer - (inner if angle < pi else outer) * cos(min(angle / 2, pi))


def circle_sum(options: Options) -> Sum:
    """Radii, the length of the hem, and whether a panel fits the cloth."""
    waist = length_of(options, "edge") if isinstance(options.get("edge"), float) else length_of(options, "waist")
    return _work(waist, options)


def _work(waist: float, options: Options) -> Sum:
    part, number = part_of(word_of(options, "part")), _panels(options)
    length, cloth_width = length_of(options, "length"), length_of(options, "cloth width")
    radius = waist_radius(waist, part)
    angle = 2 * pi * part / number
    if radius < 15.0:
        raise InputError(f"The waist of {show_both(waist)} leaves a hole of {show_both(radius)} radius, too small to "
                         "sew; take a smaller part of the circle.")
    if not _has_room(radius, angle):
        least = next(n for n in range(number + 1, 100) if _has_room(radius, 2 * pi * part / n))
        raise InputError(f"Cut in {words_for(number, 'panel', 'panels')}, {part:g} circles leave no cloth for the "
                         f"allowances of the seams; say seams = {least}.")
    inner, outer = max(radius - SEAM, 0.0), radius + length + HEM
    across = panel_width(inner, outer, angle) + 2 * SEAM
    along = panel_length(inner, outer, angle) + (0.0 if angle < pi else 2 * SEAM)
    fits = across <= cloth_width
    figures = (
        Figure("waist", waist, "waist, as sewn"),
        Figure("part", part, "part of a circle", length=False),
        Figure("radius", radius, "radius of the waist: the waist over 2 pi times the part of the circle"),
        Figure("hem_radius", radius + length, "radius of the hem"),
        Figure("hem", 2 * pi * part * (radius + length), "length of the hem, all round"),
        Figure("panels", number, "panels", length=False),
        Figure("panel_across", across, "how wide one panel lies across the cloth"),
        Figure("panel_along", along, "how long one panel lies along the cloth"),
        Figure("fits", 1.0 if fits else 0.0, "does a panel fit on the width of the cloth (1) or not (0)", length=False))
    return Sum(figures, _steps(radius, length, part, number), () if fits else (
        _too_wide(options, radius, length, part, number, across),))


def _has_room(radius: float, angle: float) -> bool:
    """Is there cloth between the two sides of a panel for the allowances of both?"""
    if angle <= pi:
        return True
    return angle < 2 * pi and max(radius - SEAM, 0.0) * sin((2 * pi - angle) / 2) > SEAM + 1.0


def _panels(options: Options) -> int:
    return int(length_of(options, "seams"))


def _too_wide(options: Options, radius: float, length: float, part: float, number: int, across: float) -> Finding:
    cloth_width = length_of(options, "cloth width")
    room = (cloth_width - 2 * SEAM) / 2 / sin(min(2 * pi * part / number, pi) / 2) - radius - HEM
    longest = f"make it no longer than {show_both(room)}" if room >= 100.0 else ""
    more = next((n for n in range(number + 1, 25) if
                 panel_width(radius, radius + length + HEM, 2 * pi * part / n) + 2 * SEAM <= cloth_width), None)
    ways = [w for w in (f"cut it with {more} seams" if more else "", longest) if w]
    return Finding("circle-too-wide", f"One panel is {show_both(across)} wide and does not fit on a cloth of "
                   f"{show_both(cloth_width)}; {' or '.join(ways) or 'take a smaller part of the circle'}.",
                   Severity.LOOK, asked=across, possible=cloth_width)


def _steps(radius: float, length: float, part: float, number: int) -> tuple[str, ...]:
    return (
        f"Draw the waist with a radius of {mm(radius)} and the hem with {mm(radius + length)} from the same point, "
        f"{degrees(2 * pi * part / number):.0f} degrees for each of {words_for(number, 'panel', 'panels')}; cut the "
        "waist small rather than large, it stretches.",
        f"Stay-stitch the waist at once. Sew the {'seam' if number == 1 else 'seams'}, leaving the opening.",
        "Let it hang for a night before the hem: what lies on the bias drops. Level it from the floor, then turn a hem "
        f"of {mm(HEM)} at most.")


# -- on a garment -----------------------------------------------------------------------------------


def build_circle(garment: Garment, options: Options) -> Built:
    """The panels, sewn to each other and to the waist edge where one is named."""
    name = word_of(options, "name") or "circle skirt"
    run = find_run(garment, word_of(options, "edge")) if word_of(options, "edge") else None
    waist = length_of(options, "waist") if run is None else run.length
    worked = _work(waist, options)
    number = _panels(options)
    piece = _panel(name, worked.of("radius"), length_of(options, "length"), 2 * pi * worked.of("part") / number,
                   number, word_of(options, "cloth"))
    seams = [Seam(f"{name} side seam", (EdgeRef(name, "side seam"),), (EdgeRef(name, "other side seam", True),))]
    changed: tuple[Piece, ...] = ()
    findings = list(worked.findings)
    if run is not None:
        seams.insert(0, Seam(f"{name} to {run.name}", run.refs, (EdgeRef(name, "waist", True, number),)))
        places = [run.length * (2 * k + 1) / (2 * number) for k in range(number)]
        changed = with_notches(garment, run, places, f"{name} middle")
        findings += sewn_already(garment, run, "second-skirt", f'"{name}" is a second layer there, or takes the place '
                                 "of what is sewn there: leave that out then", name)
    return Built((piece,), tuple(seams), changed, replace(worked, findings=tuple(findings)))


def _panel(name: str, radius: float, length: float, angle: float, number: int, cloth: str) -> Piece:
    """One panel hanging down from the centre of its circle, its middle along the grain."""
    middle = -pi / 2
    first, last = middle - angle / 2, middle + angle / 2
    hem = arc(0j, radius + length, first, last)
    waist = arc(0j, radius, last, first)
    edges = (Edge("hem", hem, EdgeKind.HEM, HEM),
             Edge("side seam", Path.line(hem.end, waist.start), EdgeKind.SEAM, SEAM),
             Edge("waist", waist, EdgeKind.SEAM, SEAM),
             Edge("other side seam", Path.line(waist.end, hem.start), EdgeKind.SEAM, SEAM))
    notches = (Notch(f"{name} middle", "waist", waist.length / 2),)
    return Piece(name, edges, notches=notches, cut=Cut(number, False, cloth),
                 grain=Grain(-1j * (radius + 0.8 * length), -1j * (radius + 0.2 * length)))


CIRCLE = Kind(
    "circle skirt", "a skirt cut as a circle or a part of one",
    (Option("edge", Asks.EDGE, 'the waist it is sewn to, such as "bodice waist"; or say waist'),
     Option("waist", Asks.LENGTH, "of the skirt, as sewn, where it is sewn to no edge", None, 200.0, 3000.0),
     Option("part", Asks.TEXT, "full, three quarter, half, third, quarter, or a number of circles", "full"),
     Option("length", Asks.LENGTH, "from waist to hem, finished", 600.0, 50.0, 1500.0),
     Option("seams", Asks.COUNT, "how many, and so how many panels", 2.0, 1, 24),
     WIDTH_OF_CLOTH, NAME_OPTION, CLOTH_OPTION),
    ("arithmetic: the waist over 2 pi times the part of the circle; 70 cm gives 11.14 cm full and 22.28 cm half",
     "common practice, no published source: hang it before hemming, a narrow hem"),
    circle_sum, build_circle,
    (Example({"waist": "70 cm", "part": "full"}, {"radius": 111.408}, "arithmetic: 70 cm / 2 pi = 11.14 cm"),
     Example({"waist": "70 cm", "part": "half"}, {"radius": 222.817}, "arithmetic: 70 cm / pi = 22.28 cm")),
    ("circle",))

KINDS = (CIRCLE,)
