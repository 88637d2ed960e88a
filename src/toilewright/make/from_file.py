"""How a pattern file is read; see :mod:`toilewright.make.reading`."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from dataclasses import replace

from toilewright.errors import FileError, Finding, Severity
from toilewright.intake.assemble import build_pattern
from toilewright.intake.blocks_dxf import recognise_blocks
from toilewright.intake.broken import BROKEN, in_her_words, piece_lost
from toilewright.intake.drawing import Drawing
from toilewright.intake.labels import Labels, guess_labels, read_labels
from toilewright.intake.open import open_drawing
from toilewright.intake.raw import RawPattern
from toilewright.intake.recognise import recognise
from toilewright.intake.sketch import Sketch
from toilewright.intake.tiles import join_pages
from toilewright.make.guard import bounded
from toilewright.make.reading import Reading
from toilewright.pattern.nest import Pattern


def read_file(path: str | os.PathLike[str], labels: str | os.PathLike[str] | Labels | None,
              tell: Callable[[str], None]) -> Reading:
    """As :func:`toilewright.make.reading.read_pattern`."""
    name = os.path.basename(os.path.normpath(os.fspath(path)))
    confirmed = labels if labels is None or isinstance(labels, Labels) else read_labels(labels)
    with bounded(name), in_her_words(name):
        tell("open")
        drawing = open_drawing(path)
        raw = _recognise(drawing, tell)
        tell("name")
        try:
            names, pattern, found = _named(name, drawing, raw, confirmed)
        except BROKEN:
            raw = _sound_pieces(raw)
            names, pattern, found = _named(name, drawing, raw, confirmed)
    return Reading(raw, names, pattern, _once((*drawing.findings, *raw.findings, *found)), labels is not None)


def _named(name: str, drawing: Drawing, raw: RawPattern,
           confirmed: Labels | None) -> tuple[Labels, Pattern, tuple[Finding, ...]]:
    """The pattern under the confirmed names, else under guesses."""
    if not raw.pieces:
        raise FileError(_no_pieces(name, (*drawing.findings, *raw.findings)))
    names = confirmed or guess_labels(raw)
    return names, *build_pattern(raw, names)


def _sound_pieces(raw: RawPattern) -> RawPattern:
    """The pieces that can be named and brought to their seam line; the others are told in the findings."""
    kept, findings = [], []
    for sizes in raw.pieces:
        alone = replace(raw, pieces=(sizes,))
        try:
            build_pattern(alone, guess_labels(alone))
            kept.append(sizes)
        except BROKEN:
            piece = next(p for p in sizes if p is not None)
            findings.append(piece_lost(piece.name, Sketch(piece.outline).middle))
    return replace(raw, pieces=tuple(kept), findings=(*raw.findings, *findings))


_EXPLAINING = ("svg-reach", "dxf-reach", "pdf-repaired", "svg-letters", "block-open", "piece-lost")


def _no_pieces(name: str, findings: Sequence[Finding]) -> str:
    """Why there are no pieces, by the finding that explains most."""
    said = {f.code: f for f in reversed(findings)}
    if {"pdf-picture", "svg-picture"} & set(said):
        return (f'"{name}" holds pictures (a scan or photographs) but no closed outlines of pieces; photographs and '
                "scans cannot be read yet, so ask for the pattern as a drawn PDF.")
    explaining = [f for f in findings if f.severity is Severity.STOP and f.code != "no-pieces"]
    explaining += [f for f in findings if f.code in _EXPLAINING]
    why = (explaining or [said["no-pieces"]])[0].text
    return f'No pattern pieces were made out in "{name}": {why[0].lower() + why[1:]}'


def _recognise(drawing: Drawing, tell: Callable[[str], None]) -> RawPattern:
    if drawing.kind == "dxf":
        tell("recognise")
        blocks = recognise_blocks(drawing)
        if blocks is not None:
            return blocks
    tell("join")
    sheet = join_pages(drawing)
    tell("recognise")
    return recognise(sheet)


def _once(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Findings in order, each one once."""
    return tuple(dict.fromkeys(findings))
