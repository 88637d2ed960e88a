"""From printed outlines and labels to a pattern: all pieces in all sizes by name, at the seam line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations

from toilewright.errors import Finding, InputError, NameUnknown, Severity
from toilewright.intake.correspond import correspond
from toilewright.intake.label_types import Labels
from toilewright.intake.nest_maker import NAMELESS, make_nest, printed_names
from toilewright.intake.raw import RawPattern, RawPiece
from toilewright.intake.seam_guess import misfit
from toilewright.pattern.garment import Garment, Seam
from toilewright.pattern.nest import Pattern
from toilewright.pattern.piece import Piece

ODD_SHARE = 0.12
"""An edge whose length leaves the run of the neighbouring sizes by more than this share is reported."""


def build_pattern(raw: RawPattern, labels: Labels) -> tuple[Pattern, tuple[Finding, ...]]:
    """Build the pattern that the sheet shows, under the names of the labels.

    Returns:
        The pattern, and everything that deserves a look: sizes that do not match, seams whose lengths do not agree.

    Raises:
        InputError: the labels and the sheet do not belong together.
    """
    _same_sizes(raw, labels)
    raws = dict(zip(printed_names(raw), raw.pieces, strict=True))
    findings: list[Finding] = []
    made: list[tuple[Piece | None, ...]] = []
    for label in labels.pieces:
        if label.printed not in raws:
            raise NameUnknown.among("piece", label.printed, raws, "the sheet")
        sizes = raws.pop(label.printed)
        nest = correspond(sizes, len(label.edges))
        pieces, found = make_nest(sizes, label, labels, nest)
        findings += [*nest.findings, *found, *_missing(label.name, sizes, raw), *_odd_edges(pieces, raw.sizes)]
        if all(e.name.startswith("edge ") for e in label.edges):
            findings.append(Finding(
                "edges-unnamed", f'"{label.name}" is no piece that is known by its name or shape; its edges are called '
                '"edge 1", "edge 2" and so on: name them in the labels file if they are to be altered or sewn.',
                Severity.NOTE, label.name))
        elif label.printed.startswith(NAMELESS) and label.name != label.printed:
            findings.append(Finding(
                "piece-by-shape", f'The sheet does not name "{label.printed}"; by shape it is called "{label.name}" '
                "in the labels: check that it is.", Severity.NOTE, label.name))
        made.append(pieces)
    findings += [Finding("piece-left-out", f'"{name}" is on the sheet but not in the labels; it was left out.',
                         Severity.NOTE, name) for name in raws]
    garments = [Garment(tuple(p[i] for p in made if p[i] is not None)) for i in range(len(raw.sizes))]
    names = tuple(name for _, name in labels.sizes)
    seams = tuple(s.seam for s in labels.seams)
    findings += _seam_findings(garments, seams, names)
    whole = tuple(replace(g, seams=_there(g, seams)) for g in garments)
    chart = labels.chart and replace(labels.chart, sizes=names)
    return Pattern(labels.name, names, whole, chart, labels.cloth), tuple(findings)


def _same_sizes(raw: RawPattern, labels: Labels) -> None:
    printed = tuple(p for p, _ in labels.sizes)
    for size in printed:
        if size not in raw.sizes:
            raise NameUnknown.among("size", size, raw.sizes, "the sheet")
    if printed != raw.sizes:
        raise InputError(f'The sheet shows the sizes {", ".join(raw.sizes)} in this order, but the labels list '
                         f'{", ".join(printed)}; list all of them under "sizes", in the order of the sheet.')


def _missing(name: str, sizes: Sequence[RawPiece | None], raw: RawPattern) -> list[Finding]:
    """Sizes in which a piece is missing, unless the recogniser said so."""
    printed = next(p.name for p in sizes if p is not None)
    if any(f.piece == printed and f.code in ("size-missing", "piece-missing") for f in raw.findings):
        return []
    return [Finding("size-missing", f'"{name}" was not found in size {size}; look whether the sheet shows it there.',
                    Severity.LOOK, name, None, size)
            for piece, size in zip(sizes, raw.sizes, strict=True) if piece is None]


def _odd_edges(pieces: Sequence[Piece | None], sizes: Sequence[str]) -> list[Finding]:
    """Edges whose length leaves the run of the sizes around it; of three sizes nobody can tell which is the odd one."""
    there = [(i, p) for i, p in enumerate(pieces) if p is not None]
    findings = []
    for edge in (there[0][1].edges if len(there) > 3 else ()):
        lengths = {i: p.edge(edge.name).path.length for i, p in there}
        for i, piece in there:
            have, want = lengths[i], _expected(lengths, i)
            if abs(have - want) > max(ODD_SHARE * want, 10.0):
                findings.append(Finding(
                    "edge-differs", f'"{edge.name}" of "{piece.name}" is {have / 10:.1f} cm long in size {sizes[i]}, '
                    f"where the sizes around it let {want / 10:.1f} cm expect; check its two corners there.",
                    Severity.LOOK, piece.name, edge.name, sizes[i], have, want))
    return findings


def _expected(lengths: Mapping[int, float], i: int) -> float:
    """What the nearest sizes let expect: the step of any two of them run on to size `i`, whichever fits best."""
    near = sorted((k for k in lengths if k != i), key=lambda k: abs(k - i))[:4]
    guesses = [lengths[j] + (lengths[k] - lengths[j]) / (k - j) * (i - j) for j, k in combinations(near, 2)]
    return min(guesses, key=lambda g: abs(g - lengths[i]))


def _there(garment: Garment, seams: Sequence[Seam]) -> tuple[Seam, ...]:
    """The seams whose pieces this size has."""
    return tuple(s for s in seams if all(garment.has(r.piece) for r in (*s.a, *s.b)))


def _seam_findings(garments: Sequence[Garment], seams: Sequence[Seam], sizes: Sequence[str]) -> list[Finding]:
    """Seams whose two sides do not agree: one finding a seam, about the size where it is worst."""
    findings = []
    for seam in seams:
        off = [(misfit(g, seam), size) for g, size in zip(garments, sizes, strict=True) if seam in _there(g, (seam,))]
        bad = [(m, s) for m, s in off if m != 0.0]
        if not bad:
            continue
        worst, size = max(bad, key=lambda item: abs(item[0]))
        where = "in all sizes" if len(bad) == len(off) else f"in {len(bad)} of {len(off)} sizes"
        findings.append(Finding(
            "seam-lengths", f'The seam "{seam.name}" does not sew {where}: side two is {abs(worst):.0f} mm too '
            f'{"long" if worst > 0 else "short"} in size {size}; check its edges and ease in the labels.',
            Severity.LOOK, seam.a[0].piece, seam.a[0].edge, size, worst, 0.0))
    return findings
