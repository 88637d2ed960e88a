"""A lay, and what to buy, as the page shows them: plain words and numbers in her unit."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from toilewright.app.cutting_out import Use, use_words
from toilewright.app.words import on_page, say
from toilewright.cutting.lay.order import turns_of
from toilewright.cutting.lay.plan import Laid, Lay, Layer, Section
from toilewright.cutting.offers import Buying, ClothOffers, Offer
from toilewright.cutting.requirement import Requirement, SoldBy, requirement, show_bought
from toilewright.make.cloth_wish import ClothWish
from toilewright.units import show_length


@dataclass(frozen=True, slots=True)
class CutOne:
    """One cut of the lay.

    Attributes:
        turn: its number in the order of cutting.
        words: how it lies.
    """

    turn: int
    name: str
    words: str


@dataclass(frozen=True, slots=True)
class ShownLay:
    """One lay.

    Attributes:
        short: length, width and how much of it is used.
        lies: how wide it is where that is less than is sold, and how it lies from end to end.
        buy, why: how much to buy, and how that comes about; "" where it is a remnant.
        stock: is what is on the shelf enough, in words; short_of: it is not.
        checks: (what was found, does it hold?).
    """

    title: str
    picture: Markup
    short: str
    lies: tuple[str, ...]
    buy: str
    why: str
    stock: str
    short_of: bool
    order: tuple[CutOne, ...]
    checks: tuple[tuple[str, bool], ...]
    notes: tuple[str, ...]

    @property
    def failed(self) -> int:
        """How many checks do not hold."""
        return sum(not holds for _, holds in self.checks)


def shown_lay(lay: Lay, wish: ClothWish | None, use: Use | None, unit: str) -> ShownLay:
    """One lay in words and with its picture.

    Args:
        wish: what she wants of its cloth; None where she said nothing.
        use: as the page asks for it, or None where the pieces do not ask for it any more.
    """
    from toilewright.app.lay_picture import lay_picture
    from toilewright.make.lay_result import used_area

    cloth, wish = lay.cloth, wish or ClothWish(lay.cloth)
    percent = round(100 * used_area(lay) / (lay.length * cloth.width)) if lay.length else 0
    title = use_words(cloth.name) + (f" – {use.doc.name}" if use and use.doc else "")
    need = None if cloth.outline else need_of(lay, wish)
    stock, short_of = _stock(lay, wish, need, use, unit)
    return ShownLay(
        title, lay_picture(lay, say("cloth.picture_of", name=title, length=show_length(lay.length, unit),
                                    width=show_length(cloth.width, unit)), unit),
        say("cloth.takes", length=show_length(lay.length, unit), width=show_length(cloth.width, unit), percent=percent),
        (*_sold(lay, wish, use, unit), *(_lies(section, unit) for section in lay.sections)),
        say("cloth.buy_this", bought=show_bought(need.bought(wish.sold_by), wish.sold_by)) if need else "",
        _why(need, unit) if need else "", stock, short_of, _order(lay),
        tuple((on_page(c.said, unit), c.passed) for c in lay.certificate.checks),
        tuple(on_page(note, unit) for note in lay.notes))


def need_of(lay: Lay, wish: ClothWish) -> Requirement:
    """What has to be bought for a lay."""
    start = lay.cloth.repeat.along if wish.match else 0.0
    return requirement(lay.length, lay.cloth.shrinks_along, 2 * wish.squaring, wish.margin, start)


def _why(need: Requirement, unit: str) -> str:
    parts = (("squaring", need.squaring), ("margin", need.margin), ("start", need.start),
             ("shrinkage", need.shrinkage))
    more = "".join(say("cloth.buy_" + name, length=show_length(mm, unit)) for name, mm in parts if mm > 0.05)
    return say("cloth.buy_why", needed=show_length(need.needed, unit), lay=show_length(need.lay, unit), more=more)


def _stock(lay: Lay, wish: ClothWish, need: Requirement | None, use: Use | None, unit: str) -> tuple[str, bool]:
    """Is what is on the shelf enough: in words, and whether it is not."""
    if use is None or use.doc is None:
        return "", False
    if need is None:
        return say("cloth.remnant_fits"), False
    if wish.bought_length is None:
        return say("cloth.not_said"), False
    left = wish.bought_length - (need.needed - need.start)
    there = show_length(wish.bought_length, unit)
    if left >= 0.0:
        return say("cloth.enough", there=there, left=show_length(left, unit)), False
    return say("cloth.too_little", there=there, missing=show_length(-left, unit)), True


def _sold(lay: Lay, wish: ClothWish, use: Use | None, unit: str) -> tuple[str, ...]:
    """Why cloth is narrower than she wrote; the shelf has its width between the selvedges already."""
    sold, width = wish.bought_width, lay.cloth.width
    if sold is None or (use is not None and use.doc is not None) or not 0.5 < sold - width < 2 * wish.selvedge + 0.5:
        return ()
    return (say("cloth.as_sold", sold=show_length(sold, unit), width=show_length(width, unit)),)


def _lies(section: Section, unit: str) -> str:
    start, end = (show_length(mm, unit) for mm in (section.start, section.start + section.length))
    if section.fold_depth is None:
        return say("cloth.lies_open", start=start, end=end)
    return say("cloth.lies_folded", start=start, end=end, depth=show_length(section.fold_depth, unit))


def _order(lay: Lay) -> tuple[CutOne, ...]:
    """The cuts in their order; both layers of a double one are one cut."""
    from toilewright.cutting.lay.certificate import other_hand

    found: dict[int, CutOne] = {}
    for one, turn in zip(lay.laid, turns_of(lay.laid), strict=True):
        if turn not in found:
            found[turn] = CutOne(turn, _name(one), _how(one, other_hand(one)))
    return tuple(found.values())


def _name(one: Laid) -> str:
    return f"{one.piece.name} ({one.piece.make})" if one.piece.make else one.piece.name


def _how(one: Laid, mirrored: bool) -> str:
    words = [say("cloth.layer_" + one.layer.value.replace("lower", "upper"))]
    if mirrored and one.layer is Layer.SINGLE:
        words.append(say("cloth.mirrored"))
    return ", ".join(words)


# -- what to buy ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class WidthRow:
    """One width on sale.

    Attributes:
        width: mm, as the page sends it back.
        best: the cheapest, or the one with the least cloth.
        refused: why it does not go, or "".
        joined: which pieces are divided for it, or "".
    """

    width: float
    name: str
    best: bool
    refused: str
    lay: str = ""
    buy: str = ""
    envelope: str = ""
    saved: str = ""
    cost: str = ""
    money: str = ""
    joined: str = ""


@dataclass(frozen=True, slots=True)
class ShownWidths:
    """One cloth in every width.

    Attributes:
        best: what the best one is called.
        columns: keys of the columns that have anything to show.
    """

    use: str
    title: str
    rows: tuple[WidthRow, ...]
    best: str
    columns: tuple[str, ...]
    notes: tuple[str, ...]


def shown_widths(buying: Buying, unit: str) -> tuple[ShownWidths, ...]:
    """Every cloth in every width on sale."""
    return tuple(_widths(one, unit) for one in buying.cloths)


def _widths(one: ClothOffers, unit: str) -> ShownWidths:
    rows = tuple(_row(o, o is one.cheapest, unit) for o in one.offers)
    columns = tuple(c for c in ("lay", "buy", "envelope", "saved", "cost", "money") if any(getattr(r, c) for r in rows))
    return ShownWidths(one.use, use_words(one.use), rows,
                       say("cloth.cheapest" if one.by_price else "cloth.least_cloth"), columns,
                       tuple(on_page(note, unit) for note in one.notes))


def _row(offer: Offer, best: bool, unit: str) -> WidthRow:
    name = show_length(offer.width, unit)
    envelope = ""
    if offer.envelope is not None:
        envelope = show_bought(offer.envelope.length, offer.sold_by) if offer.sold_by is SoldBy.YARD \
            else show_length(offer.envelope.length, "m")
        envelope += f" ({say('cloth.chart')})" if offer.envelope.width is not None else ""
    if offer.buy is None or offer.need is None:
        return WidthRow(offer.width, name, False, say("cloth.refused", why=on_page(offer.refused, unit)),
                        envelope=envelope)
    saved = "" if offer.saved is None else show_length(abs(offer.saved), "yd" if unit == "in" else "m")
    if offer.saved is not None and offer.saved < 0.0:
        saved = say("cloth.more", length=saved)
    return WidthRow(
        offer.width, name, best, "", show_length(offer.need.lay, unit), show_bought(offer.buy, offer.sold_by),
        envelope, saved, "" if offer.cost is None else f"{offer.cost:.2f}",
        "" if offer.money_saved is None else f"{offer.money_saved:.2f}",
        say("cloth.joined", what=offer.joined) if offer.joins else "")
