"""From strokes and words on one joined sheet to pieces in sizes, as printed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from toilewright.errors import Finding, Severity
from toilewright.geometry.affine import Affine
from toilewright.intake.captions import CaptionLine, allowance, caption_lines, cut_note, piece_name
from toilewright.intake.drawing import Drawing, Stroke, Word
from toilewright.intake.looks import split_by_look
from toilewright.intake.matching import Nest, match, outlines_of
from toilewright.intake.nesting import split_nest
from toilewright.intake.raw import RawPattern, RawPiece, TestSquare
from toilewright.intake.rings import chain
from toilewright.intake.sizes import SizeSplit, split_by_layer
from toilewright.intake.sketch import Sketch

__all__ = ["recognise"]


def recognise(joined: Drawing) -> RawPattern:
    """Make out the sizes, pieces and marks of a joined sheet.

    Args:
        joined: a drawing of one page.

    Returns:
        The pieces in all sizes at true scale. What could not be made sense of is in its findings.
    """
    strokes = tuple(s for page in joined.pages for s in page.strokes)
    words = tuple(w for page in joined.pages for w in page.words)
    captions = caption_lines(words)
    split = split_by_layer(strokes) or split_by_look(strokes, captions) or split_nest(strokes)
    rings = [[Sketch(r) for r in chain([s.path for s in heap if not s.filled]).rings] for heap in split.strokes]
    order = sorted(range(len(rings)), key=lambda i: sum(r.area for r in rings[i]))
    sizes = tuple(split.sizes[i] for i in order)
    nests = match([outlines_of(rings[i]) for i in order])
    pieces = []
    for k, nest in enumerate(nests):
        own = [c for c in captions if nest.largest.sketch.contains(c.middle)]
        note = cut_note(own)
        name = piece_name(own) or f"piece {k + 1}"
        said = tuple(w for c in own for w in c.words)
        pieces.append(tuple(o and RawPiece(name, size, o.sketch.path, words=said, cut_count=note.count,
                                           mirrored=note.mirrored) for o, size in zip(nest.outlines, sizes, strict=True)))
    said = allowance(captions)
    return RawPattern(sizes, tuple(pieces), said, "seam" if said == 0 else "cutting", None,
                      findings=(*joined.findings, *split.findings))
