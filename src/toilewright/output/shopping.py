"""The shopping list: how much of each cloth in each width, what else, and a picture to scale of every width (A4)."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass

from toilewright.cutting.offers import Buying, ClothOffers, Offer
from toilewright.cutting.requirement import SoldBy, show_bought, show_yards
from toilewright.files import replacing
from toilewright.output.flow import Flow
from toilewright.output.lay_edges import BELOW
from toilewright.output.lay_looks import Scene
from toilewright.output.lay_paper import draw_scene
from toilewright.output.lay_scene import lay_scene
from toilewright.output.lay_sheet import LaySheet, end_of_lay, height_of
from toilewright.output.paper import canvas, width_of, write
from toilewright.output.summary import Table
from toilewright.units import show_length

_PAGE = (210.0, 297.0)
"""mm; A4 (ISO 216)."""

_SCALES = (10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200)

_APART = 6.0
"""mm between two pictures."""

_CARE = "The list advises; the shop's label says how wide the cloth is. Iron, steam and blades: the usual care."


def write_shopping(buying: Buying, path: str | os.PathLike[str], unit: str = "cm") -> None:
    """Write the shopping list (PDF).

    Args:
        path: PDF to write; replaced in one step.
        unit: ``cm`` or ``in``, in which lengths are read.
    """
    with replacing(path) as name:
        pdf = canvas(name, *_PAGE, f"{buying.title}: shopping list")
        flow = Flow(pdf, _PAGE, f"{buying.title}: shopping list", foot=_CARE)
        for cloth in buying.cloths:
            _cloth(flow, cloth, unit)
        if buying.notions:
            rows = tuple((n.name, n.amount, n.why) for n in buying.notions)
            flow.table(Table("Also", ("what", "how much", "why"), rows, (24, 18, 80)), ticks=True, bold=0)
        flow.heading("Before you cut")
        flow.steps(buying.before)
        flow.heading("How sure it is")
        for note in buying.notes:
            flow.say(note)
        for cloth in buying.cloths:
            _pictures(flow, cloth, buying.title, unit)
        flow.end()
        pdf.save()


def _cloth(flow: Flow, cloth: ClothOffers, unit: str) -> None:
    """One cloth: what to ask for, then every width."""
    flow.heading(f"Cloth: {cloth.use}")
    best = cloth.cheapest
    if best is not None:
        flow.say(best_words(best, cloth, unit), height=2.3)
    flow.table(widths_table(cloth, unit), ticks=True, strong=_strong(cloth))
    for offer in cloth.offers:
        if offer.joins:
            flow.say(joined_words(offer, unit))
        if offer.refused:
            flow.say(f"{show_length(offer.width, unit)} is too narrow: {offer.refused}")
    if best is not None:
        flow.say(how_it_adds_up(best, unit))
    if cloth.pieces:
        flow.say("Cut from it: " + ", ".join(f"{count} x {name}" for name, count in cloth.pieces) + ".")
    for note in cloth.notes:
        flow.say(note)


def best_words(best: Offer, cloth: ClothOffers, unit: str) -> str:
    """Which width to take, and what it saves."""
    by = "costs least" if cloth.by_price else "takes the least cloth (no prices are known)"
    words = f"{show_bought(best.buy, best.sold_by)} of cloth {show_length(best.width, unit)} wide {by}"
    words += f": {best.cost:.2f}." if cloth.by_price and best.cost is not None else "."
    if best.saved is not None and best.saved > 0.5:
        money = f", which is {best.money_saved:.2f} saved" if best.money_saved is not None else ""
        words += f" The envelope asks for {_length(best.saved, best.sold_by)} more{money}."
    return words


def joined_words(offer: Offer, unit: str) -> str:
    """What has to be divided for a width that is too narrow."""
    return (f"{show_length(offer.width, unit)} is too narrow for all pieces to be cut whole; joined in its lay: "
            f"{offer.joined}.")


def how_it_adds_up(offer: Offer, unit: str) -> str:
    """From the lay to what is bought."""
    need = offer.need
    parts = [f"the lay takes {show_length(need.lay, unit)}", f"the two ends lose {show_length(need.squaring, unit)}"]
    if need.start > 0.05:
        parts.append(f"one repeat is {show_length(need.start, unit)}")
    if need.margin > 0.05:
        parts.append(f"for mishaps {show_length(need.margin, unit)}")
    if abs(need.shrinkage) > 0.05:
        parts.append(f"washing takes {show_length(need.shrinkage, unit)}")
    whole = "1/8 yd" if offer.sold_by is SoldBy.YARD else "10 cm"
    return (f"For {show_length(offer.width, unit)}: {', '.join(parts)}; together {show_length(need.needed, unit)}, "
            f"rounded up to the next {whole}.")


def widths_table(cloth: ClothOffers, unit: str) -> Table:
    """One row for each width in which the pieces fit, or of which the envelope speaks."""
    heads = ("width", "lay", "buy", "or", "envelope asks", "saved", "price", "cost")
    rows = [_row(offer, unit) for offer in cloth.offers if not offer.refused]
    shown = [k for k in range(len(heads)) if any(row[k] for row in rows)]
    wide = (20, 20, 17, 19, 34, 32, 15, 15)
    return Table("", tuple(heads[k] for k in shown), tuple(tuple(row[k] for k in shown) for row in rows),
                 tuple(wide[k] for k in shown))


def _strong(cloth: ClothOffers) -> list[int]:
    return [k for k, o in enumerate(o for o in cloth.offers if not o.refused) if o is cloth.cheapest]


def _row(offer: Offer, unit: str) -> tuple[str, ...]:
    asked = ""
    if offer.envelope is not None:
        chart = "about " if offer.envelope.width is not None else ""
        asked = chart + _length(offer.envelope.length, offer.sold_by)
    price = "" if offer.price is None else f"{offer.price:.2f}"
    if offer.need is None or offer.buy is None:
        return show_length(offer.width, unit), "", "", "", asked, "", price, ""
    other = SoldBy.METRE if offer.sold_by is SoldBy.YARD else SoldBy.YARD
    return (show_length(offer.width, unit), show_length(offer.need.lay, unit), show_bought(offer.buy, offer.sold_by),
            show_bought(offer.need.bought(other), other), asked, _saved(offer), price,
            "" if offer.cost is None else f"{offer.cost:.2f}")


def _saved(offer: Offer) -> str:
    if offer.saved is None:
        return ""
    if offer.saved < -0.5:
        return f"{_length(-offer.saved, offer.sold_by)} more needed"
    money = "" if offer.money_saved is None else f", {offer.money_saved:.2f}"
    return _length(offer.saved, offer.sold_by) + money


def _length(mm: float, sold_by: SoldBy) -> str:
    return show_yards(mm) if sold_by is SoldBy.YARD else f"{mm / 1000:.1f} m"


def _pictures(flow: Flow, cloth: ClothOffers, title: str, unit: str) -> None:
    """Every width's lay, all at one scale, so that they can be compared."""
    offers = [offer for offer in cloth.offers if offer.lay is not None]
    if not offers:
        return
    sheets = [LaySheet(offer.lay, title, unit) for offer in offers]
    scale = _one_scale(sheets, flow.width)
    tallest = max(map(_tall, sheets)) / scale + BELOW + 18.0
    flow.heading(f'The lays of "{cloth.use}", scale 1:{scale}, the cut end on the left', min(tallest, 200.0))
    for row in _rows([_Picture(o, lay_scene(s, scale, brief=True)) for o, s in zip(offers, sheets, strict=True)],
                     flow.width, unit):
        tall = max(picture.tall for picture in row)
        flow.room(tall + 9.0)
        x = flow.left
        for picture in row:
            best = picture.offer is cloth.cheapest and len(offers) > 1
            write(flow.pdf, picture.words(unit) + (" (best)" if best else ""), complex(x, flow.y), 1.9, bold=best)
            draw_scene(flow.pdf, picture.scene, complex(x, flow.y - 2.0 - picture.tall))
            x += picture.wide(unit) + _APART
        flow.y -= tall + 7.0
    flow.say("Numbers are the order to cut in that lay; lay.pdf has it in full, with its marks. Darker cloth lies "
             "double.", height=1.7)


@dataclass(frozen=True, slots=True)
class _Picture:
    """One width's lay, drawn."""

    offer: Offer
    scene: Scene

    @property
    def tall(self) -> float:
        return (self.scene.box[3] - self.scene.box[1]) / self.scene.scale

    def words(self, unit: str) -> str:
        return (f"{show_length(self.offer.width, unit)} wide: lay {show_length(self.offer.need.lay, unit)}, buy "
                f"{show_bought(self.offer.buy, self.offer.sold_by)}")

    def wide(self, unit: str) -> float:
        """With its words and the mark of the best (mm)."""
        return max((self.scene.box[2] - self.scene.box[0]) / self.scene.scale,
                   width_of(self.words(unit) + " (best)", 1.9, True))


def _rows(pictures: Sequence[_Picture], wide: float, unit: str) -> list[list[_Picture]]:
    """Pictures side by side as far as there is room."""
    rows: list[list[_Picture]] = []
    for picture in pictures:
        if rows and sum(p.wide(unit) + _APART for p in rows[-1]) + picture.wide(unit) <= wide:
            rows[-1].append(picture)
        else:
            rows.append([picture])
    return rows


def _one_scale(sheets: Sequence[LaySheet], wide: float) -> int:
    long = max(end_of_lay(s.lay) for s in sheets)
    tall = max(map(_tall, sheets))
    return next((n for n in _SCALES if long / n <= wide - 5.0 and tall / n <= 90.0), _SCALES[-1])


def _tall(sheet: LaySheet) -> float:
    return max([height_of(sheet.lay, s) for s in sheet.lay.sections] or [sheet.lay.cloth.width])
