"""Words of an SVG text element: runs of characters with their place, height and angle."""

from __future__ import annotations

import cmath
import re
from collections.abc import Callable

from lxml import etree

from toilewright.geometry.affine import Affine
from toilewright.geometry.point import Point
from toilewright.intake.drawing import Look, Word
from toilewright.intake.svg_style import Style, hidden, length_user

_LETTER = 0.5
"""letter heights; a guess of a letter's width, to find the start of centred text."""

_SHARE = {"middle": 0.5, "end": 1.0}


class _Run:
    """Characters that follow each other from one point."""

    def __init__(self, at: Point, size: float, anchor: str) -> None:
        self.at, self.size, self.anchor, self.parts = at, size, anchor, []


def text_runs(item: etree._Element, to_mm: Affine, style: Style,
              restyle: Callable[[Style, etree._Element, str], Style], look: Look) -> list[Word]:
    """The words of a text element; each part with a place of its own starts a new one.

    Args:
        to_mm: map from its user units to mm.
        style: its style.
        restyle: gives the style of an element inside it from (style above, element, kind).
        look: its layer and colour.
    """
    runs: list[_Run] = []
    _collect(item, style, restyle, runs, 0)
    words = []
    for run in runs:
        text = re.sub(r"\s+", " ", "".join(run.parts)).strip()
        if text:
            start = run.at - run.size * _LETTER * len(text) * _SHARE.get(run.anchor, 0.0)
            along, up = to_mm(start + 1) - to_mm(start), to_mm(start - 1j) - to_mm(start)
            words.append(Word(text, to_mm(start), run.size * abs(up), cmath.phase(along), look, 1))
    return words


def _collect(item: etree._Element, style: Style, restyle: Callable[[Style, etree._Element, str], Style],
             runs: list[_Run], depth: int) -> None:
    size = length_user(style.get("font-size"), 16.0)
    before = runs[-1].at if runs else 0j
    x, y = (_first(item.get(k), size) for k in ("x", "y"))
    dx, dy = (_first(item.get(k), size) or 0.0 for k in ("dx", "dy"))
    if not runs or x is not None or y is not None or dy:
        at = complex(before.real if x is None else x, before.imag if y is None else y) + complex(dx, dy)
        runs.append(_Run(at, size, style.get("text-anchor", "start")))
    elif not "".join(runs[-1].parts).strip():
        runs[-1].size = size
    runs[-1].parts.append(item.text or "")
    for child in item:
        if isinstance(child.tag, str) and etree.QName(child).localname in ("tspan", "a", "textPath") and depth < 20:
            below = restyle(style, child, "tspan")
            if not hidden(below):
                _collect(child, below, restyle, runs, depth + 1)
        runs[-1].parts.append(child.tail or "")


def _first(text: str | None, em: float) -> float | None:
    """The first of a list of lengths."""
    parts = re.split(r"[\s,]+", (text or "").strip())
    return length_user(parts[0], em=em) if parts[0] else None
