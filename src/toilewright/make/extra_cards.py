"""Cards of a whole make: its alterations, then its extra pieces with what to cut and the order of work."""

from __future__ import annotations

from collections.abc import Sequence

from toilewright.cutting.extra import find_kind
from toilewright.cutting.extra.kinds import mm
from toilewright.cutting.words import cloth_words, cut_words
from toilewright.errors import Severity
from toilewright.fit.result import Card
from toilewright.make.finishing import Extra
from toilewright.make.outcome import Outcome
from toilewright.make.strips_result import cut_size, grain_words
from toilewright.pattern.garment import Garment
from toilewright.pattern.walk import SeamWalk

PLACES = ("edge", "piece", "pieces", "waist")
"""Options that say where an extra piece goes, the first that was said is told."""


def cards_of(outcome: Outcome) -> tuple[Card, ...]:
    """Every card of a make, in the order of work."""
    garment = outcome.altered.garment
    walks = {w.seam: w for w in outcome.walks}
    return (*(d.card for d in outcome.altered.done), *(_card(e, garment, walks) for e in outcome.extras))


def _card(extra: Extra, garment: Garment, walks: dict[str, SeamWalk]) -> Card:
    built, options = extra.built, dict(extra.wish.options)
    where = next((options[name] for name in PLACES if isinstance(options.get(name), str) and options[name]), "")
    kind = find_kind(extra.wish.kind)
    title = f"{kind.name[:1].upper()}{kind.name[1:]}" + (f", {where}" if where else "")
    sewn = [_sewn(walks[s.name]) for s in built.seams if s.name in walks]
    laid = [f'"{name}" lies on "{under}".' for name, under in built.laid]
    looks = [f.text for f in built.worked.findings if f.severity is Severity.LOOK]
    return Card(title, tuple(_cut(garment, p.name) for p in built.pieces), built.worked.steps, (*sewn, *laid, *looks),
                "; ".join(kind.sources))


def _cut(garment: Garment, name: str) -> str:
    piece = garment.piece(name)
    length, width = cut_size(piece)
    cloth = cloth_words(piece)
    return f"{name} ({cut_words(piece)}{f', of {cloth}' if cloth else ''}, {mm(length)} by {mm(width)}, " \
           f"{grain_words(piece)})"


def _sewn(walk: SeamWalk) -> str:
    lengths: Sequence[str] = tuple(dict.fromkeys((mm(round(walk.length_a)), mm(round(walk.length_b)))))
    return f'"{walk.seam}": {" to ".join(lengths)}, marks together.' if walk.notches else \
        f'"{walk.seam}": {" to ".join(lengths)}.'
