"""A cloth as it is cut: washed, pressed, its ends squared. Lengths in mm, x along the selvedge, y across from it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from toilewright.errors import InputError
from toilewright.geometry.point import Point


class Fold(StrEnum):
    """How the cloth lies on the table.

    Attributes:
        OPEN: one layer, right side as the lay says.
        LENGTHWISE: folded along its middle, selvedges together, right sides inside.
        DEPTH: folded to a chosen depth from one selvedge, the rest beside it in one layer.
        PART: folded lengthwise for the pieces that are cut double, opened out for the rest of its length.
    """

    OPEN = "open"
    LENGTHWISE = "lengthwise"
    DEPTH = "depth"
    PART = "part"


@dataclass(frozen=True, slots=True)
class Repeat:
    """A stripe, check or printed motif.

    Attributes:
        along, across: distance from one to the next lengthways and crossways; 0 where nothing repeats that way.
        first_along, first_across: where the first main line lies, from the cut end and from the near selvedge.
    """

    along: float = 0.0
    across: float = 0.0
    first_along: float = 0.0
    first_across: float = 0.0


@dataclass(frozen=True, slots=True)
class Cloth:
    """One cloth.

    Attributes:
        name: ``self``, ``lining``, ``interfacing``, or a name of her own; pieces say by it what they are cut from.
        width: usable, between the selvedges, as it is cut: after washing when it shrinks.
        length: how much there is, or None where it is still to be bought.
        shrinks_along, shrinks_across: part of its length and width that washing takes, measured on a washed square
            (0.03 for 3 cm of 100); 0 where it is washed already.
        stretch_along, stretch_across: how far it gives, as a part of its length; 0 for cloth that does not.
        weight: grams per square metre, or None.
        one_way: nap, pile or a print with a head and a foot: all pieces lie one way.
        sided: has a right and a wrong side that differ.
        repeat: stripe, check or motif.
        border: depth of a border along the far selvedge at which hems must lie; 0 for none.
        flaws: outlines to keep clear of.
        outline: of a remnant that is no rectangle; None for cloth off the bolt.
        price: of one metre, in whatever money she counts; None where it is not known.
        fold: how it lies.
        fold_depth: how deep it is folded, for ``depth``.
        grain_tolerance: how far the grain may be turned to save cloth (degrees).
    """

    name: str = "self"
    width: float = 1400.0
    length: float | None = None
    shrinks_along: float = 0.0
    shrinks_across: float = 0.0
    stretch_along: float = 0.0
    stretch_across: float = 0.0
    weight: float | None = None
    one_way: bool = False
    sided: bool = True
    repeat: Repeat = Repeat()
    border: float = 0.0
    flaws: tuple[tuple[Point, ...], ...] = ()
    outline: tuple[Point, ...] | None = None
    price: float | None = None
    fold: Fold = Fold.OPEN
    fold_depth: float = 0.0
    grain_tolerance: float = 0.0

    def __post_init__(self) -> None:
        if not 50.0 <= self.width <= 5000.0:
            raise InputError(f'The cloth "{self.name}" is {self.width / 10:g} cm wide; give its usable width between '
                             "the selvedges, such as 140 cm.")
