"""Files of a make for the printer, kept until something they rest on changes; and how the pages will lie."""

from __future__ import annotations

import hashlib
import io
import shutil
import tempfile
import threading
import unicodedata
import weakref
import zipfile
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from markupsafe import Markup

from toilewright import __version__
from toilewright.app.long_work import Progress
from toilewright.app.steps import Place, stamp
from toilewright.app.words import say
from toilewright.errors import NameUnknown
from toilewright.make.outcome import Outcome

if TYPE_CHECKING:
    from toilewright.output.tiled import TilePlan

KINDS = {"pdf": "application/pdf", "svg": "image/svg+xml", "dxf": "image/vnd.dxf", "json": "application/json"}
"""Media types by the end of a file's name."""

GROUPS = (("paper", ("pieces-a4.pdf", "pieces-letter.pdf", "pieces-sheet.pdf", "pieces-projector.pdf")),
          ("toile", ("toile-a4.pdf", "toile-letter.pdf", "toile-sheet.pdf", "toile-projector.pdf")),
          ("table", ("summary.pdf", "cards.pdf", "before-after.svg")),
          ("others", ("pieces.svg", "pieces.dxf", "result.json")))
"""Files by what they are for, in the order in which she wants them."""

_MAP = (420.0, 460.0)
"""px; of the picture of the pages."""


@dataclass(frozen=True, slots=True)
class Printed:
    """The files of one make.

    Attributes:
        stamp: of everything they rest on.
    """

    stamp: str
    folder: Path
    files: tuple[Path, ...]


class Prints:
    """Printed files of every make, in a folder that goes with the program."""

    def __init__(self) -> None:
        """Nothing printed yet."""
        self._lock = threading.Lock()
        self._root = ""
        self._made: dict[str, Printed] = {}

    def of(self, make_id: str, now: str) -> Printed | None:
        """What was printed of a make, as long as nothing it rests on has changed.

        Args:
            now: stamp of what it rests on now.
        """
        with self._lock:
            found = self._made.get(make_id)
        return found if found and found.stamp == now else None

    def write(self, make_id: str, now: str, outcome: Outcome, progress: Progress) -> Printed:
        """Make all files of a make; none is there when it is stopped.

        Raises:
            SewError: the pieces would not sew together.
        """
        from toilewright.make.deliver import write_outcome

        folder = Path(tempfile.mkdtemp(dir=self._place()))
        try:
            files = write_outcome(outcome, folder, lambda done, of, name: progress(file_words(name), done, of))
        except BaseException:  # stopped by her, too
            shutil.rmtree(folder, ignore_errors=True)
            raise
        made = Printed(now, folder, files)
        with self._lock:
            old = self._made.get(make_id)
            self._made[make_id] = made
        if old:  # some systems do not let go of a file that is being sent; it goes with the program then
            shutil.rmtree(old.folder, ignore_errors=True)
        return made

    def _place(self) -> str:
        """The folder of all, made when it is first needed; it goes when the program ends."""
        with self._lock:
            if not self._root:
                self._root = tempfile.mkdtemp(prefix="toilewright-print-")
                weakref.finalize(self, shutil.rmtree, self._root, ignore_errors=True)
            return self._root


def print_stamp(place: Place, unit: str) -> str:
    """A stamp of everything that shows on the printed files."""
    resting = stamp("print", *place.rests)
    body = place.body
    names = (place.make.title, body and (body.name, body.posture, [sheet.date for sheet in body.sheets]),
             place.pattern and place.pattern.name, unit, __version__)
    return hashlib.sha256(f"{resting} {names}".encode()).hexdigest()[:16]


def file_words(name: str) -> str:
    """What a file is, in words."""
    return say("print.file_" + name.replace("-", "_").replace(".", "_"))


def file_of(printed: Printed | None, name: str) -> Path:
    """One printed file.

    Raises:
        NameUnknown: it is not there, or not any more.
    """
    found = next((p for p in printed.files if p.name == name), None) if printed else None
    if found is None:
        raise NameUnknown(say("print.gone", name=name))
    return found


def as_zip(printed: Printed, title: str) -> bytes:
    """All files as one."""
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as packed:
        for path in printed.files:
            packed.write(path, saved_name(title, path.name))
    return data.getvalue()


def saved_name(title: str, name: str) -> str:
    """Under which name a file is saved: the make's title in plain letters before it.

    >>> saved_name("Kleid für Änne / 2", "cards.pdf")
    'kleid-fur-anne-2-cards.pdf'
    """
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    words = "".join(c if c.isalnum() else " " for c in plain).split()
    return "-".join([*words, name])[-120:]


def map_of_pages(plan: TilePlan, paper: str) -> Markup:
    """The pages as they will lie on the table, with their names and the pieces over them."""
    from toilewright.app.figures import drawing, line
    from toilewright.draw.figure import Pen

    grid = plan.grid
    wide, tall = grid.columns * grid.step[0] + grid.overlap, grid.rows * grid.step[1] + grid.overlap
    scale = min(_MAP[0] / wide, _MAP[1] / tall)
    inside = []
    for tile in grid.tiles():
        x0, y0, x1, y1 = grid.core(tile)
        blank = "" if tile in plan.printed else " blank"
        inside.append(f'<rect class="page{blank}" x="{x0:.1f}" y="{-y1:.1f}" width="{x1 - x0:.1f}" '
                      f'height="{y1 - y0:.1f}"/>')
    inside += [line(m.path, "piece") for m in plan.sheet.marks if m.pen in (Pen.CUT, Pen.FOLD)]
    for tile in grid.tiles():
        if tile in plan.printed:
            x0, y0, x1, y1 = grid.core(tile)
            inside.append(f'<text class="page-name" x="{(x0 + x1) / 2:.1f}" y="{-(y0 + y1) / 2 + 5 / scale:.1f}" '
                          f'font-size="{13 / scale:.1f}" text-anchor="middle">{tile.name}</text>')
    box = (-2.0, grid.height - tall - 2.0, wide + 2.0, grid.height + 2.0)
    title = say("print.map", paper=say(f"print.paper_{paper}"), n=len(plan.printed))
    return drawing("".join(inside), box, scale, title, "figure pages")
