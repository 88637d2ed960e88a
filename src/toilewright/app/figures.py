"""Figures as drawings in a page: classes and no colours, so that the page's own style paints them, light or dark."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from html import escape
from math import degrees

from markupsafe import Markup

from toilewright.draw.figure import Caption, Figure, Mark, Pen
from toilewright.geometry.path import Path
from toilewright.output.path_data import path_data

Box = tuple[float, float, float, float]

_LETTER = 15.0
"""px; letters of a drawing keep this height however small the piece is shown."""

_AIR = 4.0
"""px round a drawing, so that no line is cut in half."""


def figure_svg(figure: Figure, title: str, room: tuple[float, float], *, letter: float = _LETTER,
               show: Callable[[str], str] = str) -> Markup:
    """A figure fitted into a room on the page.

    Args:
        title: what it shows, for those who do not see it.
        room: width and height it may take at most (px).
        letter: px; 0 leaves the captions out.
        show: the words on the page for a caption's text.

    Returns:
        An ``svg`` whose lines carry ``pen-...`` classes.
    """
    captions = figure.captions if letter else ()
    scale, box = _fitted(figure.bounds(), captions, room, letter, show)
    marks = sorted(figure.marks, key=lambda m: m.pen is not Pen.FILL)
    return drawing("".join(map(_mark, marks)) + "".join(_caption(c, letter / scale, show) for c in captions),
                   box, scale, title)


def drawing(inside: str, box: Box, scale: float, title: str, name: str = "figure") -> Markup:
    """Marks as an ``svg`` over a box given in mm, y up."""
    x0, y0, x1, y1 = box
    wide, tall = x1 - x0, y1 - y0
    return Markup(f'<svg class="{name}" viewBox="{x0:.2f} {-y1:.2f} {wide:.2f} {tall:.2f}" width="{wide * scale:.0f}" '
                  f'height="{tall * scale:.0f}" role="img" aria-label="{escape(title)}">{inside}</svg>')


def pieces_svg(outlines: Iterable[tuple[Path, str]], box: Box, room: tuple[float, float], title: str) -> Markup:
    """Lines with their classes, fitted into a room on the page."""
    scale = min(room[0] / max(box[2] - box[0], 1.0), room[1] / max(box[3] - box[1], 1.0))
    inside = "".join(line(path, name) for path, name in outlines)
    air = _AIR / scale
    return drawing(inside, (box[0] - air, box[1] - air, box[2] + air, box[3] + air), scale, title)


def line(path: Path, name: str) -> str:
    """One line, with a class."""
    return f'<path class="{name}" d="{path_data(path)}"/>'


def _mark(mark: Mark) -> str:
    return line(mark.path, f"pen-{mark.pen.value.replace(' ', '-')}")


def _caption(caption: Caption, size: float, show: Callable[[str], str]) -> str:
    at = f"{caption.at.real:.2f} {-caption.at.imag:.2f}"
    turned = f" rotate({-degrees(caption.angle):.2f})" if caption.angle else ""
    return (f'<text class="pen-words" font-size="{size:.2f}" text-anchor="{caption.anchor}" '
            f'transform="translate({at}){turned}">{escape(show(caption.text))}</text>')


def _fitted(bounds: Box, captions: Iterable[Caption], room: tuple[float, float], letter: float,
            show: Callable[[str], str]) -> tuple[float, Box]:
    """px per mm, and the box of marks and captions; the captions' own room depends on the scale and the other way."""
    box, scale = bounds, 1.0
    for _ in range(4):
        scale = min((room[0] - 2 * _AIR) / max(box[2] - box[0], 1.0), (room[1] - 2 * _AIR) / max(box[3] - box[1], 1.0))
        boxes = [bounds, *(_ground(c, letter / scale, show) for c in captions)]
        box = (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))
    air = _AIR / scale
    return scale, (box[0] - air, box[1] - air, box[2] + air, box[3] + air)


def _ground(caption: Caption, size: float, show: Callable[[str], str]) -> Box:
    """The room that a caption takes (mm)."""
    return replace(caption, text=show(caption.text)).box(size)
