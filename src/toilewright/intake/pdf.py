"""PDF files as drawings: every page in mm, y up, its origin at the lower left corner of what is printed."""

from __future__ import annotations

import io
import os
import time
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

import pikepdf

from toilewright.errors import FileError, Finding, Severity
from toilewright.geometry.affine import Affine
from toilewright.intake.clipping import Box, clip
from toilewright.intake.drawing import Drawing, Page, Stroke, Word
from toilewright.intake.limits import MAX_SECONDS
from toilewright.intake.pdf_content import Interpreter
from toilewright.intake.pdf_layers import layer_name, layer_order
from toilewright.intake.pdf_open import content, open_pdf
from toilewright.intake.pdf_state import Drawn
from toilewright.intake.pdf_tokens import tokens
from toilewright.intake.pdf_words import read_words

POINT = 25.4 / 72
"""mm in a PDF point."""

MIRRORED = "page-mirrored"
"""Code of the finding that a page's words run backwards; its ``asked`` is the page number."""

_LETTER = (0.0, 0.0, 612.0, 792.0)


def read_pdf(path: str | os.PathLike[str]) -> Drawing:
    """Read what a PDF draws.

    Lines outside the page, or outside what is clipped, are left out. A line that leaves the clip is cut there,
    unless the same line is drawn on another page too (a sheet repeated behind a window on every page): then it
    stays whole on each. All layers are read, also those that are switched off.

    Returns:
        its pages in mm, y up, origin at the lower left corner of the crop box, turned as they are shown.

    Raises:
        FileError: no PDF, locked, damaged, only scanned pictures, or more than a pattern can be.
    """
    name = os.path.basename(os.fspath(path))
    with open_pdf(path) as pdf:
        drawn = Drawn(name, layer_name, time.process_time() + MAX_SECONDS)
        read, frames = [], {}
        for number, page in enumerate(pdf.pages, 1):
            try:
                to_mm, box = _frame(page.obj)
                inter = Interpreter(drawn, number, to_mm, box)
                inter.run(tokens(_contents(page.obj, name)), page.obj.get("/Resources"))
            except (pikepdf.PdfError, TypeError, ValueError, KeyError, AttributeError) as error:
                raise FileError(f'Page {number} of "{name}" is damaged ({error}); print the file to a new '
                                "PDF.") from None
            if inter.has_text:
                frames[number] = to_mm
            read.append((inter, box))
        layers = layer_order(pdf)
        repaired = bool(pdf.get_warnings())
        words, mirrored = read_words(_mended(pdf) if repaired else path, frames)
    if not any(inter.whole or inter.crossing for inter, _ in read):
        raise _nothing(name, drawn, any(words.values()), repaired)
    pages = _pages(read, words)
    return Drawing(pages, layers, "pdf", tuple(_findings(drawn.pictures, mirrored, repaired)))


def _mended(pdf: pikepdf.Pdf) -> bytes:
    """The file as repaired, for a reader that repairs less."""
    data = io.BytesIO()
    try:
        pdf.save(data)
    except (pikepdf.PdfError, RuntimeError):
        return b""
    return data.getvalue()


def _findings(pictures: int, mirrored: list[int], repaired: bool) -> Iterator[Finding]:
    if repaired:
        yield Finding("pdf-repaired", "The PDF was damaged or cut off, and was repaired as far as it went; look "
                      "whether all its pages and pieces are there, or fetch it again.")
    if pictures:
        yield Finding("pdf-picture", f"{pictures} pixel picture(s) in the PDF were left out; only drawn lines can be "
                      "read.", Severity.NOTE)
    for number in mirrored:
        yield Finding(MIRRORED, f"Page {number} is printed mirrored: its words run backwards. Print it again without "
                      "mirroring.", Severity.STOP, asked=float(number))


def _nothing(name: str, drawn: Drawn, words: bool, repaired: bool) -> FileError:
    if repaired:
        return FileError(f'"{name}" is damaged or was cut off while it was saved, and nothing that is left of it draws '
                         "a line; fetch it again.")
    if drawn.pictures:
        return FileError(f'"{name}" holds only pictures (a scan or photographs) and no drawn lines; photographs and '
                         "scans cannot be read yet, so ask for the pattern as a drawn PDF.")
    if words:
        return FileError(f'"{name}" holds only text and no drawn lines; these may be the instructions, the pattern '
                         "sheets may be in another file.")
    if drawn.objects:
        return FileError(f'"{name}" draws no line that can be used: all of them are white, beside the page, without '
                         "length or longer than a kilometre; export the pattern again at its true size.")
    return FileError(f'"{name}" draws nothing; its pages are empty.')


def _inherited(page: pikepdf.Object, key: str) -> object:
    for _ in range(50):
        if key in page:
            return page[key]
        if "/Parent" not in page:
            return None
        page = page["/Parent"]
    return None


def _frame(page: pikepdf.Object) -> tuple[Affine, Box]:
    """The map from user units to mm on the page as shown, and the page's rectangle in mm."""
    media = _rectangle(_inherited(page, "/MediaBox")) or _LETTER
    crop = _rectangle(_inherited(page, "/CropBox")) or media
    x0, y0, x1, y1 = max(media[0], crop[0]), max(media[1], crop[1]), min(media[2], crop[2]), min(media[3], crop[3])
    if x1 <= x0 or y1 <= y0:
        x0, y0, x1, y1 = media
    unit = float(page.get("/UserUnit", 1)) * POINT
    width, height = (x1 - x0) * unit, (y1 - y0) * unit
    turned = Affine.shift(complex(-x0, -y0)).then(Affine.scale(unit))
    quarter = int(_inherited(page, "/Rotate") or 0) // 90 % 4
    for _ in range(quarter):  # clockwise
        turned = turned.then(Affine(-1j, 0j, complex(0, width)))
        width, height = height, width
    return turned, (0.0, 0.0, width, height)


def _rectangle(item: object) -> Box | None:
    if not isinstance(item, pikepdf.Array) or len(item) != 4:
        return None
    a, b, c, d = (float(v) for v in item)
    box = (min(a, c), min(b, d), max(a, c), max(b, d))
    return box if box[2] > box[0] and box[3] > box[1] else None


def _contents(page: pikepdf.Object, name: str) -> bytes:
    item = page.get("/Contents")
    parts = list(item) if isinstance(item, pikepdf.Array) else [item]
    return b"\n".join(content(part, name) for part in parts if isinstance(part, pikepdf.Stream))


def _pages(read: list[tuple[Interpreter, Box]], words: dict[int, tuple[Word, ...]]) -> tuple[Page, ...]:
    """Pages with their strokes; those that leave the clip cut, or whole where other pages repeat them."""
    seen: dict[tuple, set[int]] = defaultdict(set)
    for inter, _ in read:
        for stroke in (*(s for s, _ in inter.crossing), *(inter.whole if len(read) > 1 else ())):
            seen[shape_key(stroke)].add(inter.page)
    leaving = [shape_key(s) for inter, _ in read for s, _ in inter.crossing]
    # Where most are repeated, the others are too, on pages that are missing or odd.
    windows = 2 * sum(len(seen[key]) > 1 for key in leaving) > len(leaving)
    pages = []
    for inter, box in read:
        strokes = list(inter.whole)
        for stroke, frame in inter.crossing:
            if windows or len(seen[shape_key(stroke)]) > 1:
                strokes.append(stroke)
            else:
                strokes += [replace(stroke, path=part) for part in clip(stroke.path, frame)]
        inside = tuple(w for w in words.get(inter.page, ()) if 0 <= w.at.real <= box[2] and 0 <= w.at.imag <= box[3])
        pages.append(Page(inter.page, box[2], box[3], tuple(strokes), inside))
    return tuple(pages)


def shape_key(stroke: Stroke) -> tuple:
    """Equal for strokes that are the same but for their place: their size, their bends, their look."""
    nodes = stroke.path.nodes
    start = nodes[0]
    middle, end = nodes[len(nodes) // 2] - start, nodes[-1] - start
    # Tenths of mm, off the round numbers that drawings like.
    return (len(nodes), *(round(10 * v + 0.137) for v in (middle.real, middle.imag, end.real, end.imag)),
            id(stroke.look))
