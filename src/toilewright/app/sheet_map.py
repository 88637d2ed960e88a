"""How the pages of a file lie on the joined sheet, with the pieces of one size over them."""

from __future__ import annotations

from markupsafe import Markup, escape

from toilewright.app.figures import drawing, line
from toilewright.app.words import say
from toilewright.intake.drawing import LaidPage
from toilewright.make.reading import Reading

ROOM = (620.0, 420.0)
"""px; what the map may take at most."""

_AIR = 12.0
"""mm round the sheet, so that its own lines are seen."""


def sheet_map(reading: Reading) -> Markup:
    """The map of the pages; empty for a file of one page.

    The words over it are the page numbers as in the file.
    """
    raw = reading.raw
    if len(raw.laid) < 2:
        return Markup("")
    size = (len(raw.sizes) - 1) // 2
    outlines = [sizes[size].outline for sizes in raw.pieces if sizes[size] is not None]
    pages = raw.laid
    box = (min(p.at.real for p in pages) - _AIR, min(p.at.imag for p in pages) - _AIR,
           max(p.at.real + p.width for p in pages) + _AIR, max(p.at.imag + p.height for p in pages) + _AIR)
    scale = min(ROOM[0] / (box[2] - box[0]), ROOM[1] / (box[3] - box[1]))
    inside = "".join(map(_page, pages)) + "".join(line(path, "piece") for path in outlines)
    inside += "".join(_number(p) for p in pages)
    return drawing(inside, box, scale, say("pattern.map_title", n=sum(not p.apart for p in pages)), "sheet-map")


def _page(page: LaidPage) -> str:
    name = "page apart" if page.apart else "page"
    return (f'<rect class="{name}" x="{page.at.real:.1f}" y="{-page.at.imag - page.height:.1f}" '
            f'width="{page.width:.1f}" height="{page.height:.1f}"/>')


def _number(page: LaidPage) -> str:
    size = min(page.width, page.height) * 0.22
    return (f'<text x="{page.at.real + page.width / 2:.1f}" y="{-page.at.imag - page.height / 2 + size * 0.35:.1f}" '
            f'font-size="{size:.1f}">{escape(page.number)}</text>')
