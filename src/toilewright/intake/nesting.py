"""Sizes told apart by nothing but lying inside one another."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from toilewright.errors import Finding
from toilewright.geometry.path import Path
from toilewright.intake.captions import CaptionLine
from toilewright.intake.drawing import Stroke
from toilewright.intake.looks import numbers_on_lines
from toilewright.intake.rings import ccw, chain, join
from toilewright.intake.sizes import SizeSplit, one_size_finding, said_size, shared_out
from toilewright.intake.sketch import Sketch, box_overlap, boxes_touch, is_outline, is_seam_of
from toilewright.tolerance import READ_JOIN

ALIKE = 0.6
"""Share of their common box from which closed lines of one look count as one piece in several sizes."""


def split_nest(strokes: Sequence[Stroke], captions: Sequence[CaptionLine] = ()) -> SizeSplit:
    """Sort strokes of one look into sizes by area, piece by piece; one ring a piece is one size.

    Sizes are called by the numbers written along their lines where each of them has its own.
    """
    lines = [s for s in strokes if not s.filled]
    in_turn, rest = _drawn_in_turn(lines)
    rings = sorted([*in_turn, *(Sketch(r) for r in chain(rest).rings)], key=lambda s: s.area)
    nests: list[list[Sketch]] = []
    for ring in (r for r in rings if is_outline(r)):
        for nest in nests:
            if box_overlap(nest[-1].box, ring.box) > ALIKE:
                nest.append(ring)
                break
        else:
            nests.append([ring])
    seams = {inner: outer for nest in nests for inner, outer in combinations(nest, 2) if is_seam_of(inner, outer)}
    nests = [[ring for ring in nest if ring not in seams] for nest in nests]
    count = max((len(n) for n in nests), default=1)
    if count == 1:
        return _told_by_words(strokes, [r for nest in nests for r in nest], captions)
    levels = [(ring, str(i + 1)) for nest in nests if len(nest) == count for i, ring in enumerate(nest)]
    levels += [(inner, name) for inner, outer in seams.items() for ring, name in levels if ring is outer]
    written = numbers_on_lines(_by_level(levels), captions)
    if len(set(written.values())) == count:
        return _dealt(strokes, [(ring, written[name]) for ring, name in levels], in_turn, ())
    return _dealt(strokes, levels, in_turn, (Finding(
        "sizes-unnamed", f"All {count} sizes are drawn with one kind of line; they are told apart by area and called "
        f'"1" (smallest) to "{count}": put the true names into the labels file.'),))


def _told_by_words(strokes: Sequence[Stroke], rings: Sequence[Sketch],
                   captions: Sequence[CaptionLine]) -> SizeSplit:
    """Sizes laid side by side, each outline with its size written on it; one size where words tell no two."""
    told: list[tuple[Sketch, str]] = []
    for ring in rings:
        said = {size for c in captions if ring.contains(c.middle) and (size := said_size(c.text))}
        if len(said) == 1:
            told.append((ring, said.pop()))
    names = {name for _, name in told} or {"1"}
    if len(names) < 2:
        name = names.pop()
        return SizeSplit((name,), (tuple(strokes),), (), "one", (one_size_finding(name),))

    def owner(stroke: Stroke) -> str | None:
        sketch = Sketch(stroke.path)
        probes = sketch.along(3)
        return next((name for ring, name in told if boxes_touch(ring.box, sketch.box, 1.0) and any(
            ring.contains(p) or ring.nearest(p).distance < READ_JOIN for p in probes)), None)
    return shared_out(strokes, owner, "words", ())


def _by_level(levels: Sequence[tuple[Sketch, str]]) -> dict[str, list[Sketch]]:
    found: dict[str, list[Sketch]] = {}
    for ring, name in levels:
        found.setdefault(name, []).append(ring)
    return found


def _drawn_in_turn(lines: Sequence[Stroke]) -> tuple[dict[Sketch, list[Stroke]], list[Path]]:
    """Outlines whose lines follow one another in the file, with these lines, and the paths of all other lines.

    Sizes of one look often share corners and edges; the order of drawing then tells them apart.
    """
    rings: dict[Sketch, list[Stroke]] = {}
    rest: list[Path] = []
    i = 0
    while i < len(lines):
        start, j = lines[i].path.start, i + 1
        while (j < len(lines) and abs(lines[j - 1].path.end - start) > READ_JOIN
               and abs(lines[j].path.start - lines[j - 1].path.end) <= READ_JOIN):
            j += 1
        run = list(lines[i:j])
        closed = abs(run[-1].path.end - start) <= READ_JOIN and len(run) > 1
        ring = Sketch(ccw(join([s.path for s in run], closed=True))) if closed else None
        if ring and is_outline(ring):
            rings[ring] = run
        else:
            rest.extend(s.path for s in run)
        i = j
    return rings, rest


def _dealt(strokes: Sequence[Stroke], levels: Sequence[tuple[Sketch, str]], in_turn: dict[Sketch, list[Stroke]],
           findings: tuple[Finding, ...]) -> SizeSplit:
    """One heap for each size: a stroke belongs to the ring that it is part of; what is part of none is common."""
    known = {id(stroke): name for ring, name in levels for stroke in in_turn.get(ring, ())}

    def level(stroke: Stroke) -> str | None:
        if id(stroke) in known or stroke.filled:
            return known.get(id(stroke))
        sketch = Sketch(stroke.path)
        probes = sketch.along(3)
        for ring, name in levels:
            if boxes_touch(ring.box, sketch.box) and all(ring.nearest(p).distance < READ_JOIN for p in probes):
                return name
        return None

    return shared_out(strokes, level, "nesting", findings)
