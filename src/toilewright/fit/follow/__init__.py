"""Partners follow: what is sewn to an altered edge is altered with it, seam by seam.

An alteration changes the pieces that its handbook names. Then every seam that no longer differs as it did is settled: a
facing or lining is copied from its piece, equal partners are made even, a band or collar is opened where its piece has
grown, a sleeve is let out for its armhole, a frill is gathered at its ratio. What is left shows when the seams are
walked.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from toilewright.errors import Finding
from toilewright.fit.follow.bands import open_bands
from toilewright.fit.follow.facings import copy_cloths, is_cloth
from toilewright.fit.follow.gathers import gather_anew
from toilewright.fit.follow.pairs import make_even, share_waist
from toilewright.fit.follow.seams import EVEN, FOLLOWS, allow_ease, difference, opposite
from toilewright.fit.follow.sleeve import let_head_out, move_cap_notch
from toilewright.fit.moves.edges import reline
from toilewright.pattern.garment import Garment, Seam
from toilewright.pattern.piece import Piece
from toilewright.pattern.truing import true_darts

ROUNDS = 3
"""How often all seams are gone through: what follows may ask something of its own partners."""

ACROSS = ("waist", "neck", "hem", "top", "armhole")
"""Edges that run round the body: their partners grow in width, not in length."""


def settle(before: Garment, after: Garment) -> tuple[Garment, tuple[Finding, ...]]:
    """The garment with every seam that one alteration put out made to differ as it did before.

    Seams that the alteration itself drew anew (other edges, another ease) are left alone.
    """
    old = {p.name: p for p in before.pieces}
    was = {s.name: s for s in before.seams}
    seams = tuple(s for s in after.seams if was.get(s.name) == s and all(r.piece in old for r in (*s.a, *s.b)))
    moved = fresh = _changed(before, after)
    findings: dict[str, Finding] = {}
    for _ in range(ROUNDS):
        if not fresh:
            break
        start = after
        after = copy_cloths(before, after, seams, moved)
        for seam in seams:
            if any(r.piece in fresh for r in (*seam.a, *seam.b)) and _put_out(old, after, seam, moved):
                after, found = _settled(before, after, seam, moved)
                findings |= {f.text: f for f in found}
        fresh = _changed(start, after)
        moved |= fresh
    return after, tuple(findings.values())


def trued(before: Garment, after: Garment) -> Garment:
    """The darts of every altered piece trued; facings and linings follow the edges as they then lie, darts closed.

    Raises:
        GeometryError: a dart cannot be folded.
    """
    done = _darts_trued(before, after, cloths=False)
    done = copy_cloths(after, done, after.seams, _changed(after, done))
    return _darts_trued(before, done, cloths=True)


def _darts_trued(before: Garment, after: Garment, cloths: bool) -> Garment:
    changed = _changed(before, after)
    return replace(after, pieces=tuple(
        reline(q, true_darts(q), *{d.edge for d in q.darts})
        if q.darts and q.name in changed and is_cloth(q.name) == cloths else q for q in after.pieces))


def _changed(before: Garment, after: Garment) -> frozenset[str]:
    old = {p.name: p for p in before.pieces}
    return frozenset(p.name for p in after.pieces if old.get(p.name) is not p)


def _put_out(old: Mapping[str, Piece], after: Garment, seam: Seam, moved: frozenset[str]) -> bool:
    """Does a seam differ otherwise than it did, by more than may be left?"""
    least = EVEN if all(r.piece in moved for r in (*seam.a, *seam.b)) else FOLLOWS
    return abs(difference(after, seam) - difference(old, seam)) > least


def _settled(before: Garment, after: Garment, seam: Seam, moved: frozenset[str],
             ) -> tuple[Garment, tuple[Finding, ...]]:
    edges = {r.edge for r in (*seam.a, *seam.b)}
    if seam.ratio is not None:
        return gather_anew(before, after, seam), ()
    if "cap" in edges:
        return let_head_out(before, after, seam)
    if not edges & set(ACROSS):
        return make_even(before, after, seam, moved), ()
    banded = open_bands(before, after, seam, moved)
    return (banded if banded is not after else share_waist(before, after, seam, moved)), ()


__all__ = ["allow_ease", "move_cap_notch", "opposite", "settle", "trued"]
