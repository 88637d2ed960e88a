"""What belongs to the paper and what to the pattern: frames, registration marks, page labels."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from toilewright.intake.clipping import Box
from toilewright.intake.drawing import Page, Stroke, Word

MARK = 45.0
"""mm; registration marks are smaller than this, and nearer than this to the edge of the paper."""

_WIDE = 0.6
"""Share of the paper that a frame spans."""

_BEYOND = 1.0
"""mm; a rectangle that runs further than this off the paper is a piece that goes on over the next pages."""

_CELL = re.compile(r"^(?:([A-Za-z]{1,2})\s?-?\s?(\d{1,2})|(\d{1,2})\s?-?\s?([A-Z]))$")
_ROW_COLUMN = re.compile(r"\b(?:r(?:ow|eihe)?|z(?:eile)?)\W{0,2}(\d{1,2})\W{0,3}"
                         r"(?:c(?:ol(?:umn)?)?|s(?:palte)?)\W{0,2}(\d{1,2})\b", re.I)
_COUNTED = re.compile(r"^(?:page|seite|sheet|blatt|p\.?|s\.?)?\s*(\d{1,3})\s*(?:/|of|von|sur|de)?\s*(\d{1,3})?$", re.I)
_JOINS = re.compile(r"^(?:joins?|meets?|to|an|->|→)\s+\S{1,4}$", re.I)


@dataclass
class Tile:
    """One page without its furniture.

    Attributes:
        page: the page as read.
        strokes: its pattern lines.
        cell: (row, column) that its label names, from 0, or None.
        words: without page labels.
        frame: its own printed frame, or None.
    """

    page: Page
    strokes: list[Stroke]
    words: list[Word]
    cell: tuple[int, int] | None = None
    frame: Box | None = None
    marks: list[Stroke] = field(default_factory=list)


def sort_pages(pages: Sequence[Page]) -> list[Tile]:
    """Take frames, registration marks and labels off the pages, and read the labels."""
    seen: dict[tuple, set[int]] = defaultdict(set)
    places = [[_place(s) for s in page.strokes] for page in pages]
    for page, keys in zip(pages, places, strict=True):
        for key in keys:
            seen[key].add(page.number)
    inked = sum(bool(p.strokes) for p in pages)
    tiles = []
    for page, keys in zip(pages, places, strict=True):
        tile = Tile(page, [], [])
        bars: list[Stroke] = []
        kinds = [_kind(stroke, page, len(seen[key]), inked) for stroke, key in zip(page.strokes, keys, strict=True)]
        once = sum(kind == "frame" and len(seen[key]) < 2 for kind, key in zip(kinds, keys, strict=True))
        for stroke, key, kind in zip(page.strokes, keys, kinds, strict=True):
            if kind == "frame" and once > 1 and len(seen[key]) < 2:
                tile.strokes.append(stroke)  # the sizes of a square-cut piece, one inside the other
            elif kind == "frame":
                tile.frame = stroke.path.bounds
            elif kind == "bar":
                bars.append(stroke)
            else:
                (tile.marks if kind == "mark" else tile.strokes).append(stroke)
        tile.strokes += _frame_of_bars(tile, bars)
        tiles.append(tile)
    _read_labels(tiles)
    return tiles


def _place(stroke: Stroke) -> tuple:
    nodes = stroke.path.nodes
    a, b, c = 10 * nodes[0], 10 * nodes[len(nodes) // 2], 10 * nodes[-1]
    return (len(nodes), round(a.real + 0.137), round(a.imag + 0.137), round(b.real + 0.137), round(b.imag + 0.137),
            round(c.real + 0.137), round(c.imag + 0.137))


def _kind(stroke: Stroke, page: Page, times: int, pages: int) -> str:
    nodes = stroke.path.nodes
    if times < 2 and not (len(nodes) == 5 and stroke.path.closed):
        return ""
    x0, y0, x1, y1 = stroke.path.bounds
    wide, high = x1 - x0 > _WIDE * page.width, y1 - y0 > _WIDE * page.height
    if wide and high:
        if min(x0, y0, page.width - x1, page.height - y1) < -_BEYOND:
            return ""
        upright = all(min(abs(d.real), abs(d.imag)) < 0.05 for d in
                      (b - a for a, b in pairwise(nodes)))
        return "frame" if len(nodes) == 5 and upright and not any(stroke.path.handles) else ""
    if times < 2:
        return ""
    if max(x1 - x0, y1 - y0) < MARK:
        edge = min(x0, y0, page.width - x1, page.height - y1)
        return "mark" if edge < MARK else ""
    if (wide or high) and len(nodes) == 2 and min(x1 - x0, y1 - y0) < 0.05:
        return "bar" if times >= max(2, _WIDE * pages) else ""
    return "mark" if times >= max(3, _WIDE * pages) else ""


def _frame_of_bars(tile: Tile, bars: list[Stroke]) -> list[Stroke]:
    """Take four lines that make a frame; hand back the others, which are lines of the pattern."""
    boxes = [b.path.bounds for b in bars]
    across = [b for b in boxes if b[2] - b[0] > b[3] - b[1]]
    along = [b for b in boxes if b[2] - b[0] <= b[3] - b[1]]
    if len(across) < 2 or len(along) < 2:
        return bars
    frame = (min(b[0] for b in along), min(b[1] for b in across), max(b[0] for b in along), max(b[1] for b in across))
    tile.frame = tile.frame or frame
    return [s for s, b in zip(bars, boxes, strict=True)
            if not (any(abs(b[k] - frame[k]) < 0.1 and abs(b[k] - b[k ^ 2]) < 0.1 for k in (0, 2, 1, 3)))]


# -- labels ----------------------------------------------------------------------------------------


def _read_labels(tiles: list[Tile]) -> None:
    """Cells that pages print on themselves, where they are different on every page; labels are no pattern words."""
    places: Counter = Counter()
    for tile in tiles:
        places.update({_spot(w) for w in tile.page.words})
    shown = Counter(cell for t in tiles if not _is_map(t.page)
                    for cell in {cell_of(w.text.strip()) for w in t.page.words} if cell)
    for tile in tiles:
        cells: Counter = Counter()
        for word in tile.page.words:
            text = word.text.strip()
            steady = places[_spot(word)] > 1 or _at_edge(word, tile.page)
            if steady and label_kind(text):
                if (cell := cell_of(text)) and shown[cell] == 1:  # joints are labelled on both their pages
                    cells[cell] += 1
            elif places[_spot(word)] < max(3, _WIDE * len(tiles)):
                tile.words.append(word)
        (cell, most), (_, second) = (*cells.most_common(2), (None, 0), (None, 0))[:2]
        tile.cell = cell if most > second and not _is_map(tile.page) else None
    times = Counter(t.cell for t in tiles if t.cell)
    if any(n > 1 for n in times.values()):
        for tile in tiles:
            tile.cell = None


def _is_map(page: Page) -> bool:
    """Does a page name many pages, all equally often?"""
    named = Counter(cell for w in page.words if (cell := cell_of(w.text.strip())))
    return len(named) > 3 and len(set(named.values())) == 1


def _spot(word: Word) -> tuple[int, int]:
    return round(word.at.real / 4), round(word.at.imag / 4)


def _at_edge(word: Word, page: Page) -> bool:
    x, y = word.at.real, word.at.imag
    return min(x, y, page.width - x, page.height - y) < 25.0


def label_kind(text: str) -> str:
    """What kind of page label a text is: ``cell``, ``count``, ``joins``, or "" for none.

    >>> label_kind("B3"), label_kind("page 2 of 9"), label_kind("bodice front")
    ('cell', 'count', '')
    """
    if cell_of(text):
        return "cell"
    return "count" if _COUNTED.match(text) else "joins" if _JOINS.match(text) else ""


def cell_of(text: str) -> tuple[int, int] | None:
    """Row and column, from 0, that a page label names.

    >>> cell_of("B3"), cell_of("row 2, column 5")
    ((1, 2), (1, 4))
    """
    if found := _ROW_COLUMN.search(text):
        return int(found.group(1)) - 1, int(found.group(2)) - 1
    if not (found := _CELL.match(text)):
        return None
    letters, number = (found.group(1), found.group(2)) if found.group(1) else (found.group(4), found.group(3))
    row = 0
    for letter in letters.upper():
        row = 26 * row + ord(letter) - ord("A") + 1
    return row - 1, int(number) - 1
