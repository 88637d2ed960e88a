"""What is kept of the cutting of a make: its cloths, allowances, corners and extra pieces; lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class LayRow:
    """What a make is cut from, for one use.

    Attributes:
        use: the name of the cloth that pieces carry: ``self``, ``lining``, ``interfacing``, ``contrast`` or her own.
        cloth: id of a cloth on the shelf, or "" where it is still to be bought.
        width: as sold (mm), of cloth that is still to be bought; None for whichever is cheapest.
        fold: a :class:`toilewright.cutting.cloth.Fold`, or "" for whichever takes least.
        depth: how deep it is folded (mm), for ``depth``.
        match: places where stripes shall meet, in the words of the pattern's marks.
        pieces: that are cut from it, whatever the pattern says.
        envelope: what the envelope asks for (mm), by width as sold (whole mm).
        prices: of one metre, by width as sold (whole mm).
    """

    id: str
    use: str
    cloth: str = ""
    width: float | None = None
    fold: str = ""
    depth: float | None = None
    match: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()
    envelope: dict[str, float] = field(default_factory=dict)
    prices: dict[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class AllowanceRow:
    """What is cut beyond the seam line along one kind of edge.

    Attributes:
        edge: kind or name of the edge; amount: mm.
        on: False keeps it in the list without cutting so.
    """

    id: str
    edge: str
    amount: float
    on: bool = True


@dataclass(frozen=True, slots=True)
class CornerRow:
    """How the allowance is cut at one corner.

    Attributes:
        piece: its name.
        at: the two edges that meet there, such as ``hem/side seam``.
        cut: a :class:`toilewright.pattern.parts.CornerCut`.
        first: which of the two is sewn or turned back first; "" to leave it to the trade.
        on: False keeps it in the list without cutting so.
    """

    id: str
    piece: str
    at: str
    cut: str
    first: str = ""
    on: bool = True


@dataclass(frozen=True, slots=True)
class ExtraRow:
    """A strip or piece that is cut beside the pattern's.

    Attributes:
        kind: of :mod:`toilewright.cutting.extra`.
        options: what it is to be, as she wrote it.
        on: False keeps it in the list without cutting it.
    """

    id: str
    kind: str
    options: dict[str, str] = field(default_factory=dict)
    on: bool = True
