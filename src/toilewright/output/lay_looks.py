"""How everything on a lay looks, on paper and on a screen: widths in mm on paper, whatever the scale."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from toilewright.draw.figure import Caption
from toilewright.geometry.path import Path
from toilewright.output.pens import INK, Stroke

QUIET = "#6f675e"
"""Rulers, edges, side remarks."""


class Look(StrEnum):
    """What a line or a surface of a lay stands for."""

    SINGLE = "cloth in one layer"
    DOUBLE = "cloth in two layers"
    OFF = "no cloth"
    PIECE = "piece"
    STRIPE = "repeat"
    FLAW = "flaw"
    SELVEDGE = "selvedge"
    END = "end"
    FOLD = "fold"
    CUT = "cutting line"
    FOLD_EDGE = "fold edge"
    GRAIN = "grain"
    NOTCH = "notch"
    DART = "dart"
    DRILL = "drill mark"
    RULER = "ruler"
    JOIN = "join"


LOOKS: dict[Look, Stroke] = {
    Look.SINGLE: Stroke("none", 0.0, (), "#f7f1e4"),
    Look.DOUBLE: Stroke("none", 0.0, (), "#e6d9bd"),
    Look.OFF: Stroke("#a79d92", 0.2, (1.0, 1.0), "#ffffff"),
    Look.PIECE: Stroke("none", 0.0, (), "#ffffff"),
    Look.STRIPE: Stroke("#b9c7d8", 0.3),
    Look.FLAW: Stroke("#a2352f", 0.3, (), "#f0c9c2"),
    Look.SELVEDGE: Stroke("#8f867c", 0.7),
    Look.END: Stroke("#8f867c", 0.25, (1.4, 1.0)),
    Look.FOLD: Stroke("#22406b", 0.7, (5.0, 1.2, 1.0, 1.2)),
    Look.CUT: Stroke(INK, 0.35),
    Look.FOLD_EDGE: Stroke("#22406b", 0.7),
    Look.GRAIN: Stroke(INK, 0.18),
    Look.NOTCH: Stroke(INK, 0.35),
    Look.DART: Stroke(INK, 0.18, (1.2, 0.8)),
    Look.DRILL: Stroke(INK, 0.2, (), "#ffffff"),
    Look.RULER: Stroke(QUIET, 0.2),
    Look.JOIN: Stroke("#a2352f", 0.3, (2.0, 1.0)),
}
"""Straw for cloth, darker where it lies double; white for what is cut; blue for the fold; red for what to mind."""


@dataclass(frozen=True, slots=True)
class Shape:
    """One line or surface, in mm on the cloth.

    Attributes:
        group: what it belongs to, for files that have groups.
    """

    path: Path
    look: Look
    group: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """One line of words; place and letter height in mm on the cloth."""

    caption: Caption
    group: str = ""
    bold: bool = False
    colour: str = INK


@dataclass(frozen=True, slots=True)
class Scene:
    """A lay, or a stretch of it, as a drawing.

    Attributes:
        box: (x min, y min, x max, y max) of everything, in mm on the cloth.
        window: (x from, x to) that is shown of the cloth; shapes may go beyond it and are cut off there.
        scale: mm on the cloth for one on paper, for which letters and pens are meant.
    """

    shapes: tuple[Shape, ...]
    words: tuple[Words, ...]
    box: tuple[float, float, float, float]
    window: tuple[float, float]
    scale: float
