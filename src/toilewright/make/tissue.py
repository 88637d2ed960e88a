"""The guide and the empty flat sheet for a pattern that is measured with a tape."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from toilewright.files import replacing
from toilewright.make.deliver import unwritable
from toilewright.make.takings import guide_of
from toilewright.make.tissue_kinds import Kind, find_kind
from toilewright.output.tissue_guide import write_guide
from toilewright.output.tissue_rows import GuidePage

GUIDE, SHEET = "tissue-guide.pdf", "flat-sheet.toml"


@dataclass(frozen=True)
class Tissue:
    """What was written.

    Attributes:
        pages: the lengths to take, piece by piece.
        guide, sheet: the two files.
        kept: was the flat sheet there already, and left alone?
    """

    kind: Kind
    pages: tuple[GuidePage, ...]
    guide: Path
    sheet: Path
    kept: bool

    def plain(self) -> dict[str, object]:
        """As plain values for machines."""
        return {"garment": self.kind.name, "guide": str(self.guide), "sheet": str(self.sheet), "sheet_kept": self.kept,
                "lengths": [{"number": r.number, "name": r.name, "piece": p.piece.name, "how": r.how,
                             "needed": r.weight == "must", "optional": r.weight == "may"}
                            for p in self.pages for r in p.rows]}

    def lines(self) -> tuple[str, ...]:
        """In words, for the terminal."""
        said = []
        for page in self.pages:
            said += [f"{page.piece.name.capitalize()}", *(
                f"  {r.number}. {r.name}{' (if you like)' if r.weight == 'may' else ''}: {r.how}" for r in page.rows)]
        kept = " was there already and was left alone" if self.kept else " waits for your numbers"
        return (*said, f"{self.guide} draws where each one runs; {self.sheet}{kept}. Name it as the pattern of a make "
                "file.")


def write_tissue(kind: str, out: str | os.PathLike[str]) -> Tissue:
    """Write the guide and, where there is none yet, the empty flat sheet into a folder.

    Raises:
        NameUnknown: no such kind of garment.
        FileError: the folder cannot be made or written to.
    """
    found, folder = find_kind(kind, ""), Path(out)
    pages = guide_of(found.block())
    guide, sheet = folder / GUIDE, folder / SHEET
    kept = sheet.exists()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_guide(pages, guide, f"The tissue of {_a(found.name)}")
        if not kept:
            with replacing(sheet) as name:
                Path(name).write_text(empty_sheet(found, pages), encoding="utf-8")
    except OSError as problem:
        raise unwritable(folder, problem) from None
    return Tissue(found, pages, guide, sheet, kept)


def empty_sheet(kind: Kind, pages: tuple[GuidePage, ...]) -> str:
    """A flat sheet to be filled in: every length in its order, waiting behind a #."""
    lines = ["# Write the number behind the equals sign, and take the # away from that line.", "",
             f'name       = "my {kind.name}"', f'garment    = "{kind.name}"',
             'size       = "?"      # printed on the tissue, along whose lines the tape lies',
             'allowances = "15 mm"  # beyond the seam lines of the tissue; "none" where it ends there',
             'unit       = "cm"', "", "[lengths]"]
    asked: set[str] = set()
    for page in pages:
        lines.append(f"# {page.piece.name}")
        lines += [f'# "{row.name}" =' for row in page.rows if row.name not in asked]
        asked |= {row.name for row in page.rows}
    return "\n".join([*lines, "", "# [chart]               # the body chart of the envelope, smallest size first",
                      '# sizes = ["12", "14", "16"]', "# bust  = [87, 92, 97]", ""])


def _a(name: str) -> str:
    return name if name.endswith("s") and not name.endswith("ss") else f"a {name}"
