"""Tiled pages put back together on one sheet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from toilewright.errors import FileError, Finding, Severity
from toilewright.geometry.point import Point
from toilewright.intake.drawing import Drawing, LaidPage, Page, Stroke, Word
from toilewright.intake.looks import legend_strokes
from toilewright.intake.pdf import MIRRORED
from toilewright.intake.squares import square_strokes
from toilewright.intake.tile_grid import in_reading_order
from toilewright.intake.tile_layout import Layout, lay_by_ends, lay_by_repeats, lay_side_by_side
from toilewright.intake.tile_merge import merge, without_repeats, words_once
from toilewright.intake.tile_repeats import Repeats
from toilewright.intake.tile_sort import MARK, Tile, sort_pages
from toilewright.intake.tile_turns import upright

_GAP = 20.0
"""mm; room between the sheet and the pages that are set apart beside it."""

_ARM = 25.0
"""mm; the arms of crosses are shorter than this; a longer line on a joint is one of the pattern."""

_ON_JOINT = 0.6
"""mm; registration marks sit this exactly on the joint between two pages."""


def join_pages(drawing: Drawing) -> Drawing:
    """One page, number 0, with everything in its true relative position.

    Pages are placed by lines that several of them repeat, by line ends that meet at their borders, by their labels,
    and by their order in the file, in this order of trust. Lines cut at borders are made whole, repeats left out,
    frames, registration marks and page labels taken off. Pages without a place (titles, instructions) are set apart
    to the right of the sheet: of them only the words, the test square and the legend are kept.

    Raises:
        FileError: a page is missing, mirrored, or printed at another scale than the others.
    """
    mirrored = [f for f in drawing.findings if f.code == MIRRORED]
    if mirrored:
        raise FileError(mirrored[0].text)
    if len(drawing.pages) == 1:
        page = drawing.pages[0]
        return replace(drawing, pages=(Page(0, page.width, page.height, _renumbered(page.strokes, 0j),
                                            _moved_words(page.words, 0j)),))
    apart = _own_sheets(drawing.pages)
    pages, turned = ((), ()) if apart else upright(drawing.pages)
    tiles = [Tile(p, list(p.strokes), list(p.words)) for p in drawing.pages] if apart else sort_pages(pages)
    layout = lay_side_by_side(tiles) if apart else _layout(tiles)
    sheet, findings = _assemble(tiles, layout)
    return replace(drawing, pages=(sheet,), findings=(*drawing.findings, *turned, *layout.findings, *findings))


def _own_sheets(pages: Sequence[Page]) -> bool:
    """Is each page as large as its own piece (as in files for a projector), so that no paper was tiled?"""
    sizes = Counter(tuple(sorted((round(p.width), round(p.height)))) for p in pages)
    return len(pages) > 2 and 2 * max(sizes.values()) <= len(pages)


def _layout(tiles: Sequence[Tile]) -> Layout:
    repeats = Repeats(tiles)
    groups = repeats.offsets(len(tiles))
    inked = sum(bool(t.strokes) for t in tiles)
    if groups and (len(groups[0]) >= 0.4 * inked or 2 * repeats.whole >= inked):
        return lay_by_repeats(tiles, groups, repeats)
    if 2 * repeats.whole >= inked:
        return lay_side_by_side(tiles)
    return lay_by_ends(tiles) or lay_side_by_side(tiles)


def _assemble(tiles: Sequence[Tile], layout: Layout) -> tuple[Page, list[Finding]]:
    """The sheet of all placed pages, with the others beside it."""
    corner = complex(min(z.real for z in layout.shifts.values()), min(z.imag for z in layout.shifts.values()))
    shifts = {k: z - corner for k, z in layout.shifts.items()}
    width = max(z.real + tiles[k].page.width for k, z in shifts.items())
    height = max(z.imag + tiles[k].page.height for k, z in shifts.items())
    strokes = [s for k, z in shifts.items() for s in _renumbered(layout.strokes.get(k, tiles[k].strokes), z)]
    words = [w for k, z in shifts.items() for w in _moved_words(tiles[k].words, z)]
    columns, rows = (sorted({round(v - c, 3) for v in joints}) for joints, c in
                     ((layout.columns, corner.real), (layout.rows, corner.imag)))
    findings = []
    if layout.repeated or layout.overlapped:
        strokes = without_repeats(strokes)
    if not layout.repeated:
        strokes, loose = merge(strokes, columns, rows)
        if loose:
            findings.append(Finding("tile-ends", f"{loose} line end(s) at page borders found no partner on the next "
                                    "page; look whether an outline is open there.", Severity.NOTE))
    strokes, marks = _without_marks(strokes, columns, rows)
    if marks:
        findings.append(Finding("tile-marks", f"{marks} small shapes that sit on the joints of pages were taken for "
                                "registration marks and left out.", Severity.NOTE))
    if len(shifts) > 2 and layout.cells and not in_reading_order(layout.cells):
        findings.append(Finding("pages-reordered", "The pages do not follow each other in the file as they lie on the "
                                "sheet; they were put together by their lines and labels.", Severity.NOTE))
    apart = [k for k in range(len(tiles)) if k not in shifts]
    laid = [_laid(tiles[k].page, z) for k, z in shifts.items()]
    x = width + _GAP
    for k in apart:
        page = tiles[k].page
        laid.append(_laid(page, complex(x, 0), apart=True))
        strokes += _renumbered((*square_strokes(page.strokes, page.words), *legend_strokes(page.strokes, page.words)),
                               complex(x, 0))
        words += _moved_words(page.words, complex(x, 0))
        if page.words or page.strokes:
            x += page.width + _GAP
            height = max(height, page.height)
    findings += _apart(tiles, apart)
    laid.sort(key=lambda one: one.number)
    return Page(0, max(width, x - _GAP), height, tuple(strokes), words_once(words), tuple(laid)), findings


def _laid(page: Page, at: Point, apart: bool = False) -> LaidPage:
    return LaidPage(page.number, at, page.width, page.height, apart)


def _apart(tiles: Sequence[Tile], apart: Sequence[int]) -> Iterator[Finding]:
    numbers = [str(tiles[k].page.number) for k in apart if tiles[k].strokes]
    if numbers:
        listed = f"page {numbers[0]}" if len(numbers) == 1 else f"pages {', '.join(numbers)}"
        yield Finding("page-apart", f"The lines of {listed} belong to no sheet (a title, a map or instructions) and "
                      "were left out.", Severity.NOTE)


def _renumbered(strokes: Iterable[Stroke], by: Point) -> tuple[Stroke, ...]:
    return tuple([Stroke(s.path.moved(by) if by else s.path, s.look, 0, s.filled, s.tag, s.block) for s in strokes])


def _moved_words(words: Iterable[Word], by: Point) -> tuple[Word, ...]:
    return tuple(replace(w, at=w.at + by, page=0) for w in words)


def _without_marks(strokes: Sequence[Stroke], columns: Sequence[float],
                   rows: Sequence[float]) -> tuple[list[Stroke], int]:
    """Leave out small shapes that occur at joints only, two times or more: registration marks."""
    at_joint: dict[tuple, list[bool]] = {}
    kinds: list[tuple | None] = []
    for stroke in strokes:
        nodes = stroke.path.nodes
        kind = None
        if len(nodes) < 20 and max(abs(p - nodes[0]) for p in nodes) < (MARK if len(nodes) > 2 else _ARM):
            x0, y0, x1, y1 = stroke.path.bounds
            kind = (len(nodes), id(stroke.look), round(10 * (x1 - x0) + 0.137), round(10 * (y1 - y0) + 0.137))
            middle = complex(x0 + x1, y0 + y1) / 2
            at_joint.setdefault(kind, []).append(
                any(abs(middle.real - c) < _ON_JOINT for c in columns)
                or any(abs(middle.imag - r) < _ON_JOINT for r in rows))
        kinds.append(kind)
    marks = {kind for kind, there in at_joint.items() if len(there) > 1 and all(there)}
    kept = [s for s, kind in zip(strokes, kinds, strict=True) if kind not in marks]
    return kept, len(strokes) - len(kept)
