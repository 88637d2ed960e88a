"""The printed test square, and the scale that it gives."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import floor

from toilewright.errors import Finding, Severity
from toilewright.intake.clipping import Box
from toilewright.intake.drawing import Drawing, Stroke, Word
from toilewright.intake.raw import TestSquare

NOTICED = 0.005
"""Share by which a square may be off before it is worth a word."""

_LEAST, _MOST = 18.0, 260.0
"""mm; test squares are between 1 in and 10 in wide."""

_WILD = 0.25
"""Share by which a square may differ from its caption and still be meant by it."""

_AMOUNT = re.compile(r"(\d+(?:[.,]\d+)?(?:\s+\d/\d)?|\d/\d)\s*[\"”″]?\s*"
                     r"(mm|cm|in(?:ch(?:es)?)?\b|zoll|pouces?|\"|”|″)", re.I)
_BARE = re.compile(r"(\d+(?:[.,]\d+)?)\s*[x×*]\s*(?=\d)", re.I)
_NAMED = re.compile(r"test|square|quadrat|carr[eé]|scale|ma(?:ß|ss)stab|[eé]chelle|measure|print|100\s*%|gauge|"
                    r"check|kontroll|control", re.I)
_UNITS = {"mm": 1.0, "cm": 10.0}


@dataclass(frozen=True, slots=True)
class _Box:
    """An upright rectangle: its sides and the strokes that draw it."""

    box: Box
    strokes: tuple[Stroke, ...]

    @property
    def width(self) -> float:
        return self.box[2] - self.box[0]

    @property
    def height(self) -> float:
        return self.box[3] - self.box[1]

    @property
    def middle(self) -> complex:
        return complex(self.box[0] + self.box[2], self.box[1] + self.box[3]) / 2


def find_test_square(drawing: Drawing) -> TestSquare | None:
    """The test square of a drawing: an upright square whose caption says its size.

    Of several (cm and inches) the one that should be the largest: it shows the scale most exactly.
    """
    return max(all_test_squares(drawing), key=lambda s: s.nominal, default=None)


def all_test_squares(drawing: Drawing) -> tuple[TestSquare, ...]:
    """Every test square of a drawing, in cm and in inches."""
    return tuple(square for page in drawing.pages for square, _ in _captioned(page.strokes, page.words))


def square_strokes(strokes: Sequence[Stroke], words: Sequence[Word]) -> tuple[Stroke, ...]:
    """The lines that draw the test squares of a page."""
    return tuple(s for _, box in _captioned(strokes, words) for s in box.strokes)


def scale_finding(square: TestSquare) -> Finding | None:
    """What to say of a square that is off by more than half a per cent; None when it is true.

    >>> scale_finding(TestSquare(97.0, 97.0, 100.0, 0j)).text[:59]
    'The sheet is printed at 97.0 %: the test square measures 97'
    """
    size = (square.width + square.height) / 2
    share = size / square.nominal
    if abs(share - 1) <= NOTICED:
        return None
    change = abs(1 / share - 1) * 100
    return Finding(
        "scale", f"The sheet is printed at {100 * share:.1f} %: the test square measures {size:.2f} mm instead of "
        f"{square.nominal:g} mm; all lines were {'enlarged' if share < 1 else 'reduced'} by {change:.1f} % "
        f"(factor {1 / share:.4f}).", Severity.LOOK, asked=square.nominal, possible=round(size, 3))


# -- rectangles ------------------------------------------------------------------------------------


def _captioned(strokes: Sequence[Stroke], words: Sequence[Word]) -> Iterator[tuple[TestSquare, _Box]]:
    if not any(_AMOUNT.search(w.text) for w in words):
        return
    boxes = [b for b in (*_closed(strokes), *_of_bars(strokes)) if abs(b.width - b.height) < 0.2 * b.width]
    for box in _without_doubles(boxes):
        nominal = _nominal(box, words)
        if nominal:
            yield TestSquare(box.width, box.height, nominal, box.middle), box


def _without_doubles(boxes: Iterable[_Box]) -> list[_Box]:
    kept: list[_Box] = []
    for box in boxes:
        if not any(abs(box.middle - k.middle) < 1 and abs(box.width - k.width) < 1 for k in kept):
            kept.append(box)
    return kept


def _closed(strokes: Iterable[Stroke]) -> Iterator[_Box]:
    """Rectangles drawn as one path."""
    for stroke in strokes:
        path = stroke.path
        if len(path.nodes) in (4, 5, 6) and not any(path.handles):
            sides = [b - a for a, b in pairwise(path.nodes) if abs(b - a) > 0.01]
            if len(sides) in (3, 4) and all(min(abs(s.real), abs(s.imag)) < 0.01 * abs(s) for s in sides):
                x0, y0, x1, y1 = path.bounds
                closed = abs(path.start - path.end) < 0.5
                if closed and _LEAST < x1 - x0 < _MOST and _LEAST < y1 - y0 < _MOST:
                    yield _Box(path.bounds, (stroke,))


def _of_bars(strokes: Iterable[Stroke]) -> Iterator[_Box]:
    """Rectangles drawn as four lines."""
    across: dict[tuple[int, int], list[Stroke]] = defaultdict(list)
    along: dict[tuple[int, int], list[Stroke]] = defaultdict(list)
    for stroke in strokes:
        nodes = stroke.path.nodes
        if len(nodes) == 2 and stroke.path.handles[0] is None:
            v = nodes[1] - nodes[0]
            if _LEAST < abs(v) < _MOST and min(abs(v.real), abs(v.imag)) < 0.01 * abs(v):
                heap = across if abs(v.real) > abs(v.imag) else along
                for p in nodes:
                    heap[floor(p.real), floor(p.imag)].append(stroke)

    def touching(heap: dict, p: complex) -> list[Stroke]:
        near = {(floor(p.real + dx), floor(p.imag + dy)) for dx in (-0.5, 0.5) for dy in (-0.5, 0.5)}
        return [s for cell in near for s in heap.get(cell, ()) if min(abs(p - n) for n in s.path.nodes) < 0.5]

    done = set()
    for bottom in {id(s): s for heap in across.values() for s in heap}.values():
        a, b = sorted(bottom.path.nodes, key=lambda p: p.real)
        for left in touching(along, a)[:4]:
            top = max(left.path.nodes, key=lambda p: p.imag)
            if top.imag - a.imag < _LEAST:
                continue
            for right in touching(along, b)[:4]:
                lid = max(right.path.nodes, key=lambda p: p.imag)
                over = [s for s in touching(across, top) if min(abs(lid - n) for n in s.path.nodes) < 0.5]
                if over and id(bottom) not in done and abs(lid.imag - top.imag) < 0.5:
                    done.add(id(bottom))
                    yield _Box((a.real, a.imag, b.real, top.imag), (bottom, left, right, over[0]))


# -- captions --------------------------------------------------------------------------------------


def _nominal(box: _Box, words: Sequence[Word]) -> float | None:
    """What the words in or near a square say it should measure; None where they do not speak of it."""
    reach = 0.3 * box.width
    near = [w for w in words if _from(box, w) < reach]
    text = [w.text for w in near]
    amounts = {a for t in text for a in _amounts(t)}
    named = any(_NAMED.search(t) for t in text)
    limit = _WILD if named or any(_alone(t) for t in text) else 0.12
    size = (box.width + box.height) / 2
    fitting = [a for a in amounts if abs(size / a - 1) < limit]
    return min(fitting, key=lambda a: abs(size / a - 1), default=None)


def _amounts(text: str) -> Iterator[float]:
    for number, unit in _AMOUNT.findall(text):
        value = _number(number) * _UNITS.get(unit.lower(), 25.4)
        if value > 0:
            yield value


def _number(text: str) -> float:
    total = 0.0
    for part in text.replace(",", ".").split():
        top, _, bottom = part.partition("/")
        total += float(top) / (float(bottom) if bottom and float(bottom) else 1.0)
    return total


def _alone(text: str) -> bool:
    """Is a text nothing but amounts?"""
    return not re.sub(r"[\s/x×*()=,.:+-]|by|oder|or", "", _AMOUNT.sub("", _BARE.sub("", text)), flags=re.I)


def _from(box: _Box, word: Word) -> float:
    """Distance of a word's start or middle from a square (mm); 0 inside it."""
    x0, y0, x1, y1 = box.box
    half = 0.25 * word.height * len(word.text)
    spots = (word.at, word.at + half)
    return min(abs(complex(max(x0 - p.real, 0.0, p.real - x1), max(y0 - p.imag, 0.0, p.imag - y1))) for p in spots)
