"""What a file shows, before anybody knows what it means: strokes and words on pages."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.errors import Finding
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point


@dataclass(frozen=True, slots=True)
class Look:
    """How a stroke is drawn.

    Attributes:
        layer: name of its optional-content layer, SVG layer or DXF layer; None where the file has none.
        colour: stroke colour, red-green-blue from 0 to 1.
        dash: lengths of strokes and gaps in mm, empty for a plain line.
        width: pen width in mm.
    """

    layer: str | None = None
    colour: tuple[float, float, float] = (0.0, 0.0, 0.0)
    dash: tuple[float, ...] = ()
    width: float = 0.3


@dataclass(frozen=True, slots=True)
class Stroke:
    """One line as drawn, in mm on its page (y up), or on the joined sheet.

    Attributes:
        path: where it runs; `path.closed` tells an outline from an open line.
        look: how it is drawn (one shared object for all strokes that look alike).
        page: page it was found on, counted from 1; 0 on a joined sheet.
        filled: painted as a solid shape (arrow heads, black notch triangles).
        tag: what an interchange file says it is: a DXF layer number of ASTM D6673, or "".
        block: name of the DXF block it was found in, or "".
    """

    path: Path
    look: Look
    page: int = 0
    filled: bool = False
    tag: str = ""
    block: str = ""


@dataclass(frozen=True, slots=True)
class Word:
    """A run of text: its characters, where its baseline starts (mm), its height and angle (radians)."""

    text: str
    at: Point
    height: float
    angle: float = 0.0
    look: Look = Look()
    page: int = 0
    block: str = ""


@dataclass(frozen=True, slots=True)
class LaidPage:
    """Where a page of the file came to lie on the joined sheet.

    Attributes:
        number: of the page, from 1.
        at: its lower left corner (mm).
        apart: set beside the sheet (a title, instructions), not part of it.
    """

    number: int
    at: Point
    width: float
    height: float
    apart: bool = False


@dataclass(frozen=True, slots=True)
class Page:
    """One page or sheet: its size in mm, what is drawn on it, and its number from 1.

    Attributes:
        laid: of a joined sheet, the pages that it was joined from.
    """

    number: int
    width: float
    height: float
    strokes: tuple[Stroke, ...]
    words: tuple[Word, ...] = ()
    laid: tuple[LaidPage, ...] = ()


@dataclass(frozen=True, slots=True)
class Drawing:
    """A whole file as read; lengths in mm, y up.

    Attributes:
        pages: one for an SVG, a DXF or a single sheet; many for a tiled PDF.
        layers: names in the order the file lists them.
        kind: ``pdf``, ``svg`` or ``dxf``.
        findings: what the reader could not make sense of.
    """

    pages: tuple[Page, ...]
    layers: tuple[str, ...] = ()
    kind: str = "pdf"
    findings: tuple[Finding, ...] = ()
