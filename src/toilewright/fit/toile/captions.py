"""The words of a toile's picture: a column between back and front, leaders to what they name, none over another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from textwrap import wrap

from toilewright.draw.figure import LETTER_WIDTH, Caption, Figure, Mark, Pen, type_size
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point

LONGEST = 18
"""Letters in a line of words; what is longer is broken."""

SHARE = 1 / 36
"""Of the picture's greater side that its letters are high (our own choice: legible where it is shown a hand wide)."""

LEAD = 22.0
"""mm between the words and the pieces at the least, for the leaders."""

_LINE, _BETWEEN, _AIR = 1.2, 0.45, 0.4
"""Times the size of the letters: a line of words, the room between two captions, and between words and leader."""


@dataclass(frozen=True, slots=True)
class Label:
    """Words, and the one place that they name."""

    words: str
    at: Point


@dataclass(frozen=True, slots=True)
class _Block:
    """Words broken into lines, and every place that they name."""

    lines: tuple[str, ...]
    places: tuple[Point, ...]

    @property
    def wanted(self) -> float:
        """The height at which the leaders would lie level."""
        return sum(z.imag for z in self.places) / len(self.places)


def lettering(wide: float, tall: float, labels: Iterable[Label]) -> tuple[float, float]:
    """Size of the letters and width of the column of words (mm) for pieces `wide` and `tall` together."""
    letters = max((len(line) for label in labels for line in wrap(label.words, LONGEST)), default=0) * LETTER_WIDTH
    size = SHARE * max(tall, (wide + 2 * LEAD) / (1 - SHARE * letters))
    return size, letters * size


def stacked(labels: Sequence[Label], middle: float, size: float) -> Figure:
    """The words in a column about x = `middle`, each as near the height of what it names as the others let it."""
    blocks = sorted(_blocks(labels), key=lambda b: -b.wanted)
    tall = [(len(b.lines) * _LINE + _BETWEEN) * size for b in blocks]
    parts = [_written(block, complex(middle, y), size)
             for block, y in zip(blocks, spread([b.wanted for b in blocks], tall), strict=True)]
    return Figure().plus(*parts)


def spread(wanted: Sequence[float], tall: Sequence[float]) -> list[float]:
    """Middles of blocks stacked from above down, moved off what each wants as little as can be (least squares).

    >>> spread([10.0, 9.0, 0.0], [4.0, 4.0, 4.0])
    [11.5, 7.5, 0.0]
    """
    down = [0.0, *accumulate((a + b) / 2 for a, b in pairwise(tall))]
    pools: list[tuple[float, int]] = []
    for goal in (y + d for y, d in zip(wanted, down, strict=False)):
        pools.append((goal, 1))
        while len(pools) > 1 and pools[-2][0] < pools[-1][0]:
            (b, m), (a, n) = pools.pop(), pools.pop()
            pools.append(((a * n + b * m) / (n + m), n + m))
    tops = [mean for mean, count in pools for _ in range(count)]
    return [top - d for top, d in zip(tops, down, strict=False)]


def _blocks(labels: Iterable[Label]) -> Iterable[_Block]:
    """Words that back and front have in common stand once."""
    places: dict[str, list[Point]] = {}
    for label in labels:
        places.setdefault(label.words, []).append(label.at)
    return (_Block(tuple(wrap(words, LONGEST)), tuple(row)) for words, row in places.items())


def _written(block: _Block, at: Point, size: float) -> Figure:
    top = at.imag + (len(block.lines) - 1) * _LINE * size / 2
    words = tuple(Caption(line, complex(at.real, top - n * _LINE * size - 0.275 * size), type_size(size), 0.0, "middle")
                  for n, line in enumerate(block.lines))
    half = max(map(len, block.lines)) * LETTER_WIDTH * size / 2 + _AIR * size
    leaders = tuple(Mark(Path.line(at + (half if z.real > at.real else -half), z), Pen.GUIDE) for z in block.places)
    return Figure(leaders, words)
