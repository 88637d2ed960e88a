"""Allowances of a make, as the cloth step offers them and tells them: where they take effect, and why elsewhere not."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.app.words import say
from toilewright.cutting.allowing import ALL
from toilewright.errors import InputError
from toilewright.make.allowed import heard, overruled
from toilewright.make.finishing import deciders, own_of
from toilewright.make.outcome import Outcome
from toilewright.workroom.documents import MakeDoc

EDGE_KINDS = (ALL, "seams", "hem", "openings", "raw edges")
"""Words for several edges at once, in the order in which they are offered."""


@dataclass(frozen=True, slots=True)
class AllowanceShown:
    """One allowance that she set.

    Attributes:
        amount: mm.
        idle: why it changes nothing, or "".
    """

    id: str
    edge: str
    amount: float
    on: bool
    idle: str = ""


def allowance_offers(outcome: Outcome) -> tuple[str, ...]:
    """Where an allowance takes effect: kinds of edges, edges by name, pieces, edges of one piece."""
    own, decided = own_of(outcome.whole, outcome.extras), deciders(outcome.extras)
    known = dict.fromkeys((*EDGE_KINDS, *(e.name for p in own.pieces for e in p.edges), *(p.name for p in own.pieces),
                           *(f"{p.name}/{e.name}" for p in own.pieces for e in p.edges)))
    found = []
    for at in known:
        try:
            found += [at] if heard(own, decided, at) else []
        except InputError:
            continue  # no piece has an edge of that kind, or the only edge of that name lies on a fold
    return tuple(found)


def allowance_rows(make: MakeDoc, outcome: Outcome | None) -> tuple[AllowanceShown, ...]:
    """Those that she set, in her order.

    Args:
        outcome: None where the make cannot be worked out.
    """
    return tuple(AllowanceShown(row.id, row.edge, row.amount, row.on,
                                without_effect(outcome, row.edge) if outcome is not None and row.on else "")
                 for row in make.allowances)


def without_effect(outcome: Outcome, at: str) -> str:
    """Why an allowance would change nothing there, or "" where it takes effect, or where the words mean no edge."""
    own, word = own_of(outcome.whole, outcome.extras), " ".join(at.split()).lower()
    for built, piece in ((one.built, p) for one in outcome.extras for p in one.built.pieces if not own.has(p.name)):
        if word.partition("/")[0].strip() == piece.name.lower():
            whole = next((p.name for p in built.replaced), "")
            return (say("extras.allowance_of_part", piece=piece.name, whole=whole) if whole
                    else say("extras.allowance_of_extra", piece=piece.name))
    try:
        names = overruled(own, deciders(outcome.extras), at)
    except InputError:
        alone = (p.name for one in outcome.extras for p in one.built.pieces for e in p.edges if e.name.lower() == word)
        piece = next(alone, "")
        return say("extras.allowance_of_extra", piece=piece) if piece else ""
    return say("extras.allowance_decided", edge=at, by=", ".join(f'"{name}"' for name in names)) if names else ""
