"""Sizes told apart by the look of their lines (dash, colour, width), named by a legend where there is one."""

from __future__ import annotations

import cmath
from collections import Counter, defaultdict
from collections.abc import Hashable, Mapping, Sequence

from toilewright.errors import Finding
from toilewright.intake.captions import CaptionLine, caption_lines
from toilewright.intake.drawing import Look, Stroke, Word
from toilewright.intake.rings import chain, runs
from toilewright.intake.sizes import SizeSplit, shared_out, size_name
from toilewright.intake.sketch import BIG, Sketch, box_overlap, boxes_touch, is_outline, is_seam_of

NESTED = 0.3
"""Share of their common box from which two outlines count as one piece in two sizes."""


def split_by_look(strokes: Sequence[Stroke], captions: Sequence[CaptionLine]) -> SizeSplit | None:
    """Sort strokes into sizes by dash, colour and width; None when no two looks are nested.

    Where every size has a colour of its own, marks belong to the size of their colour, whatever their dash. Layers
    whose names say nothing of sizes count where the pen does not tell.
    """
    for key in (pen_key, layer_key):
        looks: dict[tuple, list[Stroke]] = defaultdict(list)
        for stroke in strokes:
            looks[key(stroke.look)].append(stroke)
        nested = _nested_looks(looks)
        if len(nested) > 1:
            names, findings = _names(nested, captions, looks)
            leading = {k[0]: name for k, name in names.items()}
            if len(leading) < len(names):
                leading = {}
            return shared_out(strokes, lambda s: names.get(key(s.look)) or leading.get(key(s.look)[0]),  # noqa: B023
                              "colour" if leading else "look", findings)
    return None


def pen_key(look: Look) -> tuple:
    """What the eye tells apart: colour, dash and width, without the noise of numbers."""
    return tuple(round(c * 25) for c in look.colour), tuple(round(d, 1) for d in look.dash), round(look.width, 1)


def layer_key(look: Look) -> tuple:
    """The layer, whatever it is called."""
    return (look.layer,)


def _nested_looks(looks: dict[tuple, list[Stroke]]) -> dict[tuple, list[Sketch]]:
    """The looks whose large lines lie on one another as sizes do, each with those lines.

    A line that keeps one distance from a line of another look is a seam line inside a cutting line, no size.
    """
    large = {key: big for key, heap in looks.items() if (big := _large_lines(heap))}
    if not large:
        return {}
    most = max(sum(s.length for s in big) for big in large.values())
    room = max(map(_room, large.values()))
    large = {k: big for k, big in large.items() if sum(s.length for s in big) > most / 4 and _room(big) > room / 8}
    nested = {}
    for key, big in large.items():
        partners = [o for other, bigs in large.items() if other != key for o in bigs]
        hits = [s for s in big if any(box_overlap(s.box, o.box) > NESTED for o in partners)]
        inside = [s for s in hits if s.path.closed and any(is_seam_of(s, o) for o in partners)]
        if len(hits) > len(big) / 3 and len(inside) < len(hits) / 2:
            nested[key] = big
    return nested


def _room(lines: Sequence[Sketch]) -> float:
    """What the boxes of lines hold (mm^2): darts are long, but narrow beside the pieces that they are in."""
    return sum((s.box[2] - s.box[0]) * (s.box[3] - s.box[1]) for s in lines)


def _large_lines(strokes: Sequence[Stroke]) -> list[Sketch]:
    """Outlines of one look; where nothing closes, its long bent lines."""
    chained = chain([s.path for s in strokes if not s.filled])
    rings = [s for r in chained.rings if is_outline(s := Sketch(r))]
    return rings or [s for s in map(Sketch, runs(chained.loose))
                     if min(s.box[2] - s.box[0], s.box[3] - s.box[1]) > 20 and s.length > 200
                     and (s.box[2] - s.box[0]) * (s.box[3] - s.box[1]) > BIG]


def _names(nested: dict[tuple, list[Sketch]], captions: Sequence[CaptionLine],
           looks: dict[tuple, list[Stroke]]) -> tuple[dict[tuple, str], tuple[Finding, ...]]:
    """Size names of looks: from the legend, else from numbers written along the lines, else numbers by area."""
    legend = _legend(nested, captions, looks)
    for found in (legend, numbers_on_lines(nested, captions), _coloured_words(nested, captions)):
        if len(found) == len(nested) and len(set(found.values())) == len(found):
            return found, ()
    if len({k[0] for k in nested}) == len(nested) and all(isinstance(k[0], str) for k in nested):
        return {k: k[0] for k in nested}, (Finding(
            "sizes-by-layer", "The layers do not carry size names but hold one size each; sizes are called by their "
            "layers here: put the true names into the labels file."),)
    ordered = sorted(nested, key=lambda k: sum((s.box[2] - s.box[0]) * (s.box[3] - s.box[1]) for s in nested[k]))
    names = {key: str(i + 1) for i, key in enumerate(ordered)}
    return names, (Finding(
        "sizes-unnamed", f"The sheet shows {len(nested)} sizes by their line style, but neither layers nor a legend "
        f'name all of them; they are called "1" (smallest) to "{len(nested)}": put the true names into the labels '
        "file."),)


def _coloured_words(nested: dict[tuple, list[Sketch]], captions: Sequence[CaptionLine]) -> dict[tuple, str]:
    """Look -> the one size that is written in its colour; only where each size has a colour of its own."""
    if len({k[0] for k in nested}) < len(nested) or not all(isinstance(k[0], tuple) for k in nested):
        return {}
    written: dict[tuple, set[str]] = defaultdict(set)
    for caption in captions:
        if name := size_name(caption.text):
            ink = caption.words[0].look.colour
            # Pen keys count colours in steps of 1/25; readers of text round them to 1/255.
            key = min(nested, key=lambda k: max(abs(a / 25 - b) for a, b in zip(k[0], ink, strict=True)))
            if max(abs(a / 25 - b) for a, b in zip(key[0], ink, strict=True)) < 0.03:
                written[key].add(name)
    return {k: min(names) for k, names in written.items() if len(names) == 1}


def numbers_on_lines(nested: Mapping[Hashable, Sequence[Sketch]],
                     captions: Sequence[CaptionLine]) -> dict[Hashable, str]:
    """Look (or other key) -> the size most often written close to its outlines."""
    votes: dict[Hashable, Counter[str]] = {key: Counter() for key in nested}
    rings = [(key, ring) for key, big in nested.items() for ring in big]
    for caption in captions:
        name = size_name(caption.text)
        if name is None:
            continue
        spot = caption.at + cmath.rect(caption.width / 2, caption.angle)
        reach = 1.5 * caption.height
        near = sorted((float(ring.distances([spot])[0]), k) for k, (_, ring) in enumerate(rings)
                      if boxes_touch(ring.box, (spot.real, spot.imag, spot.real, spot.imag), reach))
        if near and near[0][0] < reach:
            votes[rings[near[0][1]][0]][name] += 1
    return {key: count.most_common(1)[0][0] for key, count in votes.items() if count}


def _legend(nested: dict[tuple, list[Sketch]], captions: Sequence[CaptionLine],
            looks: dict[tuple, list[Stroke]]) -> dict[tuple, str]:
    """Look -> size from short straight sample strokes with a size beside them."""
    found: dict[tuple, str] = {}
    for key in nested:
        best = min((hit for stroke in looks[key] if (hit := _size_beside(stroke, captions))), default=None)
        if best:
            found[key] = best[1]
    return found


def legend_strokes(strokes: Sequence[Stroke], words: Sequence[Word]) -> tuple[Stroke, ...]:
    """The sample strokes of a legend on a page; none where fewer than two sizes in two pens are shown."""
    captions = caption_lines(words)
    found = [(s, hit[1]) for s in strokes if (hit := _size_beside(s, captions))]
    pens = {(pen_key(s.look), size) for s, size in found}
    if min(len({pen for pen, _ in pens}), len({size for _, size in pens})) < 2:
        return ()
    return tuple(s for s, _ in found)


def _size_beside(stroke: Stroke, captions: Sequence[CaptionLine]) -> tuple[float, str] | None:
    """The size written before or behind a short straight line, and how far from it (mm)."""
    a, b = stroke.path.start, stroke.path.end
    if not 4 <= abs(a - b) <= 120 or Sketch(stroke.path).length > 1.02 * abs(a - b):
        return None
    left, right = (a, b) if a.real <= b.real else (b, a)
    hits = []
    for caption in captions:
        middle = caption.at + 0.35j * caption.height
        gap = min(abs(middle - right), abs(middle + caption.width - left))
        level = abs(middle.imag - left.imag) < max(2.0 * caption.height, 4.0)
        if level and gap < 40 and (name := size_name(caption.text)):
            hits.append((gap, name))
    return min(hits, default=None)
