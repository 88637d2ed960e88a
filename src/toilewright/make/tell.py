"""Results in words, for the terminal."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from rich.console import Console
from rich.table import Table as Grid

from toilewright.errors import Finding, Severity
from toilewright.fit.flat import flat_of
from toilewright.make.outcome import Outcome, Sized
from toilewright.make.page import alteration_table, bought_table, ease_table, size_lines, walk_table, who
from toilewright.make.reading import Reading
from toilewright.output.summary import Table
from toilewright.units import show_length


def tell_reading(reading: Reading, labels: Path | None, console: Console | None = None) -> None:
    """What a pattern file holds, and what to do next."""
    out = console or Console(highlight=False)
    raw = reading.raw
    out.print(f"[bold]{reading.labels.name}[/bold]", markup=True)
    out.print(f"Sizes: {', '.join(raw.sizes)}")
    if reading.by_tape:
        show_grid(out, _by_tape(reading))
        _findings(out, reading.findings)
        return
    said = _allowance(raw.allowance)
    out.print(f"Seam allowance: {said}; the printed outline is the {raw.line} line.")
    out.print(_square(reading))
    show_grid(out, Table("Pieces", ("piece", "edges", "darts", "notches", "cut"), tuple(
        (p.name if p.name == p.printed else f'{p.name} (on the sheet: "{p.printed}")',
         ", ".join(dict.fromkeys(e.name for e in p.edges)),
         ", ".join(p.darts) or "-", str(len(p.notches)), f"{p.cut.count}{', a pair' if p.cut.mirrored else ''}")
        for p in reading.labels.pieces), (1,) * 5))
    _findings(out, reading.findings)
    if labels is not None:
        out.print(f"The names were written to {labels}: read them through, correct what is wrong, and name that file "
                  "in your make file.")
    elif not reading.confirmed:
        out.print("The names are guesses; --labels FILE writes them down for you to confirm or correct.")


def _by_tape(reading: Reading) -> Table:
    """Every flat length that was taken off the tissue, in each size."""
    flats = [flat_of(garment).lengths for garment in reading.pattern.garments]
    rows = tuple((name, *(_slope_or_length(name, flat[name].value) for flat in flats)) for name in flats[0])
    return Table("Lengths at the seam line", ("where", *reading.pattern.sizes), rows, (1,) * (len(flats) + 1))


def _slope_or_length(name: str, value: float) -> str:
    return f"{value:.0f} degrees" if "slope" in name else show_length(value)


def tell_size(sized: Sized, console: Console | None = None) -> None:
    """The size, why, and the ease that is really there."""
    out = console or Console(highlight=False)
    out.print(who(sized))
    for line in size_lines(sized):
        out.print(f"- {line}")
    show_grid(out, bought_table(sized))
    for row in sized.ease:
        out.print(f"- {row.verdict}")
    _findings(out, sized.findings)


def tell_outcome(outcome: Outcome, folder: Path, console: Console | None = None) -> None:
    """The whole make in short, and where its files are."""
    out = console or Console(highlight=False)
    sized = outcome.sized
    out.print(f"[bold]{sized.make.title}[/bold]", markup=True)
    out.print(who(sized))
    for line in size_lines(sized):
        out.print(f"- {line}")
    for table in (ease_table(sized, outcome.ease), alteration_table(outcome), walk_table(outcome.walks, sized.unit)):
        show_grid(out, table)
    _findings(out, outcome.findings)
    out.print(f"Everything is in {folder}: start with summary.pdf, then cards.pdf. "
              "The tool advises; the toile decides.")


def _allowance(mm: float | None) -> str:
    """In both units: a sheet in inches is read as easily as one in cm."""
    if mm is None:
        return "the sheet does not say"
    return f"{show_length(mm)} ({show_length(mm, 'in')})" if mm else "none"


def _square(reading: Reading) -> str:
    square = reading.raw.test_square
    if square is None:
        return "Test square: none found; measure a printed piece against its measures here before cutting."
    side = (square.width + square.height) / 2
    off = (side / square.nominal - 1) * 100
    if abs(off) < 0.2:
        return f"Test square: {side:.2f} mm where {square.nominal:g} mm are meant; the scale is right."
    return f"Test square: {side:.2f} mm where {square.nominal:g} mm are meant ({off:+.1f} %); all lines were corrected."


def show_grid(out: Console, table: Table) -> None:
    """A table as the terminal shows it."""
    grid = Grid(title=table.heading, title_justify="left", title_style="bold", box=None, pad_edge=False,
                padding=(0, 2, 0, 0), header_style="dim")
    for head in table.heads:
        grid.add_column(head, overflow="fold")
    for row in table.rows:
        grid.add_row(*row)
    out.print()
    out.print(grid)
    out.print()


def _findings(out: Console, findings: Sequence[Finding]) -> None:
    order = {Severity.STOP: 0, Severity.LOOK: 1, Severity.NOTE: 2}
    signs = {Severity.STOP: "STOP", Severity.LOOK: "look", Severity.NOTE: "note"}
    for f in sorted(findings, key=lambda f: order[f.severity]):
        out.print(f"{signs[f.severity]}: {f.text}", markup=False)
