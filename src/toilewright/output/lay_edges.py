"""The cloth itself on the picture of a lay: surfaces, selvedges, fold, repeat, flaws, rulers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil, floor, pi

from toilewright.cutting.cloth import Cloth, Repeat
from toilewright.cutting.lay.folding import Spread, forbidden
from toilewright.cutting.lay.plan import Lay, Section
from toilewright.draw.figure import Caption
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.lay_looks import QUIET, Look, Shape, Words
from toilewright.output.lay_sheet import height_of, lies_words
from toilewright.output.paper import width_of
from toilewright.units import MM_PER_INCH

SMALL = 1.6
"""mm on paper; letters of rulers and edges."""

BELOW, ABOVE, BESIDE = 9.5, 14.0, 8.5
"""mm on paper that rulers and words take below, above and on the left of the cloth."""

_STEPS = {"cm": (10.0, (1, 2, 5, 10, 20, 50, 100)), "in": (MM_PER_INCH, (1, 3, 6, 12, 36))}
"""By unit: its mm, and after how many of it a ruler may have a tick."""

_TICKS, _NUMBERS = 1.9, 11.0
"""mm on paper; ticks and numbers of a ruler are at least so far apart."""

_SHORT = 6.0
"""mm on paper; a shorter stretch of cloth has no words."""

_FINE = 1.5
"""mm on paper; lines of a repeat that stand closer are not drawn."""


def cloth_shapes(lay: Lay) -> Iterator[Shape]:
    """The cloth of every section, darker where it lies double, and what is missing of a remnant."""
    for section in lay.sections:
        x0, x1 = section.start, _end(lay, section)
        yield Shape(_box(x0, 0.0, x1, height_of(lay, section)), Look.SINGLE, "cloth")
        if section.fold_depth is not None:
            yield Shape(_box(x0, 0.0, x1, section.fold_depth), Look.DOUBLE, "cloth")


def edge_shapes(lay: Lay) -> Iterator[Shape]:
    """Selvedges, fold, and the ends of sections."""
    for section in lay.sections:
        x0, x1, tall = section.start, _end(lay, section), height_of(lay, section)
        deep = section.fold_depth
        for y in dict.fromkeys((0.0, tall) if deep is None else (deep, tall)):
            yield Shape(Path.line(complex(x0, y), complex(x1, y)), Look.SELVEDGE, "cloth")
        if deep is not None:
            yield Shape(Path.line(complex(x0, 0.0), complex(x1, 0.0)), Look.FOLD, "cloth")
        for x in (x0, x1):
            yield Shape(Path.line(complex(x, 0.0), complex(x, tall)), Look.END, "cloth")


def repeat_shapes(lay: Lay, scale: float) -> Iterator[Shape]:
    """The main lines of stripes and checks, as they show on the upper layer; a fine repeat is left out."""
    repeat = drawn_repeat(lay.cloth.repeat, scale)
    for section in lay.sections:
        x0, x1, tall = section.start, _end(lay, section), height_of(lay, section)
        for x in _beats(repeat.first_along, repeat.along, x0, x1):
            yield Shape(Path.line(complex(x, 0.0), complex(x, tall)), Look.STRIPE, "repeat")
        deep = section.fold_depth
        lines = _beats(repeat.first_across, repeat.across, 0.0, lay.cloth.width)
        # Where it lies double, the upper layer hides the lower one.
        for y in lines if deep is None else [abs(y - deep) for y in lines if y <= deep or y >= 2 * deep]:
            yield Shape(Path.line(complex(x0, y), complex(x1, y)), Look.STRIPE, "repeat")


def drawn_repeat(repeat: Repeat, scale: float) -> Repeat:
    """What of a repeat is drawn at a scale."""
    return replace(repeat, along=repeat.along if repeat.along >= _FINE * scale else 0.0,
                   across=repeat.across if repeat.across >= _FINE * scale else 0.0)


def flaw_shapes(lay: Lay) -> Iterator[Shape]:
    """Flaws, and what a remnant lacks, of either layer, where they come to lie."""
    for section in lay.sections:
        way = Spread(height_of(lay, section), section.fold_depth)
        for what, look in ((_flaws_alone(lay.cloth), Look.FLAW), (_outline_alone(lay.cloth), Look.OFF)):
            for ring in forbidden(what, way, section.start) if what is not None else ():
                clipped = _up_to(tuple(p + section.start for p in ring), section.start, _end(lay, section))
                if clipped:
                    yield Shape(Path.polyline((*clipped, clipped[0])), look, look.value)


def edge_words(lay: Lay, unit: str, scale: float, window: tuple[float, float]) -> Iterator[Words]:
    """What each edge is, and how each section lies."""
    for section in lay.sections:
        x0, x1 = max(section.start, window[0]), min(_end(lay, section), window[1])
        if x1 - x0 < _SHORT * scale:
            continue
        tall, deep = height_of(lay, section), section.fold_depth
        low = "selvedge" if deep is None else "FOLD"
        high = "selvedges" if deep is not None and abs(tall - deep) < 0.1 else "selvedge"
        middle = (x0 + x1) / 2
        if x1 - x0 >= 2 * _SHORT * scale:
            yield _small(low, complex(middle, -2.4 * scale), scale, bold=deep is not None)
            yield _small(high, complex(middle, tall + 0.9 * scale), scale)
        text = lies_words(section, unit)
        short = "open" if deep is None else "folded"
        ways = (text, text.partition(",")[0], short)
        text = next((way for way in ways if width_of(way, 1.9, True) <= (x1 - x0) / scale), short)
        yield _small(text, complex(middle, tall + (ABOVE - 2.4) * scale), scale, 1.9, bold=True)


def rulers(lay: Lay, unit: str, scale: float, window: tuple[float, float],
           brief: bool = False) -> tuple[list[Shape], list[Words]]:
    """A ruler along both long sides of the cloth, and one across it at the left end of the window.

    Args:
        brief: the one along the lower side alone.
    """
    shapes: list[Shape] = []
    words: list[Words] = []
    for section in lay.sections:
        x0, x1 = max(section.start, window[0]), min(_end(lay, section), window[1])
        if x1 <= x0:
            continue
        top = height_of(lay, section)
        for y, way in ((-3.6 * scale, -1), (top + 3.4 * scale, 1))[:1 if brief else 2]:
            _ruler(shapes, words, (complex(x0, y), complex(x1, y)), x0, x1, way, unit, scale)
    first = next((s for s in lay.sections if _end(lay, s) > window[0] + 1e-6), None)
    if first is not None and not brief:
        x = max(first.start, window[0]) - 1.6 * scale
        tall = height_of(lay, first)
        _ruler(shapes, words, (complex(x, 0), complex(x, tall)), 0.0, tall, 1, unit, scale)
    return shapes, words


def _ruler(shapes: list[Shape], words: list[Words], line: tuple[Point, Point], low: float, high: float, way: int,
           unit: str, scale: float) -> None:
    """Ticks and numbers between two places (mm), on a line along or across the cloth."""
    one, steps = _STEPS[unit]
    across = line[0].real == line[1].real
    out = (-1 if across else 1j * way) * scale
    fine = next((s for s in steps if s * one / scale >= _TICKS), steps[-1])
    coarse = next((s for s in steps if s * one / scale >= _NUMBERS and s % fine == 0), steps[-1])
    shapes.append(Shape(Path.line(*line), Look.RULER, "ruler"))
    for n in range(ceil(low / one / fine - 1e-9), floor(high / one / fine + 1e-9) + 1):
        at = n * fine * one
        foot = complex(line[0].real, at) if across else complex(at, line[0].imag)
        main = (n * fine) % coarse == 0
        shapes.append(Shape(Path.line(foot, foot + out * (1.6 if main else 0.9)), Look.RULER, "ruler"))
        if main:
            text = f"{n * fine}" if n else f"0 {unit}"
            lift = out * 2.2 if across or way > 0 else out * (2.2 + SMALL)
            words.append(Words(Caption(text, foot + lift, SMALL * scale, pi / 2 if across else 0.0,
                                       "start" if n == 0 and not across else "middle"), "ruler", False, QUIET))


def _small(text: str, at: Point, scale: float, height: float = SMALL, bold: bool = False) -> Words:
    return Words(Caption(text, at, height * scale, 0.0, "middle"), "cloth", bold, QUIET)


def _beats(first: float, pitch: float, low: float, high: float) -> list[float]:
    if pitch <= 0.0:
        return []
    return [first + k * pitch for k in range(ceil((low - first) / pitch), floor((high - first) / pitch) + 1)]


def _end(lay: Lay, section: Section) -> float:
    """Where a section's cloth ends on the picture: at the next one, so that no gap is left (mm)."""
    later = [s.start for s in lay.sections if s.start > section.start]
    return min(later, default=max(section.start + section.length, lay.length))


def _box(x0: float, y0: float, x1: float, y1: float) -> Path:
    return Path.polyline((complex(x0, y0), complex(x1, y0), complex(x1, y1), complex(x0, y1), complex(x0, y0)))


def _flaws_alone(cloth: Cloth) -> Cloth | None:
    return replace(cloth, outline=None) if cloth.flaws else None


def _outline_alone(cloth: Cloth) -> Cloth | None:
    return replace(cloth, flaws=()) if cloth.outline is not None else None


def _up_to(ring: tuple[Point, ...], low: float, high: float) -> tuple[Point, ...]:
    """The part of a surface between two places along the cloth; nothing where it has none."""
    from shapely import box
    from shapely.geometry import Polygon

    part = Polygon([(p.real, p.imag) for p in ring]).intersection(box(low, -1e5, high, 1e5))
    largest = max(getattr(part, "geoms", [part]), key=lambda g: g.area)
    if largest.is_empty or largest.geom_type != "Polygon":
        return ()
    return tuple(complex(x, y) for x, y in largest.exterior.coords[:-1])
