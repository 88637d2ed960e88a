"""A lay in words, for the terminal."""

from __future__ import annotations

from pathlib import Path

from rich.console import Console

from toilewright.cutting.lay.plan import Lay
from toilewright.make.lay_result import used_area
from toilewright.make.laying import Laying
from toilewright.units import show_length


def tell_laying(laying: Laying, folder: Path, console: Console | None = None) -> None:
    """Every lay in short, and where its files are."""
    out = console or Console(highlight=False)
    out.print(f"[bold]{laying.title}[/bold]", markup=True)
    for lay in laying.lays:
        for line in lines_of(lay, laying.unit):
            out.print(line, markup=False)
    out.print(f"Everything is in {folder}: cut from lay.pdf, in the order of its numbers. Shears and rotary blades are "
              "sharp: cut away from your hand.", markup=False)


def lines_of(lay: Lay, unit: str) -> list[str]:
    """One lay: its length, how the cloth lies, what was checked, what to read."""
    used = 100 * used_area(lay) / (lay.length * lay.cloth.width)
    lines = [f"Cloth \"{lay.cloth.name}\", {show_length(lay.cloth.width, unit)} wide: {show_length(lay.length, unit)} "
             f"long, {used:.0f} % of it in the pieces."]
    for section in lay.sections:
        how = ("open, in one layer" if section.fold_depth is None
               else f"folded {show_length(section.fold_depth, unit)} deep, right sides inside")
        end = show_length(section.start + section.length, unit)
        lines.append(f"- from {show_length(section.start, unit)} to {end}: {how}")
    lines += [f"- {note}" for note in lay.notes]
    lines += [f"- checked: {c.name}. {c.said}" for c in lay.certificate.checks]
    return lines
