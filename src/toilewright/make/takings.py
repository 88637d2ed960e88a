"""The lengths that are taken off tissue laid flat: which, in which order, on which piece."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from toilewright.fit.flat.laid import wrap_centre
from toilewright.fit.levels import centre_edge, upright
from toilewright.output.tape_on_tissue import tape_runs
from toilewright.output.tissue_rows import GuidePage, Row
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece


@dataclass(frozen=True, slots=True)
class Taking:
    """One way to lay the tape on tissue.

    Attributes:
        name: as on the flat sheet.
        makes: the flat length that it gives, with all other takings that give the same.
        pieces: where it runs: of several groups the first that the pattern has; all pieces of it are added up.
        run: how the tape lies, see ``takings.toml``.
        how: one sentence.
        times: how often what is taken goes into the flat length.
        crosses: does it run from cut edge to cut edge?
        must, may: nothing can be said without it; worth taking only for what is altered there.
    """

    name: str
    makes: str
    pieces: tuple[tuple[str, ...], ...]
    run: str
    how: str
    times: int
    crosses: bool
    must: bool
    may: bool

    def on(self, garment: Garment) -> tuple[Piece, ...]:
        """The pieces of a garment on which it runs; none where the garment has no such piece."""
        groups = (tuple(garment.piece(n) for n in names if garment.has(n)) for names in self.pieces)
        return next((group for group in groups if group), ())

    def cut_edges(self, garment: Garment) -> int:
        """How many allowances the tape runs over: one where it begins at the centre, else two, for each piece."""
        if not self.crosses:
            return 0
        return sum(1 if centre_edge(p) is not None or wrap_centre(p) is not None else 2 for p in self.on(garment))


@lru_cache(maxsize=1)
def all_takings() -> tuple[Taking, ...]:
    """Every taking known here, in the order in which they are taken."""
    rows = tomllib.loads(Path(__file__).with_name("takings.toml").read_text(encoding="utf-8"))["taking"]
    return tuple(Taking(r["name"], r.get("makes", r["name"]), tuple(map(tuple, r["pieces"])), r["run"], r["how"],
                        r.get("times", 1), r.get("crosses", False), r.get("must", False), r.get("may", False))
                 for r in rows)


def takings_on(garment: Garment) -> tuple[Taking, ...]:
    """The takings that a garment shows a place for, in the order in which they are taken."""
    return tuple(t for t in all_takings() if any(tape_runs(upright(p), t.run) for p in t.on(garment)))


def guide_of(garment: Garment) -> tuple[GuidePage, ...]:
    """What to take off the tissue of such a garment, piece by piece, and where the tape runs.

    >>> from toilewright.blocks.concert import concert_dress
    >>> [page.piece.name for page in guide_of(concert_dress().at("5"))][:2]
    ['bodice front', 'bodice back']
    """
    pages, number = [], 0
    for piece in garment.pieces:
        own = [t for t in takings_on(garment) if piece in t.on(garment) and tape_runs(upright(piece), t.run)]
        rows = []
        for taking in sorted(own, key=lambda t: t.may):
            number += 1
            weight = "must" if taking.must else "may" if taking.may else ""
            others = [p.name for p in taking.on(garment) if p is not piece and tape_runs(upright(p), taking.run)]
            more = f" Add what the {' and the '.join(others)} has." if others else ""
            rows.append(Row(number, taking.name, taking.how + more, taking.run, weight))
        if rows:
            pages.append(GuidePage(piece, tuple(rows)))
    return tuple(pages)
