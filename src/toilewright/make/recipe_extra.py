"""Extra pieces of a make file: ties, bindings, frills, pockets and whatever else is cut beside the pattern.

::

    [[extra]]
    kind  = "frill"
    edge  = "sleeve hem"       # an edge of the pattern, or of an extra piece that stands above this one
    depth = "8 cm"
    ratio = 2                  # other options: `toilewright strips frill`
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from toilewright.body.sheet import rows_of
from toilewright.cutting.extra import find_kind
from toilewright.cutting.extra.kinds import Value
from toilewright.errors import InputError, NameUnknown


@dataclass(frozen=True, slots=True)
class ExtraWish:
    """One extra piece asked for.

    Attributes:
        kind: of :data:`toilewright.cutting.extra.KINDS`, by its own name.
        options: understood, lengths in mm, without what she did not say.
    """

    kind: str
    options: tuple[tuple[str, Value], ...] = ()


def read_extras(sheet: Mapping[str, Any], unit: str, where: str) -> tuple[ExtraWish, ...]:
    """The rows ``[[extra]]`` of a make file.

    Args:
        unit: of lengths without one.

    Raises:
        InputError: an entry that cannot be used, said with its place.
    """
    return tuple(read_extra(row, unit, f"extra {number} of {where}")
                 for number, row in enumerate(rows_of(sheet, "extra", where), 1))


def read_extra(row: Mapping[str, Any], unit: str, where: str) -> ExtraWish:
    """One extra piece: its kind, and its options as she wrote them.

    Raises:
        InputError: an entry that cannot be used, said with its place.
    """
    said = row.get("kind", "")
    if not isinstance(said, str) or not said.strip():
        raise InputError(f'{where[:1].upper()}{where[1:]} does not say what it is; add a line such as  kind = "tie".')
    try:
        kind = find_kind(said)
    except NameUnknown as problem:
        raise type(problem)(f"{str(problem).rstrip('.')} ({where}).") from None
    if kind.build is None:
        raise InputError(f'"{kind.name}" is no piece; ask for it with `toilewright strips {kind.name}` ({where}).')
    written = {name: value for name, value in row.items() if name != "kind"}
    return ExtraWish(kind.name, tuple(kind.read(written, unit, f'"{kind.name}", {where}').items()))
