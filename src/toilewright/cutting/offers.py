"""What can be bought: for each cloth of a make the widths on sale, and what each of them comes to. Values only."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.cutting.cloth import Cloth
from toilewright.cutting.lay.plan import Lay
from toilewright.cutting.requirement import Requirement, SoldBy


@dataclass(frozen=True, slots=True)
class Envelope:
    """What the pattern's envelope asks for.

    Attributes:
        length: of this width (mm).
        width: the envelope's own, where the length was taken over from another width by the chart; else None.
    """

    length: float
    width: float | None = None


@dataclass(frozen=True, slots=True)
class Join:
    """A piece that is divided by joins, as the extra piece ``join`` does it.

    Attributes:
        make: whose it is, where several makes share a lay.
        parts: into how many equal ones.
    """

    make: str
    piece: str
    parts: int

    @property
    def words(self) -> str:
        """As it is told, such as ``skirt tier in 2 parts``."""
        return f"{self.piece}{f' ({self.make})' if self.make else ''} in {self.parts} parts"


@dataclass(frozen=True, slots=True)
class Offer:
    """One width of one cloth.

    Attributes:
        width: as sold (mm).
        cloth: as it is cut: usable width, washed.
        lay: of all its pieces; None where one of them does not fit.
        need: what the lay asks for; None where there is no lay.
        refused: why there is no lay, one sentence that names the piece; else "".
        sold_by: in what the shop counts.
        price: of one metre, or None.
        envelope: what the envelope asks for; None where it says nothing.
        quick: laid without a search, so that it is an estimate on the safe side.
        joins: pieces that had to be divided to lie on it.
    """

    width: float
    cloth: Cloth
    lay: Lay | None = None
    need: Requirement | None = None
    refused: str = ""
    sold_by: SoldBy = SoldBy.METRE
    price: float | None = None
    envelope: Envelope | None = None
    quick: bool = False
    joins: tuple[Join, ...] = ()

    @property
    def buy(self) -> float | None:
        """How much to ask for in the shop (mm)."""
        return None if self.need is None else self.need.bought(self.sold_by)

    @property
    def cost(self) -> float | None:
        """What that comes to, in whatever money she counts."""
        return None if self.buy is None or self.price is None else self.price * self.buy / 1000.0

    @property
    def area(self) -> float | None:
        """Cloth that is bought (square metres)."""
        return None if self.buy is None else self.buy * self.width / 1e6

    @property
    def joined(self) -> str:
        """Which pieces are divided, in words; "" where none is."""
        return "; ".join(join.words for join in self.joins)

    @property
    def saved(self) -> float | None:
        """By how much less than the envelope asks for (mm); less than nought where more is needed."""
        return None if self.buy is None or self.envelope is None else self.envelope.length - self.buy

    @property
    def money_saved(self) -> float | None:
        """What that is worth."""
        return None if self.saved is None or self.price is None else self.price * self.saved / 1000.0

    @property
    def weight(self) -> float | None:
        """Of the cloth that is bought (grams)."""
        return None if self.area is None or self.cloth.weight is None else self.area * self.cloth.weight


@dataclass(frozen=True, slots=True)
class ClothOffers:
    """One cloth of a make in all its widths, narrowest first.

    Attributes:
        use: ``self``, ``lining``, ``interfacing`` or a name of her own.
        offers: one for each width.
        pieces: (piece, how many are cut), as they come.
        notes: sentences to be read beside them.
    """

    use: str
    offers: tuple[Offer, ...]
    pieces: tuple[tuple[str, int], ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def by_price(self) -> bool:
        """Are the widths compared by what they cost? Else by the cloth that is bought."""
        laid = [offer for offer in self.offers if offer.need is not None]
        return bool(laid) and all(offer.cost is not None for offer in laid)

    @property
    def cheapest(self) -> Offer | None:
        """The offer that costs least; without all prices, the one with the least area; None where nothing fits."""
        laid = [offer for offer in self.offers if offer.need is not None]
        return min(laid, key=lambda offer: (offer.cost if self.by_price else offer.area, offer.width), default=None)


@dataclass(frozen=True, slots=True)
class Notion:
    """Something else to buy.

    Attributes:
        name: ``thread``, ``elastic``, ...
        amount: in words, or "" where the garment does not tell.
        why: one sentence.
    """

    name: str
    amount: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True)
class Buying:
    """Everything to buy for one make.

    Attributes:
        title: the make's.
        unit: in which she reads lengths, ``cm`` or ``in``.
        cloths: what each cloth comes to.
        notions: what else to buy.
        before: what to do with the cloth before it is cut, in order.
        notes: sentences on how sure it is.
    """

    title: str
    unit: str
    cloths: tuple[ClothOffers, ...]
    notions: tuple[Notion, ...] = ()
    before: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
