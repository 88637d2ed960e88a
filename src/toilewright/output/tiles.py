"""A sheet divided over printer pages: the grid, the overlap, and the marks by which pages are put together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import ceil

from reportlab.pdfgen.canvas import Canvas

from toilewright.errors import InputError, NameUnknown
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.marks import hole
from toilewright.output.paper import INK, MM, trace, write

PAPERS: dict[str, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height in mm (ISO 216; ANSI/ASME Y14.1 size A)."""

QUIET = "#8f867c"


@dataclass(frozen=True, slots=True)
class Tile:
    """One page: row from the top and column from the left, both from 0."""

    row: int
    column: int

    @property
    def name(self) -> str:
        """Row letter and column number, e.g. ``B3``."""
        letters, n = "", self.row
        while n >= 0:
            letters = chr(ord("A") + n % 26) + letters
            n = n // 26 - 1
        return f"{letters}{self.column + 1}"


@dataclass(frozen=True, slots=True)
class TileGrid:
    """How a sheet lies on pages.

    Attributes:
        paper: width and height of a page (mm).
        width, height: of the sheet, its lower left corner at 0 (mm).
        margin: from the page's edge to the printed frame; most printers cannot print nearer to the edge (mm).
        overlap: what neighbouring pages both show (mm).
    """

    paper: tuple[float, float]
    width: float
    height: float
    margin: float = 8.0
    overlap: float = 10.0

    @property
    def frame(self) -> tuple[float, float]:
        """Width and height of the printed frame (mm)."""
        return self.paper[0] - 2 * self.margin, self.paper[1] - 2 * self.margin

    @property
    def step(self) -> tuple[float, float]:
        """From one frame to the next (mm)."""
        return self.frame[0] - self.overlap, self.frame[1] - self.overlap

    @property
    def columns(self) -> int:
        """Pages side by side."""
        return max(1, ceil((self.width - self.overlap) / self.step[0] - 1e-9))

    @property
    def rows(self) -> int:
        """Pages below each other."""
        return max(1, ceil((self.height - self.overlap) / self.step[1] - 1e-9))

    def tiles(self) -> Iterator[Tile]:
        """All pages, row by row from the top."""
        return (Tile(r, c) for r in range(self.rows) for c in range(self.columns))

    def window(self, tile: Tile) -> tuple[float, float, float, float]:
        """What a page's frame shows of the sheet: (x min, y min, x max, y max) in mm."""
        x = tile.column * self.step[0]
        y = self.height - tile.row * self.step[1]
        return x, y - self.frame[1], x + self.frame[0], y

    def core(self, tile: Tile) -> tuple[float, float, float, float]:
        """The part that is this page's own: every point of the sheet lies in one core, overlaps halved."""
        x0, y0, x1, y1 = self.window(tile)
        half = self.overlap / 2
        return (x0 + half * (tile.column > 0), y0 + half * (tile.row < self.rows - 1),
                x1 - half * (tile.column < self.columns - 1), y1 - half * (tile.row > 0))

    def place(self, tile: Tile, p: Point) -> Point:
        """A point of the sheet on the page (mm)."""
        x0, y0, _, _ = self.window(tile)
        return p - complex(x0, y0) + complex(self.margin, self.margin)

    def neighbours(self, tile: Tile) -> dict[str, Tile | None]:
        """The pages on the four sides, by side."""
        r, c = tile.row, tile.column
        return {"top": Tile(r - 1, c) if r else None, "bottom": Tile(r + 1, c) if r + 1 < self.rows else None,
                "left": Tile(r, c - 1) if c else None, "right": Tile(r, c + 1) if c + 1 < self.columns else None}

    def marks(self, tile: Tile) -> Iterator[Point]:
        """Centres of the registration marks that a page shows (sheet coordinates, mm): two on each joint."""
        x0, y0, x1, y1 = self.window(tile)
        sides, half = self.neighbours(tile), self.overlap / 2
        for share in (0.2, 0.8):
            y, x = y0 + share * (y1 - y0), x0 + share * (x1 - x0)
            yield from (complex(at, y) for side, at in (("left", x0 + half), ("right", x1 - half)) if sides[side])
            yield from (complex(x, at) for side, at in (("bottom", y0 + half), ("top", y1 - half)) if sides[side])


def paper_size(paper: str) -> tuple[float, float]:
    """Width and height of a paper by name (mm).

    Raises:
        NameUnknown: not one of :data:`PAPERS`.
    """
    if paper.lower() not in PAPERS:
        raise NameUnknown.among("paper", paper, PAPERS)
    return PAPERS[paper.lower()]


def inked_tiles(grid: TileGrid, lines: Iterable[Path]) -> frozenset[Tile]:
    """The pages that have something of the drawing on them.

    Raises:
        InputError: the sheet is so large that it would need thousands of pages.
    """
    from shapely import STRtree, box
    from shapely.geometry import LineString

    if grid.rows * grid.columns > 2000:
        raise InputError(f"The sheet of {grid.width / 1000:.1f} by {grid.height / 1000:.1f} m would need "
                         f"{grid.rows * grid.columns} pages; print fewer pieces at a time.")
    tree = STRtree([LineString([(p.real, p.imag) for p in line.flatten(0.2)]) for line in lines])
    return frozenset(t for t in grid.tiles() if len(tree.query(box(*grid.core(t)), predicate="intersects")))


def touches(window: tuple[float, float, float, float], box: tuple[float, float, float, float]) -> bool:
    """Do two boxes share a point?"""
    return window[0] <= box[2] and box[0] <= window[2] and window[1] <= box[3] and box[1] <= window[3]


def clip_to_frame(pdf: Canvas, grid: TileGrid) -> None:
    """Whatever is drawn next shows inside the frame only (until the state is restored)."""
    path = pdf.beginPath()
    path.rect(grid.margin * MM, grid.margin * MM, grid.frame[0] * MM, grid.frame[1] * MM)
    pdf.clipPath(path, stroke=0, fill=0)


def draw_furniture(pdf: Canvas, grid: TileGrid, tile: Tile, printed: frozenset[Tile]) -> None:
    """Frame, registration marks, and labels on all sides of a page.

    Args:
        printed: the pages that exist; beside a blank one no joint is announced.
    """
    pdf.saveState()
    pdf.setStrokeColor(QUIET)
    pdf.setLineWidth(0.15 * MM)
    pdf.rect(grid.margin * MM, grid.margin * MM, grid.frame[0] * MM, grid.frame[1] * MM)
    pdf.setStrokeColor(INK)
    for at in grid.marks(tile):
        centre = grid.place(tile, at)
        pdf.drawPath(trace(pdf, hole(centre, 2.4)), stroke=1, fill=0)
        for way in (3.6, 3.6j):
            pdf.drawPath(trace(pdf, Path.line(centre - way, centre + way)), stroke=1, fill=0)
    pdf.restoreState()
    width, height = grid.paper
    edge, middle = grid.margin + 1.6, complex(width, height) / 2
    places = {"top": (complex(middle.real, height - edge - 2.4), 0.0), "bottom": (complex(middle.real, edge), 0.0),
              "left": (complex(edge + 2.4, middle.imag), 1.5707963267948966),
              "right": (complex(width - edge, middle.imag), 1.5707963267948966)}
    for side, other in grid.neighbours(tile).items():
        at, angle = places[side]
        write(pdf, tile.name, at, 2.6, bold=True, angle=angle, anchor="middle")
        if other and other in printed:
            shift = 9.0 if angle == 0 else 9.0j
            write(pdf, f"joins {other.name}", at + shift, 1.8, colour=QUIET, angle=angle)
