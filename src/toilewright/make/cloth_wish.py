"""What she wants of the cloth of one make: what she has or means to buy, and how it shall be laid.

Widths are as the shop sells them, selvedges included; what is left of them after washing and between the selvedges is
the width of the :class:`~toilewright.cutting.cloth.Cloth`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from toilewright.cutting.cloth import Cloth, Fold
from toilewright.cutting.requirement import SELVEDGE, SQUARING, SoldBy, usable_width
from toilewright.errors import NameUnknown

USUAL_WIDTH = 1400.0
"""mm as sold; taken where nobody said how wide the cloth is."""

SAME_WIDTH = 25.0
"""mm; shops call cloth of 110 and of 112 cm by one name, and 44 and 45 in."""


@dataclass(frozen=True, slots=True)
class ClothWish:
    """One cloth of a make.

    Attributes:
        cloth: as it is cut; its name is what it is for (``self``, ``lining``, ...). Its `fold` says nothing where
            `fold` here is None.
        bought_width: as the shop sells it (mm), or None where she did not say and any width will do.
        bought_length: what is there (mm), before washing and squaring; None where it is still to be bought.
        selvedge: what each edge loses (mm).
        squaring: what each end loses (mm).
        washed: washed already, so that nothing shrinks any more.
        match: places at which stripes and checks shall meet, in the words of the pattern's marks.
        prices: (width as sold, price of one metre); a width of 0 for any.
        envelope: (width as sold, length) that the envelope asks for (mm).
        pieces: that are cut from this cloth, whatever the pattern says.
        fold: how she wants it to lie; None to leave it to the lay.
        margin: that she wants for mishaps (mm).
        sold_by: in what her shop cuts and counts.
        overhang: how far a strip reached over the edge of a table until its tip had sunk by 41.5 degrees (mm); None
            where she did not try.
    """

    cloth: Cloth = field(default_factory=Cloth)
    bought_width: float | None = None
    bought_length: float | None = None
    selvedge: float = SELVEDGE
    squaring: float = SQUARING
    washed: bool = False
    match: tuple[str, ...] = ()
    prices: tuple[tuple[float, float], ...] = ()
    envelope: tuple[tuple[float, float], ...] = ()
    pieces: tuple[str, ...] = ()
    fold: Fold | None = None
    margin: float = 0.0
    sold_by: SoldBy = SoldBy.METRE
    overhang: float | None = None

    @property
    def use(self) -> str:
        """What it is for: the name that pieces carry."""
        return self.cloth.name


@dataclass(frozen=True, slots=True)
class LayWish:
    """How she wants the lay.

    Attributes:
        others: make files whose pieces are cut in the same lay.
        gap: between two pieces (mm); None to leave it to the lay.
    """

    others: tuple[Path, ...] = ()
    gap: float | None = None


def at_width(wish: ClothWish, sold: float) -> Cloth:
    """The cloth off the bolt in a width as sold: what of it can be cut from, washed (mm).

    How much is there, its flaws and the outline of a remnant belong to what she has, and are left away.

    Raises:
        InputError: nothing is left between the selvedges.
    """
    width = usable_width(sold, wish.cloth.shrinks_across, wish.selvedge)
    bolt = replace(wish.cloth, width=width, length=None, flaws=(), outline=None, price=price_at(wish, sold))
    if bolt.fold is Fold.DEPTH and 2 * bolt.fold_depth >= width:
        return replace(bolt, fold=Fold.LENGTHWISE, fold_depth=0.0)
    return bolt


def near_width(width: float, sold: float) -> bool:
    """Do shops call both widths by one name (mm)?

    >>> near_width(1100, 1120), near_width(1143, 1150), near_width(1120, 1150)
    (True, True, False)
    """
    return abs(width - sold) <= SAME_WIDTH


def price_at(wish: ClothWish, sold: float) -> float | None:
    """What one metre costs in a width as sold: the price of that width, or the one for any."""
    near = sorted((abs(width - sold), price) for width, price in wish.prices if near_width(width, sold))
    return near[0][1] if near else next((price for width, price in wish.prices if width == 0.0), None)


def cut_from(cloths: Sequence[ClothWish], piece: str, own: str) -> str:
    """Which cloth a piece is cut from: what the make file says, else what the pattern says.

    Args:
        own: as the pattern has it.
    """
    return next((wish.use for wish in cloths if piece in wish.pieces), own)


def check_pieces(cloths: Sequence[ClothWish], pieces: Sequence[str]) -> None:
    """Raise NameUnknown for a piece that a cloth names and the garment has not."""
    for wish in cloths:
        for name in wish.pieces:
            if name not in pieces:
                raise NameUnknown.among("piece", name, pieces, f'"pieces" of the cloth "{wish.use}"')
