"""A multi-size pattern: the same pieces, by the same names, in every size."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.errors import InputError, NameUnknown
from toilewright.pattern.garment import Garment


@dataclass(frozen=True, slots=True)
class BodyChart:
    """The envelope's body measures by size.

    Attributes:
        sizes: names, smallest first.
        rows: (ISO 8559-1 measure name, one value in mm for each size).
    """

    sizes: tuple[str, ...]
    rows: tuple[tuple[str, tuple[float, ...]], ...]

    def __post_init__(self) -> None:
        for name, values in self.rows:
            if len(values) != len(self.sizes):
                raise InputError(f'The body chart gives {len(values)} values for "{name}" '
                                 f"but has {len(self.sizes)} sizes; give one value for each size.")

    def row(self, name: str) -> tuple[float, ...] | None:
        """The values of one measure in size order (mm), or None."""
        return next((v for n, v in self.rows if n == name), None)

    def value(self, name: str, size: str) -> float | None:
        """One measure of one size (mm), or None."""
        row = self.row(name)
        return row[self.sizes.index(size)] if row and size in self.sizes else None


@dataclass(frozen=True)
class Pattern:
    """A nest of sizes.

    Attributes:
        sizes: names, smallest first.
        garments: one for each size; the same piece, edge, dart and notch names in all.
        chart: the envelope's body chart, when known.
        cloth: recommended cloth, as printed.
    """

    name: str
    sizes: tuple[str, ...]
    garments: tuple[Garment, ...]
    chart: BodyChart | None = None
    cloth: str = ""

    def __post_init__(self) -> None:
        if len(self.sizes) != len(self.garments):
            raise InputError(f'Pattern "{self.name}" names {len(self.sizes)} sizes '
                             f"but carries {len(self.garments)}.")

    def at(self, size: str) -> Garment:
        """The garment in one size.

        Raises:
            NameUnknown: no such size (the nearest is offered).
        """
        if size not in self.sizes:
            raise NameUnknown.among("size", size, self.sizes, f'pattern "{self.name}"')
        return self.garments[self.sizes.index(size)]
