"""How each pen looks: one table for paper and screen."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.draw.figure import Pen


@dataclass(frozen=True, slots=True)
class Stroke:
    """A pen's look: colour as #rrggbb, width in mm, dash lengths in mm, and a tint for filled shapes."""

    colour: str
    width: float
    dash: tuple[float, ...] = ()
    fill: str | None = None


INK = "#2b2622"
"""Warm black: what is printed to be cut and sewn."""

PENS: dict[Pen, Stroke] = {
    Pen.CUT: Stroke(INK, 0.45),
    Pen.SEAM: Stroke(INK, 0.25, (4.0, 2.0)),
    Pen.FOLD: Stroke(INK, 0.45),
    Pen.GRAIN: Stroke(INK, 0.3),
    Pen.DART: Stroke(INK, 0.3, (2.5, 1.5)),
    Pen.NOTCH: Stroke(INK, 0.5),
    Pen.OLD: Stroke("#8f867c", 0.3, (3.0, 2.0)),
    Pen.NEW: Stroke("#22406b", 0.55),
    Pen.SLASH: Stroke("#a2352f", 0.4, (6.0, 1.6, 1.2, 1.6)),
    Pen.GUIDE: Stroke("#a79d92", 0.2, (0.8, 1.4)),
    Pen.MARK: Stroke(INK, 0.3),
    Pen.FILL: Stroke("#d9c387", 0.15, (), "#f6ecd0"),
    Pen.BODY: Stroke("#6f665d", 0.3, (), "#fbf7f0"),
    Pen.TAPE: Stroke("#22406b", 0.8),
    Pen.TAPE_BEHIND: Stroke("#22406b", 0.4, (2.0, 1.4)),
}
"""Grey and broken for what was, blue for what will be, red for the scissors, straw for added paper; a tape
is blue."""
