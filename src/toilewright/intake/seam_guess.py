"""Which edges are likely sewn to which, by the kinds of the pieces, and whether their lengths agree."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from toilewright.intake.label_types import SeamLabel
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.walk import side_length, walk

CAP_EASE = (0.0, 40.0)
"""mm; sleeve head over armhole: 1 to 1 1/2 in in textbooks, 0 for shirts (common practice, sources disagree)."""

SHOULDER_EASE = (0.0, 13.0)
"""mm; back shoulder over front: up to 1/2 in (common practice, no published source)."""

PRINCESS_EASE = (0.0, 10.0)
"""mm; the side panel over the centre one, eased in over the bust (common practice, no published source)."""

INSEAM_EASE = (-10.0, 3.0)
"""mm; the back inseam is often stretched onto the front one (common practice, no published source)."""

COLLAR_EASE = (-6.0, 6.0)
"""mm; a collar is eased on or stretched by up to 1/4 in (common practice, no published source)."""

BAND = (-20.0, 60.0)
"""mm; waistband over waist: a skirt is eased onto it by up to 3/4 in, or it laps over by up to 2 1/2 in (common
practice, no published source)."""

FRILL, FULL = 1.08, 1.2
"""Ratios from which the longer side is taken for gathered: frills and tiers, and what often is sewn plain."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A usual seam.

    Attributes:
        a, b: its two sides as "piece: edge" runs, a minus in front where the edge is walked backwards on a piece of
            the usual hand.
        gathers_from: ratio of b to a from which side b is taken for gathered; None when it never is.
    """

    name: str
    a: tuple[str, ...]
    b: tuple[str, ...]
    ease: tuple[float, float] = (0.0, 0.0)
    gathers_from: float | None = None


RULES: tuple[Rule, ...] = (
    Rule("shoulder", ("bodice front: shoulder",), ("bodice back: shoulder",), SHOULDER_EASE),
    Rule("shoulder", ("bodice side front: shoulder", "bodice front: shoulder"), ("bodice back: shoulder",),
         SHOULDER_EASE),
    Rule("side shoulder", ("bodice side front: shoulder",), ("bodice side back: shoulder",), SHOULDER_EASE),
    Rule("princess seam front", ("bodice front: princess seam",), ("-bodice side front: princess seam",),
         PRINCESS_EASE),
    Rule("princess seam back", ("bodice back: princess seam",), ("-bodice side back: princess seam",), PRINCESS_EASE),
    Rule("side seam", ("bodice front: side seam",), ("bodice back: side seam",)),
    Rule("side seam", ("bodice side front: side seam",), ("bodice side back: side seam",)),
    Rule("side seam", ("bodice side front: side seam",), ("bodice back: side seam",)),
    Rule("armhole", ("bodice side back: armhole", "-bodice side front: armhole"), ("-sleeve: cap",), CAP_EASE, FULL),
    Rule("armhole", ("bodice back: armhole", "-bodice side front: armhole"), ("-sleeve: cap",), CAP_EASE, FULL),
    Rule("armhole", ("bodice back: armhole", "-bodice front: armhole"), ("-sleeve: cap",), CAP_EASE,
         FULL),
    Rule("underarm", ("sleeve: underarm front",), ("-sleeve: underarm back",)),
    Rule("sleeve frill", ("sleeve: hem",), ("-sleeve frill: top",), gathers_from=FRILL),
    Rule("frill seam", ("sleeve frill: seam front",), ("-sleeve frill: seam back",)),
    Rule("waist", ("bodice front: waist", "bodice side front: waist", "-bodice side back: waist",
                   "-bodice back: waist"), ("-skirt front: waist", "skirt back: waist"), gathers_from=FULL),
    Rule("waist", ("bodice front: waist", "bodice side front: waist", "-bodice back: waist"),
         ("-skirt front: waist", "skirt back: waist"), gathers_from=FULL),
    Rule("waist", ("bodice front: waist", "-bodice back: waist"), ("-skirt front: waist", "skirt back: waist"),
         gathers_from=FULL),
    Rule("waist", ("bodice front: waist", "-bodice back: waist"), ("-skirt tier: top", "skirt tier: top"),
         gathers_from=FRILL),
    Rule("skirt side seam", ("skirt front: side seam",), ("skirt back: side seam",)),
    Rule("skirt tier", ("skirt front: hem", "-skirt back: hem"), ("-skirt tier: top", "skirt tier: top"),
         gathers_from=FRILL),
    Rule("facing shoulder", ("front neck facing: shoulder",), ("back neck facing: shoulder",)),
    Rule("neck facing", ("-bodice front: neck", "bodice back: neck"),
         ("-front neck facing: neck", "back neck facing: neck")),
    Rule("collar", ("-bodice back: neck", "bodice front: neck", "-bodice front: neck", "bodice back: neck"),
         ("collar: neck",), COLLAR_EASE),
    Rule("collar", ("-bodice front: neck", "bodice back: neck"), ("collar: neck",), COLLAR_EASE),
    Rule("trouser side seam", ("trouser front: side seam",), ("trouser back: side seam",)),
    Rule("inseam", ("trouser front: inseam",), ("trouser back: inseam",), INSEAM_EASE),
    Rule("waistband", ("trouser front: waist", "-trouser front: waist", "trouser back: waist", "-trouser back: waist"),
         ("waistband: waist",)),
    Rule("waistband", ("trouser front: waist", "-trouser front: waist", "trouser back: waist", "-trouser back: waist"),
         ("waistband: waist",), BAND),
    Rule("wrap side seam", ("wrap skirt front: side seam",), ("wrap skirt back: side seam",)),
    Rule("waistband", ("-wrap skirt front: waist", "wrap skirt back: waist", "-wrap skirt back: waist",
                       "wrap skirt front: waist"), ("waistband: waist",)),
    Rule("waistband", ("-skirt front: waist", "skirt back: waist", "-skirt back: waist", "skirt front: waist"),
         ("waistband: waist",), BAND),
    Rule("waistband", ("-skirt front: waist", "skirt back: waist"), ("waistband: waist",)),
    Rule("waistband", ("-bodice front: waist", "bodice back: waist", "-bodice back: waist", "bodice front: waist"),
         ("waistband: waist",), BAND),
    Rule("waist tie", ("waistband: left end",), ("waist tie: band end",)),
)
"""Seams of usual garments; of several of one name the first whose lengths agree, else the first that can be."""


def guess_seams(garments: Sequence[Garment], other_hand: Mapping[str, bool]) -> tuple[SeamLabel, ...]:
    """The usual seams among the pieces that are there.

    Args:
        garments: the pieces in a few sizes; the last one decides on gathering.
        other_hand: for each piece whether its ring runs through its edges against the usual order.

    Returns:
        Seams; `confirmed` where the lengths of both sides agree in all sizes given.
    """
    found: dict[str, SeamLabel] = {}
    for rule in RULES:
        before = found.get(rule.name)
        settled = before and (before.confirmed or rule.gathers_from)  # gathers fit nearly anything: last resort
        if settled or not _possible(rule, garments):
            continue
        label = _seam(rule, garments, other_hand)
        if before is None or label.confirmed:
            found[rule.name] = label
    return tuple(found.values())


def misfit(garment: Garment, seam: Seam) -> float:
    """How far side b is from what side a can take (mm): positive too long, negative too short, 0 when it sews."""
    walked = walk(replace(garment, seams=(seam,)))[0]
    if walked.sews:
        return 0.0
    low, high = walked.allowed
    return walked.difference - (high if walked.difference > high else low)


def _possible(rule: Rule, garments: Sequence[Garment]) -> bool:
    wanted = [_parts(text) for text in (*rule.a, *rule.b)]
    return all(g.has(piece) and g.piece(piece).has_edge(edge) for g in garments for piece, edge, _ in wanted)


def _parts(text: str) -> tuple[str, str, bool]:
    piece, edge = text.lstrip("-").split(": ")
    return piece, edge, text.startswith("-")


def _seam(rule: Rule, garments: Sequence[Garment], other_hand: Mapping[str, bool]) -> SeamLabel:
    def refs(side: Sequence[str]) -> tuple[EdgeRef, ...]:
        return tuple(EdgeRef(piece, edge, backwards is not other_hand.get(piece, False))
                     for piece, edge, backwards in map(_parts, side))
    a, b = refs(rule.a), refs(rule.b)
    ratio = None
    if rule.gathers_from:
        share = side_length(garments[-1], b) / (side_length(garments[-1], a) or 1.0)
        ratio = round(share, 2) if share >= rule.gathers_from else None
    seam = Seam(rule.name, a, b, rule.ease, ratio)
    return SeamLabel(seam, all(misfit(g, seam) == 0.0 for g in garments))
