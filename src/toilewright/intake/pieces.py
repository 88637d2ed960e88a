"""One piece in all its sizes: its marks, what sizes share, and what differs between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from toilewright.errors import Finding, Severity
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, parallel
from toilewright.intake.arrows import edge_beside, straight_edges, upwards
from toilewright.intake.captions import FOLD, CaptionLine, CutNote, cut_note, piece_name
from toilewright.intake.corners import refit
from toilewright.intake.features import FOLD_REACH, Features, belongs, find_features
from toilewright.intake.mark_names import numbered
from toilewright.intake.matching import Nest
from toilewright.intake.notches import cut_out_darts, smooth_outline
from toilewright.intake.notes import fold_by_words, grain_by_words, lent_words, line_captions, words_of_lines
from toilewright.intake.outlines import SizeLines, crossing, place
from toilewright.intake.raw import RawDart, RawPiece
from toilewright.intake.rings import ccw
from toilewright.intake.shared_marks import share_out
from toilewright.intake.sketch import Sketch


@dataclass(frozen=True, slots=True)
class Nested:
    """A piece in all sizes (None where it is missing), and what deserves a look."""

    by_size: tuple[RawPiece | None, ...]
    findings: tuple[Finding, ...]
    on_fold: bool


@dataclass(frozen=True, slots=True)
class _Clean:
    """An outline without bumps and cut-out darts, with what was taken out."""

    outline: Path
    bumps: tuple[Point, ...]
    darts: tuple[RawDart, ...]


def build_piece(nest: Nest, sizes: Sequence[SizeLines], common: Sequence[Sketch],
                captions: Sequence[CaptionLine], fallback: str) -> Nested:
    """Read the marks of one piece in every size.

    Args:
        nest: its outline in each size.
        sizes: the lines of each size, in the same order.
        common: lines drawn once for all sizes.
        captions: the words on the piece.
        fallback: its name when no words name it.
    """
    name, note = piece_name(captions) or fallback, cut_note(captions)
    clean = [o and _clean(o.sketch.path) for o in nest.outlines]
    edges = [c and Sketch(c.outline) for c in clean]
    spots = nest.spots
    apart = len(spots) > 1
    smallest = min((o for o in nest.outlines if o), key=lambda o: o.sketch.area)
    once, unclear = share_out([s for s in common if any(belongs(s, o.sketch) for o in (*spots, smallest))], edges)
    read = []
    for i, edge in enumerate(edges):
        if edge is None:
            read.append(None)
            continue
        own = [s for s in sizes[i].loose if belongs(s, edge)]
        own += [s for s in once[i] if not apart or belongs(s, edge)]
        found = find_features(clean[i].outline, own, clean[i].bumps)
        read.append(replace(found, darts=(*clean[i].darts, *found.darts)))
    read = _shared(read, clean, captions, note)
    words = tuple(w for c in captions for w in c.words)
    lines = [f.lines if f else () for f in read]
    along = line_captions(captions, name)
    said = lent_words(lines, [words_of_lines(row, along) for row in lines])
    made = []
    for i, found in enumerate(read):
        if found is None:
            made.append(None)
            continue
        seam = nest.outlines[i].seam
        made.append(RawPiece(
            name, sizes[i].size, clean[i].outline, found.notches, found.darts, found.grain, found.fold,
            tuple(zip(found.lines, said[i], strict=True)), seam and refit(ccw(seam.path)), words,
            note.count, note.mirrored))
    doubts = (*_doubts(name, made, read, edges), *_fold_doubts(name, note, made), *_unclear(name, unclear))
    return Nested(tuple(made), doubts, note.on_fold)


def _clean(ring: Path) -> _Clean:
    smooth, bumps = smooth_outline(ring)
    outline, darts = cut_out_darts(refit(smooth))
    return _Clean(outline, bumps, tuple(RawDart(*d) for d in darts))


def _shared(read: Sequence[Features | None], clean: Sequence[_Clean | None], captions: Sequence[CaptionLine],
            note: CutNote) -> list[Features | None]:
    """Grain, fold and lines that words or other sizes show, for the sizes that do not show them themselves."""
    out = [f and _worded(f, c.outline, captions) for f, c in zip(read, clean, strict=True)]
    grain = next((f.grain for f in out if f and f.grain), None)
    fold = next((f.fold for f in out if f and f.fold), None)
    lines = next((f.lines for f in out if f and f.lines), ())
    made: list[Features | None] = []
    for found, shape in zip(out, clean, strict=True):
        if found is None:
            made.append(None)
            continue
        own = found.fold
        if fold and not own:
            beside = edge_beside(straight_edges(shape.outline), *fold, reach=FOLD_REACH)
            own = beside and (beside.a, beside.b)
        if note.on_fold and not own:
            own = _likely_fold(shape.outline, found.grain or grain)
        inside = Sketch(shape.outline)
        lent = grain if grain and belongs(Sketch(Path.line(*grain)), inside) else None
        made.append(replace(
            found, fold=own, grain=found.grain or lent,
            lines=found.lines or tuple(p for p in lines if belongs(Sketch(p), inside))))
    return made


def _worded(found: Features, outline: Path, captions: Sequence[CaptionLine]) -> Features:
    """The same marks, with grain and fold from words where no arrow shows them."""
    if not found.grain and (i := grain_by_words(found.lines, captions)) is not None:
        grain = upwards(found.lines[i].start, found.lines[i].end)
        found = replace(found, grain=grain, lines=tuple(p for j, p in enumerate(found.lines) if j != i))
    if not found.fold and any(FOLD.search(c.text) for c in captions):
        found = replace(found, fold=fold_by_words(straight_edges(outline), captions))
    return found


def _likely_fold(outline: Path, grain: tuple[Point, Point] | None) -> tuple[Point, Point] | None:
    """The longest straight edge along the grain: where a fold usually is."""
    for edge in straight_edges(outline):
        if grain is None or parallel(edge.way, grain[1] - grain[0], 0.03):
            return edge.a, edge.b
    return None


def _doubts(name: str, made: Sequence[RawPiece | None], read: Sequence[Features | None],
            edges: Sequence[Sketch | None]) -> list[Finding]:
    found = []
    for piece, marks, edge in zip(made, read, edges, strict=True):
        if piece is None or marks is None or edge is None:
            continue
        if (at := crossing(edge)) is not None:
            found.append(Finding(
                "outline-crosses", f'The outline of "{name}" in size {piece.size} crosses itself, {place(at)}; '
                "mend that corner in the drawing and read it again.", Severity.STOP, piece=name, size=piece.size))
        for leg in marks.single_legs:
            if not piece.darts or any(len(other.darts) > len(piece.darts) for other in made if other):
                found.append(Finding(
                    "dart-one-leg", f'"{name}" in size {piece.size} shows one leg of a dart but not the other, '
                    f"{place((leg.start + leg.end) / 2)}; draw the missing leg, or take the line out if it is no dart.",
                    piece=name, size=piece.size))
    for what, code in (("darts", "darts-differ"), ("notches", "notches-differ")):
        found += _counts(name, [p for p in made if p], what, code)
    return found


def _counts(name: str, made: Sequence[RawPiece], what: str, code: str) -> list[Finding]:
    """A finding when sizes carry different numbers of darts or notches."""
    numbers = [len(getattr(p, what)) for p in made]
    if len(set(numbers)) < 2:
        return []
    usual = max(set(numbers), key=numbers.count)
    odd = [(p.size, n) for p, n in zip(made, numbers, strict=True) if n != usual]
    listed = ", ".join(f"{n} in size {size}" for size, n in odd[:6])
    return [Finding(code, f'"{name}" has {usual} {what} in most sizes but {listed}; look at the sheet there and '
                    "correct the labels file.", piece=name, size=odd[0][0])]


def _unclear(name: str, spots: Sequence[Point]) -> list[Finding]:
    if not spots:
        return []
    return [Finding("notches-unclear", f'"{name}" has {len(spots)} ticks on lines that several sizes share, all drawn '
                    f"alike (the first {place(spots[0])}); they were left out because nothing tells their sizes: put "
                    "them into the labels file.", piece=name)]


def _fold_doubts(name: str, note: CutNote, made: Sequence[RawPiece | None]) -> list[Finding]:
    if not note.on_fold:
        return []
    without = [p.size for p in made if p and p.fold is None]
    if without:
        return [Finding("fold-unknown", f'The words on "{name}" say that it is cut on the fold, but no straight edge '
                        "stands out as the fold; name it in the labels file.", piece=name, size=without[0])]
    return []


def missing_sizes(pieces: Sequence[Nested], sizes: Sequence[str]) -> list[Finding]:
    """A finding for each piece that some sizes lack."""
    found = []
    for nested in pieces:
        absent = [s for s, p in zip(sizes, nested.by_size, strict=True) if p is None]
        if absent:
            name = next(p.name for p in nested.by_size if p)
            listed = ", ".join(absent)
            found.append(Finding(
                "piece-missing", f'"{name}" was not found in size {listed}; look whether its outline is closed there, '
                "or do without these sizes.", Severity.LOOK, piece=name, size=absent[0]))
    return found


def told_apart(pieces: Sequence[Nested]) -> tuple[list[Nested], list[Finding]]:
    """Pieces of one name get numbers: "facing", "facing 2"."""
    names = [next(p.name for p in nested.by_size if p) for nested in pieces]
    out, findings = [], []
    for nested, name, new in zip(pieces, names, numbered(names), strict=True):
        if new != name:
            nested = replace(nested, by_size=tuple(p and replace(p, name=new) for p in nested.by_size))
            findings.append(Finding("name-twice", f'Several pieces are called "{name}"; one of them is called "{new}" '
                                    "here: give them their own names in the labels file.", piece=new))
        out.append(nested)
    return out, findings
