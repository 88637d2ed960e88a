"""From strokes and words on one joined sheet to pieces in sizes, as printed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from toilewright.errors import Finding, Severity
from toilewright.intake.blocks_dxf import recognise_blocks
from toilewright.intake.broken import BROKEN, piece_lost
from toilewright.intake.captions import (
    FOLD,
    GRAIN,
    CaptionLine,
    allowance,
    caption_lines,
    cut_note,
    piece_name,
    tidy_name,
)
from toilewright.intake.drawing import Drawing, LaidPage, Stroke
from toilewright.intake.looks import split_by_look
from toilewright.intake.matching import Nest, Outline, match, merged_by_name, outlines_of
from toilewright.intake.nesting import split_nest
from toilewright.intake.outlines import SheetLines, SizeLines, shared_pieces, trace_outlines
from toilewright.intake.pieces import Nested, build_piece, missing_sizes, told_apart
from toilewright.intake.raw import RawPattern
from toilewright.intake.seam_strokes import measured_allowance, seams_apart, with_seam_lines
from toilewright.intake.sizes import SizeSplit, split_by_layer
from toilewright.intake.true_scale import to_true_scale

__all__ = ["recognise"]


def recognise(joined: Drawing) -> RawPattern:
    """Make out the sizes, pieces and marks of a joined sheet.

    Args:
        joined: a drawing of one page.

    Returns:
        The pieces in all sizes at true scale. What could not be made sense of is in its findings.
    """
    if any(s.block for page in joined.pages for s in page.strokes) and (raw := recognise_blocks(joined)):
        return raw
    sheet = to_true_scale(joined)
    captions = caption_lines(sheet.words)
    strokes = _drawn_once(sheet.strokes)
    split, lines = _lines(strokes, captions)
    sizes, nests, once = _nests(lines, captions)
    owners = [_owner(c, nests) for c in captions]
    pieces, lost = [], []
    for i, nest in enumerate(nests):
        said = [c for c, k in zip(captions, owners, strict=True) if k == i]
        try:
            pieces.append(build_piece(nest, sizes, lines.common, said, f"piece {i + 1}"))
        except BROKEN:
            lost.append(piece_lost(piece_name(said) or f"piece {i + 1}", nest.largest.sketch.middle))
    pieces, twice = told_apart(pieces)
    names = tuple(s.size for s in sizes)
    included, line, doubts = _line(captions, pieces)
    loose_words = tuple(w for c, k in zip(captions, owners, strict=True) if k is None for w in c.words)
    findings = (*joined.findings, *sheet.findings, *split.findings, *lines.findings, *once, *lost, *twice,
                *missing_sizes(pieces, names), *(f for p in pieces for f in p.findings), *doubts, *_empty(pieces))
    return RawPattern(names, tuple(p.by_size for p in pieces), included, line, sheet.square, loose_words, findings,
                      sheet.scale, _laid(joined, sheet.scale))


def _laid(joined: Drawing, scale: float) -> tuple[LaidPage, ...]:
    return tuple(replace(one, at=one.at * scale, width=one.width * scale, height=one.height * scale)
                 for page in joined.pages for one in page.laid)


def _drawn_once(strokes: Sequence[Stroke]) -> tuple[Stroke, ...]:
    """The strokes without those that repeat another of the same look, forwards or backwards."""
    kept: dict[tuple, Stroke] = {}
    for s in strokes:
        back = s.path.reversed()
        if (s.look, s.filled, back.nodes, back.handles) not in kept:
            kept.setdefault((s.look, s.filled, s.path.nodes, s.path.handles), s)
    return tuple(kept.values())


def _lines(strokes: Sequence[Stroke], captions: Sequence[CaptionLine]) -> tuple[SizeSplit, SheetLines]:
    """The sizes and their outlines; a pen that draws seam lines makes no size of its own."""
    layers = split_by_layer(strokes)
    if layers and len(layers.sizes) > 1:
        return layers, trace_outlines(layers)
    rest, seams = seams_apart(strokes)
    split = split_by_layer(rest) or split_by_look(rest, captions) or split_nest(rest, captions)
    if len(split.sizes) == 1:
        return split, with_seam_lines(trace_outlines(split), seams)
    split = replace(split, common=(*split.common, *seams))
    return split, trace_outlines(split)


def _nests(lines: SheetLines, captions: Sequence[CaptionLine]) -> tuple[list[SizeLines], list[Nest], list[Finding]]:
    """Sizes, smallest first, and the pieces in them."""
    outlines = {s.size: outlines_of(s.rings) for s in lines.sizes}
    by_area = sorted(lines.sizes, key=lambda s: sum(o.sketch.area for o in outlines[s.size]))
    nests = _matched([outlines[s.size] for s in by_area], captions)
    sizes = _smallest_first(by_area, nests)
    if sizes != by_area:
        nests = _matched([outlines[s.size] for s in sizes], captions)
    named = [c.middle for c in captions if tidy_name(c.text)]
    cut = [c.middle for c in captions if cut_note([c]).count or GRAIN.search(c.text) or FOLD.search(c.text)]
    nests += [Nest((Outline(ring),) * len(sizes)) for ring in shared_pieces(lines, named, cut)]
    findings = []
    for i, nest in enumerate(nests):
        seen = [k for k, o in enumerate(nest.outlines) if o]
        if len(seen) == 1 and len(sizes) > 2:
            nests[i] = Nest((nest.outlines[seen[0]],) * len(sizes))
            findings.append(Finding("one-for-all", f"A piece is drawn in size {sizes[seen[0]].size} only; it was taken "
                                    "for all sizes: look whether the sheet says so.", size=sizes[seen[0]].size))
    return sizes, nests, findings


def _matched(by_size: Sequence[Sequence[Outline]], captions: Sequence[CaptionLine]) -> list[Nest]:
    """Pieces by overlap; where sizes lie side by side, by the names written on them."""
    nests = list(match(by_size))
    if all(all(n.outlines) for n in nests):
        return nests
    owners = [_owner(c, nests) for c in captions]
    names = [piece_name([c for c, k in zip(captions, owners, strict=True) if k == i]) for i in range(len(nests))]
    return list(merged_by_name(nests, names))


def _smallest_first(sizes: Sequence[SizeLines], nests: Sequence[Nest]) -> list[SizeLines]:
    """Sizes by their mean area, piece by piece, so that a missing piece does not make a size small."""
    shares: list[list[float]] = [[] for _ in sizes]
    for nest in nests:
        areas = [o.sketch.area if o else None for o in nest.outlines]
        known = [a for a in areas if a]
        for share, area in zip(shares, areas, strict=True):
            if area and len(known) > 1:
                share.append(area * len(known) / sum(known))
    mean = [sum(s) / len(s) if s else 1.0 for s in shares]
    return [sizes[i] for i in sorted(range(len(sizes)), key=lambda i: (round(mean[i], 6), i))]


def _owner(caption: CaptionLine, nests: Sequence[Nest]) -> int | None:
    """Number of the smallest piece on which the words stand."""
    holding = [(o.sketch.area, i) for i, n in enumerate(nests) for o in n.spots
               if o.sketch.contains(caption.middle) or o.sketch.contains(caption.at)]
    return min(holding)[1] if holding else None


def _line(captions: Sequence[CaptionLine],
          pieces: Sequence[Nested]) -> tuple[float | None, str, list[Finding]]:
    """Allowance that is included, which line is printed, and doubts about it."""
    said = allowance(captions)
    drawn = [p for nested in pieces for p in nested.by_size if p and p.seam_drawn]
    if drawn:
        if not said:
            gap, told = measured_allowance(drawn)
            return gap, "cutting", [told]
        return said, "cutting", []
    if said is None:
        return None, "cutting", [Finding(
            "allowance-unknown", "The sheet does not say whether a seam allowance is included; it is taken for "
            "included: say how wide it is in the labels file.")]
    return said, "seam" if said == 0 else "cutting", []


def _empty(pieces: Sequence[Nested]) -> list[Finding]:
    if pieces:
        return []
    return [Finding("no-pieces", "No closed outlines were found on the sheet; a scanned or traced picture has to be "
                    "drawn over with lines first.", Severity.STOP)]
