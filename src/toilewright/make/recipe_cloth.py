"""The cloth of a make file: what she has or means to buy, and how it shall be laid.

Widths are as the shop sells them, selvedges included; what is left of them after washing and between the selvedges is
the width of the :class:`~toilewright.cutting.cloth.Cloth`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from toilewright.cutting.cloth import Cloth, Fold
from toilewright.cutting.requirement import SELVEDGE, SQUARING, SoldBy

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


def read_cloths(sheet: Mapping[str, Any], unit: str, where: str) -> tuple[ClothWish, ...]:
    """The rows ``[[cloth]]`` of a make file."""
    return ()


def read_lay(sheet: Mapping[str, Any], unit: str, where: str, folder: Path) -> LayWish:
    """The table ``[lay]`` of a make file, whose other makes are looked for in `folder`."""
    return LayWish()
