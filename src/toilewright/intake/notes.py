"""Words beside lines: what an inner line is called, and where words show grain and fold."""

from __future__ import annotations

import cmath
from collections.abc import Sequence

from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, parallel
from toilewright.intake.captions import FOLD, GRAIN, CaptionLine, cut_note, tidy_name
from toilewright.intake.corners import Bit
from toilewright.intake.sizes import size_name
from toilewright.intake.sketch import Sketch

BESIDE = 25.0
"""mm; words farther from an edge do not speak of it."""

SAME_LINE = 120.0
"""mm; an inner line moves less than this from the smallest to the largest size."""


def along(caption: CaptionLine, way: Point) -> bool:
    """Do the words run in this direction, or against it (within 6 degrees)?"""
    return parallel(cmath.rect(1, caption.angle), way, 0.1)


def line_captions(captions: Sequence[CaptionLine], name: str) -> list[CaptionLine]:
    """The words on a piece that may belong to an inner line: no size, grain, fold, cut count or name of the piece."""
    return [c for c in captions if not (
        size_name(c.text) or GRAIN.search(c.text) or FOLD.search(c.text) or cut_note([c]).count
        or tidy_name(c.text) == name)]


def words_of_lines(lines: Sequence[Path], captions: Sequence[CaptionLine]) -> list[str]:
    """For each inner line the words along it ("" if none); each caption goes to its nearest line."""
    found = [""] * len(lines)
    sketches = [Sketch(p) for p in lines]
    for caption in captions if lines else ():
        text = caption.text.strip()
        best: tuple[float, int] | None = None
        for i, sketch in enumerate(sketches):
            spot = sketch.nearest(caption.middle)
            if spot.distance < 2.0 * caption.height + 3 and along(caption, spot.along) and (
                    best is None or spot.distance < best[0]):
                best = (spot.distance, i)
        if best:
            found[best[1]] = " ".join(filter(None, (found[best[1]], text)))
    return found


def lent_words(lines: Sequence[Sequence[Path]], words: Sequence[Sequence[str]]) -> list[list[str]]:
    """The words of each size's lines, those written beside one size only lent to the same line of the others.

    The same line is the nearest parallel one; sizes next to each other lend first.
    """
    out = [list(w) for w in words]
    if not any(any(row) for row in out):
        return out
    for i, row in enumerate(out):
        for j in sorted(range(len(words)), key=lambda j: abs(j - i)):
            given = [(p, said) for p, said in zip(lines[j], words[j], strict=True) if said and said not in row]
            pairs = sorted((abs(_middle(p) - _middle(own)), k, said) for p, said in given
                           for k, own in enumerate(lines[i]) if parallel(p.end - p.start, own.end - own.start, 0.2))
            for gap, k, said in pairs:
                if gap < SAME_LINE and not row[k] and said not in row:
                    row[k] = said
    return out


def _middle(path: Path) -> Point:
    return (path.start + path.end) / 2


def grain_by_words(lines: Sequence[Path], captions: Sequence[CaptionLine]) -> int | None:
    """Number of the straight line that the word 'grain' stands along, or None."""
    for caption in (c for c in captions if GRAIN.search(c.text)):
        near = [(Sketch(p).nearest(caption.middle).distance, i) for i, p in enumerate(lines)
                if Bit(p).straight and abs(p.end - p.start) > 30 and along(caption, Bit(p).way)]
        if near and min(near)[0] < 2.5 * caption.height + 3:
            return min(near)[1]
    return None


def fold_by_words(edges: Sequence[Bit], captions: Sequence[CaptionLine]) -> tuple[Point, Point] | None:
    """The straight edge that the words 'place on fold' stand along, or None.

    Words of the title ("cut 1 on fold") count only where they are written close along an edge.
    """
    best: tuple[float, Bit] | None = None
    for caption in (c for c in captions if FOLD.search(c.text)):
        reach = 8.0 + caption.height if cut_note([caption]).count else BESIDE
        for edge in edges:
            distance = edge.sketch.nearest(caption.middle).distance
            if along(caption, edge.way) and distance < reach and (best is None or distance < best[0]):
                best = (distance, edge)
    return (best[1].a, best[1].b) if best else None
