"""Cloth that is too narrow for some pieces of a make: told before a lay is looked for, with the joins that would do."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.app.laying import outcomes_in_lay
from toilewright.app.table import Table
from toilewright.cutting.offers import Join
from toilewright.errors import ToilewrightError
from toilewright.units import show_length


@dataclass(frozen=True, slots=True)
class Narrow:
    """One cloth that is too narrow.

    Attributes:
        use: what it is for.
        width: between its selvedges, in her unit.
        joins: what is to be divided, of this make and of others in the same lay.
    """

    use: str
    width: str
    joins: tuple[Join, ...]


def too_narrow(table: Table, make_id: str, unit: str) -> tuple[Narrow, ...]:
    """Every cloth of a make on which its pieces lie only with joins; none where the lay has another obstacle."""
    from toilewright.make.joining import joined
    from toilewright.make.laying import garments_of, works_of

    try:
        outcomes = outcomes_in_lay(table, make_id, unit)
        garments = garments_of(outcomes)
        works = works_of(outcomes)
    except ToilewrightError:
        return ()
    found = ((work, joined(work, garments)) for work in works)
    return tuple(Narrow(work.wish.use, show_length(work.wish.cloth.width, unit), divided[2])
                 for work, divided in found if divided is not None)


def own_joins(table: Table, make_id: str, unit: str) -> tuple[Join, ...]:
    """Those of them that this make's own pieces need."""
    from toilewright.make.laying import names_of

    found = too_narrow(table, make_id, unit)
    own = names_of(outcomes_in_lay(table, make_id, unit))[0] if found else ""
    return tuple(join for one in found for join in one.joins if join.make == own)
