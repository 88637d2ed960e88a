"""Laying the cloth from a shell: the search is shown as it goes on, and Ctrl-C keeps the best lay so far."""

from __future__ import annotations

import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from toilewright.cli_room import Json, answer

Length = Annotated[str, Parameter(allow_leading_hyphen=True)]
"""A negative length is a length that cannot be, no option: it is told as such."""


def lay(make_file: Path, *more: Path, out: Path, width: Length = "", fold: Length = "", seconds: float = 10.0,
        seed: int = 0, as_json: Json = False) -> None:
    """Lay the pieces on the cloth, to be followed on the table; every lay is checked before it is shown.

    Writes lay.json, lay.svg and lay.pdf. Ctrl-C ends the search and keeps the best lay found until then.

    Parameters
    ----------
    make_file
        Your make file (TOML): which pattern, which tape sheet, which cloth.
    more
        Other make files whose pieces are cut from the same cloth.
    out
        The folder for the results. Files of the same names there are replaced, others are left alone.
    width
        Of the cloth between its selvedges, as it lies on your table: such as 140cm or 54in; left out, what the make
        file says.
    fold
        How the cloth lies: open, lengthwise, part, or a depth such as 30cm; left out, what the make file says, or
        whatever takes least.
    seconds
        How long to search for a shorter lay.
    seed
        Another number searches in another order; the same one does it again.
    """
    from toilewright.make.lay_files import write_laying
    from toilewright.make.lay_result import laying_result
    from toilewright.make.lay_tell import tell_laying
    from toilewright.make.laying import lay_make

    with stopped_by_hand() as stop, _shown(seconds) as tell:
        laying = lay_make((make_file, *more), width=width, fold=fold, seconds=seconds, seed=seed, tell=tell, stop=stop)
    write_laying(laying, out)
    answer(as_json, lambda: laying_result(laying), lambda: tell_laying(laying, out))


@contextmanager
def stopped_by_hand() -> Iterator[Callable[[], bool]]:
    """Ctrl-C asks the search to stop; a second one ends the program."""
    asked = threading.Event()

    def stop(*_: object) -> None:
        signal.signal(signal.SIGINT, signal.default_int_handler)
        asked.set()

    before = signal.signal(signal.SIGINT, stop)
    try:
        yield asked.is_set
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def _shown(seconds: float) -> Iterator[Callable[[float, float], None] | None]:
    """The search as a bar on a terminal, with the length of the best lay so far; elsewhere nothing is shown."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("Laying the cloth"), BarColumn(), TimeElapsedColumn(), TextColumn("{task.description}"))
    with Progress(*columns, console=Console(stderr=True), transient=True) as progress:
        task = progress.add_task("Ctrl-C keeps the best so far", total=max(seconds, 0.1))
        yield lambda length, gone: progress.update(
            task, completed=gone, description=f"{length / 10:.1f} cm; Ctrl-C keeps it")
