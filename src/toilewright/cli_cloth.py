"""Cloth from a shell: how much to buy, and how to lay it."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

from toilewright.cli_lay import lay, stopped_by_hand
from toilewright.cli_room import Json, answer

Widths = Annotated[tuple[str, ...], Parameter(negative="", consume_multiple=True)]


def put_into(app: App) -> None:
    """The commands of cloth, beside the others."""
    for command in (cloth, lay):
        app.command(command)


def cloth(make_file: Path, *more: Path, widths: Widths = (), seconds: float = 3.0, seed: int = 0,
          out: Path | None = None, as_json: Json = False) -> None:
    """Say how much cloth to buy: for each width on sale the length, beside the envelope's figure, and what is saved.

    Ctrl-C ends the search; the widths that were laid until then are told. Of a pattern on tissue, which was measured
    with a tape, the envelope's figure is taken over to other widths by the trade's chart.

    Parameters
    ----------
    make_file
        Your make file (TOML): which pattern, which tape sheet, which cloth.
    more
        Other make files whose pieces are cut from the same cloth.
    widths
        The widths on sale, such as 140cm or 45in; left out, those that the make file prices, or those of most shops.
    seconds
        How long to search for the shortest lay of each width; 0 for a quick estimate.
    seed
        Another number searches in another order; the same one does it again.
    out
        The folder for the shopping list, cloth.pdf, with each lay to scale, and cloth.json.
    """
    from toilewright.make.buying import buy
    from toilewright.make.buying_files import write_buying
    from toilewright.make.buying_result import buying_result
    from toilewright.make.buying_tell import tell_buying

    with stopped_by_hand() as stop, _shown() as tell:
        buying = buy((make_file, *more), widths, seconds, seed, tell, stop)
    if out is not None:
        write_buying(buying, out)
    answer(as_json, lambda: buying_result(buying), lambda: tell_buying(buying, out))


@contextmanager
def _shown() -> Iterator[Callable[[str, float], None] | None]:
    """Which width is being laid, as a bar on a terminal; elsewhere nothing is shown."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("Laying each width"), BarColumn(), TimeElapsedColumn(), TextColumn("{task.description}"))
    with Progress(*columns, console=Console(stderr=True), transient=True) as progress:
        task = progress.add_task("Ctrl-C tells those that are laid", total=1.0)
        yield lambda what, done: progress.update(task, completed=done, description=what)
