"""All files of one make, written together or not at all."""

from __future__ import annotations

import json
import os
import shutil
import tempfile
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path

from toilewright.errors import FileError, Finding, Severity, SewError
from toilewright.fit.toile.pieces import toile_of
from toilewright.make.extra_cards import cards_of
from toilewright.make.outcome import Outcome, Sized
from toilewright.make.page import summary_of
from toilewright.make.result import make_result
from toilewright.output.before_after import write_before_after
from toilewright.output.cards import in_her_unit, write_cards
from toilewright.output.dxf import write_dxf
from toilewright.output.projector import write_projector
from toilewright.output.sheet import write_sheet
from toilewright.output.summary import write_summary
from toilewright.output.svg import write_svg
from toilewright.output.tiled import write_tiled
from toilewright.pattern.garment import Garment

FILES = ("result.json", "pieces-a4.pdf", "pieces-letter.pdf", "pieces-sheet.pdf", "pieces-projector.pdf", "pieces.svg",
         "pieces.dxf", "cards.pdf", "before-after.svg", "summary.pdf")

TOILE_FILES = ("toile-a4.pdf", "toile-letter.pdf", "toile-sheet.pdf", "toile-projector.pdf")
"""Written beside the others, on the papers asked for, where a make prints its toile."""


Tell = Callable[[int, int, str], None]
"""Told before every file: how many are done, of how many, and the name of the one made now; may raise to stop."""


def write_outcome(outcome: Outcome, out: str | os.PathLike[str], tell: Tell | None = None) -> tuple[Path, ...]:
    """Write every file of a make into a folder; files of the same names there are replaced.

    Nothing is left half-written: all files are made beside the folder first, then moved in.

    Args:
        tell: whatever it raises stops the work; no file is there then.

    Raises:
        SewError: the altered pieces do not sew together (said seam by seam); nothing is printed.
        FileError: the folder cannot be made or written to.
    """
    must_sew(outcome)
    return write_files(_writers(outcome), out, tell)


def write_files(writers: Mapping[str, Callable[[Path], None]], out: str | os.PathLike[str],
                tell: Tell | None = None) -> tuple[Path, ...]:
    """Write files into a folder, all of them or none; those of the same names there are replaced.

    Args:
        writers: by name of the file, what writes it to a path.
        tell: as for :func:`write_outcome`.

    Raises:
        FileError: the folder cannot be made or written to.
    """
    folder = Path(out)
    new = [f for f in (folder, *folder.parents) if not f.exists()]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        work = Path(tempfile.mkdtemp(prefix=".toilewright-", dir=folder))
    except OSError as problem:
        remove_empty(new)
        raise unwritable(folder, problem) from None
    try:
        for done, (name, write) in enumerate(writers.items()):
            if tell:
                tell(done, len(writers), name)
            write(work / name)
        return tuple(_moved(work / name, folder / name) for name in writers)
    except OSError as problem:
        raise unwritable(folder, problem) from None
    finally:
        shutil.rmtree(work, ignore_errors=True)
        remove_empty(new)


def remove_empty(folders: Sequence[Path]) -> None:
    """Take folders away again, innermost first, as far as they hold nothing."""
    for folder in folders:
        with suppress(OSError):
            folder.rmdir()


def unwritable(folder: Path, problem: OSError) -> FileError:
    """The error for a folder that takes no files."""
    return FileError(f'The results cannot be written to "{folder}" ({problem.strerror}); make room there, or name '
                     "another folder with --out.")


def stops_of(outcome: Outcome) -> tuple[Finding, ...]:
    """What must be put right before anything is printed."""
    return tuple(f for f in outcome.findings if f.severity is Severity.STOP)


def must_sew(outcome: Outcome) -> None:
    """Nothing is printed that would not sew together.

    Raises:
        SewError: said seam by seam.
    """
    stops = stops_of(outcome)
    if stops:
        raise SewError("Nothing was printed, because the pieces would not sew together. "
                       + " ".join(f.text for f in stops))


def _moved(source: Path, target: Path) -> Path:
    os.replace(source, target)
    return target


def _writers(outcome: Outcome) -> dict[str, Callable[[Path], None]]:
    sized = outcome.sized
    garment, size, unit = outcome.altered.garment, sized.size_name, sized.unit
    words = {"title": sized.make.title, "note": note_on_pieces(sized), "unit": unit}
    writers: dict[str, Callable[[Path], None]] = {"result.json": lambda p: _write_json(outcome, p)}
    if sized.reading.by_tape:
        return writers | _to_lie_beside_tissue(outcome)
    writers |= _on_papers("pieces", garment, sized.make.papers, words)
    if sized.make.print_toile:
        title = f"{sized.make.title}: toile {len(sized.make.toiles) + 1}"
        writers |= _on_papers("toile", toile_of(outcome.whole), sized.make.papers, {**words, "title": title})
    return writers | {
        "pieces.svg": lambda p: write_svg(garment, p, **words),
        "pieces.dxf": lambda p: write_dxf(garment, p, size, sized.make.title),
        "before-after.svg": lambda p: write_before_after(outcome.altered.bought, outcome.whole, p, _notes(outcome)),
        **_to_lie_beside_tissue(outcome),
    }


def _to_lie_beside_tissue(outcome: Outcome) -> dict[str, Callable[[Path], None]]:
    """What is of use without printed pieces too."""
    return {"cards.pdf": lambda p: write_cards(cards_of(outcome), p, outcome.sized.unit),
            "summary.pdf": lambda p: write_summary(summary_of(outcome), p)}


def _on_papers(what: str, garment: Garment, papers: Sequence[str],
               words: dict[str, str]) -> dict[str, Callable[[Path], None]]:
    """The pieces on each paper asked for, by the file's name."""
    ways: dict[str, Callable[[Path], None]] = {
        "a4": lambda p: write_tiled(garment, p, "a4", **words),
        "letter": lambda p: write_tiled(garment, p, "letter", **words),
        "sheet": lambda p: write_sheet(garment, p, **words),
        "projector": lambda p: write_projector(garment, p, **words)}
    return {f"{what}-{paper}.pdf": write for paper, write in ways.items() if paper in papers}


def note_on_pieces(sized: Sized) -> str:
    """What stands on every piece below its name: the size, and for whom."""
    return f"size {sized.size_name}, {sized.body.name}"


def _notes(outcome: Outcome) -> dict[str, str]:
    """By piece, what was done to it."""
    notes: dict[str, list[str]] = {}
    for done in outcome.altered.done:
        title = in_her_unit(done.card.title, outcome.sized.unit)
        for piece in done.changed:
            notes.setdefault(piece, []).append(title)
    return {piece: "; ".join(words) for piece, words in notes.items()}


def _write_json(outcome: Outcome, path: Path) -> None:
    path.write_text(json.dumps(make_result(outcome), indent=2, ensure_ascii=False) + "\n", encoding="utf-8")
