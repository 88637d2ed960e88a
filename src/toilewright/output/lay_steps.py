"""What is done at the table, in order: squaring, folding, laying, cutting (common practice, no published source)."""

from __future__ import annotations

from toilewright.output.lay_sheet import LaySheet, OneCut, lies_words
from toilewright.output.summary import Table
from toilewright.units import show_length


def before_steps(sheet: LaySheet) -> tuple[str, ...]:
    """How the cloth is got ready, as it lies in this lay."""
    lay, unit = sheet.lay, sheet.unit
    cloth = lay.cloth
    steps = ["Wash and press the cloth as the garment will be washed, unless that is done. The iron and its steam are "
             "hot.",
             "Square the cut end: pull a thread across, or tear, and cut along it. Where the corners are no right "
             "angles, pull the cloth along its short diagonal until they are.",
             f"Measure it: at least {show_length(lay.length, unit)} long and {show_length(cloth.width, unit)} wide "
             "between the selvedges. If it is narrower, do not begin: lay it again with its width."]
    for section in lay.sections:
        start, end = (show_length(x, unit) for x in (section.start, section.start + section.length))
        where = f"From {start} to {end}: " if len(lay.sections) > 1 else ""
        lay_it, fold_it = ("lay", "fold") if where else ("Lay", "Fold")
        if section.fold_depth is None:
            steps.append(f"{where}{lay_it} the cloth {lies_words(section, unit)}.")
            continue
        even = abs(cloth.width - 2 * section.fold_depth) < 0.1
        steps.append(f"{where}{fold_it} the cloth along the grain {show_length(section.fold_depth, unit)} deep, right "
                     "sides inside" + (", selvedge on selvedge" if even else ", the rest beside it in one layer")
                     + "; it must lie without a pull. Pin the layers together along the selvedge.")
    if len(lay.sections) > 1:
        steps.append("Cut all that lies folded first, then open the rest out.")
    if cloth.one_way:
        steps.append("The cloth has a direction: no piece may be turned round. The cut end is at the left of the "
                     "picture.")
    if cloth.repeat.along or cloth.repeat.across:
        steps.append("Begin where the picture has the lines of the repeat, and pin the layers line on line.")
    if cloth.flaws:
        steps.append("Mark the flaws of the picture with chalk before you lay anything.")
    return (*steps,
            "Lay the pieces by their numbers, each at its distance from the cut end. Measure from both ends of the "
            "grain line to the fold or the selvedge: the two must be alike. Pin, or weigh the pieces down.",
            "When all lie and nothing overlaps, cut in the order of the numbers. Cut notches and marks before a piece "
            "is moved, and chalk L and R on the wrong side of pairs.")


def order_table(sheet: LaySheet) -> Table:
    """Every cut by its number, and where it lies."""
    edge = {s.fold_depth is None for s in sheet.lay.sections}
    across = "from the selvedge" if edge == {True} else "from the fold" if edge == {False} else "from fold or selvedge"
    return Table("In this order", ("", "piece", "how", "from the cut end", across),
                 tuple(_row(cut, sheet.unit) for cut in sheet.cuts), (6, 34, 36, 26, 24))


def _row(cut: OneCut, unit: str) -> tuple[str, ...]:
    points = cut.one.outline
    along = min(p.real for p in points), max(p.real for p in points)
    across = min(p.imag for p in points), max(p.imag for p in points)
    return str(cut.turn), cut.full_name, cut.how, _span(*along, unit), _span(*across, unit)


def _span(low: float, high: float, unit: str) -> str:
    """From and to, the unit said once."""
    first = show_length(max(low, 0.0), unit)
    return f"{first[:-len(unit) - 1]} to {show_length(high, unit)}"
