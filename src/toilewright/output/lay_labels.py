"""Numbers and names on the pieces of a lay: as much as has room in the size at which it is printed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from toilewright.draw.figure import Caption
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.lay_looks import Words
from toilewright.output.lay_sheet import OneCut
from toilewright.output.paper import width_of
from toilewright.output.places import Line, fitted, ground

if TYPE_CHECKING:
    from shapely.geometry import Polygon

_NAME, _HOW, _NOTE, _ALONE = 2.3, 1.75, 1.6, 2.6
"""mm on paper; height of the capitals of a label's lines, and of a number that stands alone."""

_LEAST = 0.79
"""A label that has to be made smaller than this gives way to a shorter one."""

_SMALLEST = 1.5
"""mm on paper; smaller letters are not read over a table."""

_SHARE = 0.3
"""Of a piece that runs over two sheets: a part smaller than this has no label of its own."""


def labels(cut: OneCut, group: str, marks: Sequence[Path], scale: float, window: tuple[float, float],
           brief: bool = False) -> tuple[Words, ...]:
    """The label of a cut, in the part of it that lies in the window; nothing where that is but a scrap of it.

    Args:
        marks: lines that words should not lie on.
        scale: mm on the cloth for one on paper.
        brief: number and name alone, for small pictures.
    """
    room = _shown(cut, window)
    if room is None:
        return ()
    inside = Path.polyline((*room, room[0]))
    on = ground(inside, marks)
    for lines in _wordings(cut, brief):
        clear = 0.9 if len(lines) > 1 or cut.name in lines[0].text else 1.7
        tall = [Line(line.text, line.height * scale, line.bold) for line in lines]
        placed = fitted(tall, on, clear * scale, _LEAST)
        if placed is not None:
            return tuple(Words(c, group, line.bold) for c, line in zip(placed[0], lines, strict=True))
    return (_number_alone(cut, inside, scale, group),)


def _wordings(cut: OneCut, brief: bool) -> list[tuple[Line, ...]]:
    """From all that could be said to the number alone."""
    title = Line(f"{cut.turn}  {cut.name}", _NAME, True)
    whose = [Line(cut.one.piece.make, _NOTE)] if cut.one.piece.make else []
    note = [Line(cut.note, _NOTE)] if cut.note else []
    how = Line(cut.how, _HOW)
    if brief:
        return [(title,), *_in_two(cut), (Line(str(cut.turn), _NAME, True),)]
    found = [(title, how, *whose, *note), (title, how, *note), (title, how), *((*t, how) for t in _in_two(cut)),
             (Line(f"{cut.turn}  {cut.name}, {cut.how}", 2.0, True),),
             (Line(f"{cut.turn}  {cut.name}{_hand(cut)}", _NAME, True),), *_in_two(cut, _hand(cut)),
             (Line(f"{cut.turn}{_hand(cut)}", _ALONE, True),)]
    return list(dict.fromkeys(found))


def _hand(cut: OneCut) -> str:
    """The letter that is chalked on one copy of a pair, where there is no room for the word."""
    return f" {cut.hand}" if cut.hand else ""


def _in_two(cut: OneCut, hand: str = "") -> list[tuple[Line, ...]]:
    """The number above the name, for narrow pieces."""
    first, _, rest = cut.name.partition(" ")
    stacked = (Line(f"{cut.turn}", _NAME, True), Line(f"{cut.name}{hand}", 2.0, True))
    broken = (Line(f"{cut.turn}  {first}", 2.0, True), Line(f"{rest}{hand}", 2.0, True))
    return [stacked, *([broken] if rest else [])]


def _number_alone(cut: OneCut, inside: Path, scale: float, group: str) -> Words:
    """The number in the middle of a small piece, no taller than the piece."""
    from shapely import maximum_inscribed_circle
    from shapely.geometry import Polygon

    circle = maximum_inscribed_circle(Polygon([(p.real, p.imag) for p in inside.nodes]).buffer(0))
    (x, y), (x1, y1) = circle.coords
    radius = abs(complex(x1 - x, y1 - y))
    text = f"{cut.turn}{_hand(cut)}"
    height = max(min(_ALONE * scale, 1.5 * radius, 1.6 * radius / max(width_of(text, 1.0, True), 0.1)),
                 _SMALLEST * scale)
    return Words(Caption(text, complex(x, y - height / 2), height, 0.0, "middle"), group, True)


def _shown(cut: OneCut, window: tuple[float, float]) -> tuple[Point, ...] | None:
    """The part of a piece's outline that lies in a window along the cloth."""
    outline = cut.one.outline
    low, high = min(p.real for p in outline), max(p.real for p in outline)
    if window[0] <= low and high <= window[1]:
        return outline
    from shapely import box
    from shapely.geometry import Polygon

    whole = Polygon([(p.real, p.imag) for p in outline]).buffer(0)
    part = whole.intersection(box(window[0], -1e5, window[1], 1e5))
    largest: Polygon = max(getattr(part, "geoms", [part]), key=lambda g: g.area)
    if largest.is_empty or largest.geom_type != "Polygon" or largest.area < _SHARE * whole.area:
        return None
    return tuple(complex(x, y) for x, y in largest.exterior.coords[:-1])
