"""Pages that lie turned beside the others (a printer turned one page to save paper): set upright by their labels."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from math import pi

from toilewright.errors import Finding, Severity
from toilewright.intake.drawing import Page
from toilewright.intake.tile_sort import label_kind

_CLEAR = 0.6
"""A page is turned when as it lies its labels agree with those of other pages by less than this share of the best."""

_NEARLY = 0.75
"""Share of all words that run in one direction; fewer are words along the grain."""

LabelsByWay = Counter[tuple[str, int]]
"""How many page labels run in which direction, by (kind, quarter turns)."""


def upright(pages: Sequence[Page]) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """The pages as they are read: all of them turned where all words run upwards, downwards or upside down.

    Pages whose labels run in other directions than on the other pages are turned back, and told.
    """
    pages = _all_turned(pages)
    labels = [_labels(page) for page in pages]
    turns = [_turn(mine, [other for other in labels if other is not mine and other]) for mine in labels]
    if not any(turns):
        return tuple(pages), ()
    listed = ", ".join(str(p.number) for p, q in zip(pages, turns, strict=True) if q)
    return (tuple(_turned(p, q) for p, q in zip(pages, turns, strict=True)),
            (Finding("page-turned", f"Page {listed} lies turned beside the others and was set upright by its labels.",
                     Severity.NOTE),))


def _all_turned(pages: Sequence[Page]) -> Sequence[Page]:
    """All pages turned alike, so that nearly all words run from left to right; the names of rows need that."""
    ways = Counter(round(w.angle / (pi / 2)) % 4 for page in pages for w in page.words)
    way, most = max(ways.items(), key=lambda item: item[1], default=(0, 0))
    if way == 0 or most < _NEARLY * ways.total():
        return pages
    return [_turned(page, 4 - way) for page in pages]


def _labels(page: Page) -> LabelsByWay:
    """How many page labels of each kind run in each direction (quarter turns)."""
    return Counter((kind, round(word.angle / (pi / 2)) % 4) for word in page.words
                   if (kind := label_kind(word.text.strip())))


def _turn(mine: LabelsByWay, others: Sequence[LabelsByWay]) -> int:
    """Quarter turns, counter-clockwise, that bring the labels of a page in line with those of most others."""
    if not mine or len(others) < 2:
        return 0
    usual = {key: sorted(o[key] for o in others)[len(others) // 2] for key in {k for o in others for k in o}}
    agree = [sum(min(n, usual.get((kind, (way + q) % 4), 0)) for (kind, way), n in mine.items()) for q in range(4)]
    best = max(range(4), key=lambda q: agree[q])
    clear = agree[best] > 0 and agree.count(agree[best]) == 1 and agree[0] < _CLEAR * agree[best]
    return best if clear else 0


def _turned(page: Page, quarters: int) -> Page:
    """The page, turned counter-clockwise."""
    for _ in range(quarters):
        across = page.height

        def turn(p: complex, across: float = across) -> complex:
            return 1j * p + across
        page = Page(page.number, page.height, page.width,
                    tuple(replace(s, path=s.path.mapped(turn)) for s in page.strokes),
                    tuple(replace(w, at=turn(w.at), angle=w.angle + pi / 2) for w in page.words))
    return page
