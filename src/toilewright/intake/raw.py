"""What the reader makes out on a joined sheet, before edges have names: pieces by size, as printed."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.errors import Finding
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.intake.drawing import LaidPage, Word


@dataclass(frozen=True, slots=True)
class RawNotch:
    """A tick, triangle or double tick on the printed outline: where (mm, on the outline) and how many."""

    at: Point
    count: int = 1


@dataclass(frozen=True, slots=True)
class RawDart:
    """Two drawn legs: where each meets the printed outline (or stops short of it), and the apex (mm)."""

    first: Point
    second: Point
    apex: Point


@dataclass(frozen=True, slots=True)
class RawPiece:
    """One piece in one size, as printed.

    Attributes:
        name: words on the piece that name it, tidied, lower case (the same in every size), or "piece 3".
        size: its size name.
        outline: the closed printed line, counter-clockwise, mm, true scale.
        notches, darts: as drawn.
        grain: tail and head of the grain arrow.
        fold: two points of the outline between which it is placed on the fold, or None.
        lines: other lines drawn inside it, with the words found along each ("" if none).
        seam_drawn: a seam line drawn inside the cutting line, closed, if the sheet shows one.
        words: words inside or touching the piece.
        cut_count, mirrored: from words such as "cut 2" / "cut a pair"; None when not said.
    """

    name: str
    size: str
    outline: Path
    notches: tuple[RawNotch, ...] = ()
    darts: tuple[RawDart, ...] = ()
    grain: tuple[Point, Point] | None = None
    fold: tuple[Point, Point] | None = None
    lines: tuple[tuple[Path, str], ...] = ()
    seam_drawn: Path | None = None
    words: tuple[Word, ...] = ()
    cut_count: int | None = None
    mirrored: bool | None = None


@dataclass(frozen=True, slots=True)
class TestSquare:
    """The printed test square: width and height as drawn, and what its caption says it should be (mm)."""

    width: float
    height: float
    nominal: float
    at: Point


@dataclass(frozen=True, slots=True)
class RawPattern:
    """All pieces in all sizes as printed, at true scale.

    Attributes:
        sizes: names, smallest first.
        pieces: for each piece its sizes in the order of `sizes`; None where a size is missing.
        allowance: seam allowance in mm that the sheet says is included; None when it says nothing.
        line: ``cutting`` when the printed outline is the cutting line, ``seam`` when it is the seam line.
        words: words that belong to no piece (title, chart, instructions).
        scale: factor that was applied to bring the sheet to true scale (1.0 when none).
        laid: where the pages of the file lie on the sheet, at that scale; empty for a file of one page.
    """

    sizes: tuple[str, ...]
    pieces: tuple[tuple[RawPiece | None, ...], ...]
    allowance: float | None
    line: str
    test_square: TestSquare | None
    words: tuple[Word, ...] = ()
    findings: tuple[Finding, ...] = ()
    scale: float = 1.0
    laid: tuple[LaidPage, ...] = ()
