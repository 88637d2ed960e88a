"""What to buy in words, for the terminal."""

from __future__ import annotations

from pathlib import Path

from rich.console import Console

from toilewright.cutting.offers import Buying, ClothOffers, Offer
from toilewright.cutting.requirement import SoldBy, show_bought, show_yards
from toilewright.make.tell import show_grid
from toilewright.output.shopping import joined_words
from toilewright.output.summary import Table
from toilewright.units import show_length

_HEADS = ("width", "lay", "buy", "", "envelope", "saved", "cloth", "cost")


def tell_buying(buying: Buying, folder: Path | None = None, console: Console | None = None) -> None:
    """The widths of every cloth, what else to buy, what to do first, and how sure it is."""
    out = console or Console(highlight=False)
    out.print(f"[bold]{buying.title}[/bold]" if "[" not in buying.title else buying.title)
    for cloth in buying.cloths:
        show_grid(out, widths_table(cloth, buying.unit))
        for line in lines_of(cloth, buying.unit):
            out.print(line, markup=False)
    if buying.notions:
        show_grid(out, Table("Also", ("what", "how much", "why"),
                             tuple((n.name, n.amount, n.why) for n in buying.notions), (1, 1, 3)))
    out.print("Before you cut:", markup=False)
    for line in (*buying.before, "How sure it is:", *buying.notes):
        out.print(line if line.endswith(":") else f"- {line}", markup=False)
    if folder is not None:
        out.print(f"The shopping list is in {folder}: cloth.pdf.", markup=False)


def widths_table(cloth: ClothOffers, unit: str) -> Table:
    """One row for each width in which the pieces fit, or of which the envelope speaks."""
    rows = [_row(offer, unit, offer is cloth.cheapest) for offer in cloth.offers if not offer.refused]
    told = [k for k in range(len(_HEADS)) if any(row[k] for row in rows)]
    return Table(f"Cloth: {cloth.use}", tuple(_HEADS[k] for k in told),
                 tuple(tuple(row[k] for k in told) for row in rows), (1,) * len(told))


def lines_of(cloth: ClothOffers, unit: str) -> list[str]:
    """What is cut from one cloth, which width is cheapest, which are too narrow, and what to read beside it."""
    lines = []
    if cloth.pieces:
        lines.append("- From it: " + ", ".join(f"{count} x {name}" for name, count in cloth.pieces) + ".")
    if (best := cloth.cheapest) is not None:
        by = "costs least" if cloth.by_price else "takes the least cloth (no prices are known)"
        lines.append(f"- {show_bought(best.buy, best.sold_by)} of {show_length(best.width, unit)} {by}"
                     + (f", about {best.weight:.0f} g." if best.weight is not None else "."))
    lines += [f"- {joined_words(o, unit)}" for o in cloth.offers if o.joins]
    lines += [f"- {show_length(o.width, unit)} is too narrow: {o.refused}" for o in cloth.offers if o.refused]
    return lines + [f"- {note}" for note in cloth.notes]


def _row(offer: Offer, unit: str, cheapest: bool) -> tuple[str, ...]:
    width = show_length(offer.width, unit)
    asked = "" if offer.envelope is None else show_bought(offer.envelope.length, offer.sold_by)
    if offer.envelope is not None and offer.envelope.width is not None:
        asked = f"about {asked}, from {show_length(offer.envelope.width, unit)}"
    if offer.need is None:
        return width, "", "", "", asked, "", "", ""
    other = (show_yards(offer.need.bought(SoldBy.YARD)) if offer.sold_by is SoldBy.METRE
             else show_bought(offer.need.bought(SoldBy.METRE)))
    cost = "" if offer.cost is None else f"{offer.cost:.2f}"
    return (f"{width} *" if cheapest else width, show_length(offer.need.lay, unit),
            show_bought(offer.buy, offer.sold_by), f"({other})", asked, _saved(offer), f"{offer.area:.2f} m2", cost)


def _saved(offer: Offer) -> str:
    if offer.saved is None:
        return ""
    more = "more" if offer.saved < -0.5 else ""
    length = (show_yards(abs(offer.saved)) if offer.sold_by is SoldBy.YARD else f"{abs(offer.saved) / 1000:.1f} m")
    money = "" if offer.money_saved is None else f", {abs(offer.money_saved):.2f}"
    return f"{length} {more}{money}" if more else f"{length}{money}"
