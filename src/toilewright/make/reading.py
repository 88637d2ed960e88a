"""A pattern file, read all the way: drawing, joined sheet, pieces as printed, names, pattern."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass

from toilewright.errors import Finding
from toilewright.intake.label_types import Labels
from toilewright.intake.raw import RawPattern
from toilewright.pattern.nest import Pattern

STAGES = ("open", "join", "recognise", "name")
"""What reading does, in order."""


@dataclass(frozen=True)
class Reading:
    """What a pattern file holds.

    Attributes:
        raw: pieces by size, as printed.
        labels: the guessed names, or those of the labels file.
        pattern: the pieces at the seam line, under those names.
        findings: everything that deserves a look, in the order in which it was found.
        confirmed: do the names come from a labels file?
        by_tape: was there no file of the pattern, but a flat sheet: are the pieces a stand-in that is never printed?
    """

    raw: RawPattern
    labels: Labels
    pattern: Pattern
    findings: tuple[Finding, ...]
    confirmed: bool
    by_tape: bool = False


def read_pattern(path: str | os.PathLike[str], labels: str | os.PathLike[str] | Labels | None = None,
                 tell: Callable[[str], None] = lambda stage: None) -> Reading:
    """Read a pattern file (PDF, SVG or DXF), or the flat sheet (TOML) of tissue that was measured with a tape.

    Args:
        labels: confirmed names, or a labels file that holds them; without them the names are guessed.
        tell: is told each of :data:`STAGES` as it begins.

    Raises:
        FileError: the file is missing, locked, damaged or of another kind.
        InputError: the labels do not fit the file.
    """
    if os.fspath(path).lower().endswith(".toml"):
        from toilewright.make.by_tape import read_by_tape

        return read_by_tape(os.fspath(path))
    # The libraries that files are read with are loaded where one is read, and not where a reading is only looked at.
    from toilewright.make.from_file import read_file

    return read_file(path, labels, tell)
