"""The same corners, in the same order, in every size of a piece."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from toilewright.errors import Finding, InputError, Severity
from toilewright.geometry.point import Point
from toilewright.intake.piece_corners import Corner, Ring, ring_of
from toilewright.intake.raw import RawPiece

TURN_WEIGHT = 0.03
"""How much a difference in turning (radians, squared) counts beside a difference in place (shares of the span)."""

FAR = 0.16
"""Share of the piece's span: corners farther apart than this, once the pieces lie over each other, do not match."""

GENTLE = 0.55
"""radians (32 degrees); a corner that one size alone has is passed over without a word below this turn."""


@dataclass(frozen=True)
class Nest:
    """One piece in all sizes, corner for corner.

    Attributes:
        rings: for each size (None where it is missing) a ring; all have equally many corners in one order.
        model: number of the size whose corners the others were matched with.
        findings: sizes that do not match.
    """

    rings: tuple[Ring | None, ...]
    model: int
    findings: tuple[Finding, ...] = ()

    @property
    def ring(self) -> Ring:
        """The ring of the model size."""
        return self.rings[self.model]  # type: ignore[return-value]


def correspond(raws: Sequence[RawPiece | None], count: int | None = None) -> Nest:
    """Match the corners of a piece across its sizes.

    The first corner is the one lowest and farthest left in the model size.

    Args:
        count: how many corners the piece should have; None leaves that to what most sizes show.

    Raises:
        InputError: the sheet shows more or fewer corners than asked for.
    """
    rings = [r and ring_of(r) for r in raws]
    there = [(i, r) for i, r in enumerate(rings) if r is not None]
    if not there:
        raise InputError("A piece without any outline cannot be read.")
    usual = _usual_count([len(r.corners) for _, r in there])
    candidates = [i for i, r in there if len(r.corners) == usual]
    model = candidates[len(candidates) // 2]
    master = _asked_for(rings[model], count, raws[model])
    start = min(range(len(master.corners)), key=lambda i: _low_left(master.corners[i].at), default=0)
    master = master.with_corners((*master.corners[start:], *master.corners[:start]))
    matched: list[Ring | None] = []
    findings: list[Finding] = []
    for i, ring in enumerate(rings):
        if ring is None or i == model:
            matched.append(ring and master)
            continue
        corners, found = _matched(master, ring, raws[i])
        matched.append(ring.with_corners(corners))
        findings.extend(found)
    return Nest(tuple(matched), model, tuple(findings))


def _usual_count(counts: Sequence[int]) -> int:
    tally = Counter(counts)
    return min(tally, key=lambda n: (-tally[n], n))


def _low_left(p: Point) -> float:
    return p.real + p.imag


def _asked_for(ring: Ring, count: int | None, raw: RawPiece) -> Ring:
    """The ring with as many corners as asked for: soft ones are taken in, sharpest first."""
    have = len(ring.corners)
    if count is None or count == max(have, 1):  # a round piece has one edge and no corner
        return ring
    softest = sorted(ring.soft, key=lambda c: -abs(c.turn))[:max(count - have, 0)]
    if count < have or have + len(softest) < count:
        most = have + len(ring.soft)
        raise InputError(
            f'Piece "{raw.name}" should have {count} edges by the labels, but its outline has {have} corners'
            + (f" and {most - have} soft ones" if most > have and count > have else "")
            + f"; list {max(have, 1)} edges, in order (the same name twice in a row makes one edge of two).")
    return ring.with_corners(tuple(sorted((*ring.corners, *softest), key=lambda c: c.s)))


def _matched(master: Ring, ring: Ring, raw: RawPiece) -> tuple[tuple[Corner, ...], list[Finding]]:
    """The corners of a ring that stand for those of the model, and what did not go smoothly."""
    want = len(master.corners)
    pool = list(ring.corners)
    findings = []
    if len(pool) < want:
        pool += ring.soft
    missing = want - len(pool)
    if missing > 0 or _cost(best := _aligned(master, ring, sorted(pool, key=lambda c: c.s)), master, ring) > FAR:
        pool += [_predicted(c, master, ring) for c in master.corners]
        best = _aligned(master, ring, sorted(pool, key=lambda c: c.s))
    left = [c for c in ring.corners if c not in best]
    made = [i for i, c in enumerate(best) if c not in ring.corners and c not in ring.soft]
    if made:
        findings.append(Finding(
            "corner-missing", f'Size {raw.size} of "{raw.name}" shows {len(ring.corners)} corners where other sizes '
            f"show {want}; {_and(made)} were put where the other sizes have them: compare with the sheet.",
            Severity.LOOK, raw.name, None, raw.size, float(want), float(len(ring.corners))))
    sharp = [c for c in left if abs(c.turn) > GENTLE]
    if sharp:
        findings.append(Finding(
            "corner-extra", f'Size {raw.size} of "{raw.name}" shows {len(ring.corners)} corners where other sizes '
            f"show {want}; the extra ones were passed over: compare its outline with the next size.",
            Severity.LOOK, raw.name, None, raw.size, float(want), float(len(ring.corners))))
    if not made and not sharp and _cost(best, master, ring) > FAR:
        findings.append(Finding(
            "size-differs", f'Size {raw.size} of "{raw.name}" is shaped unlike the other sizes; check that its edges '
            "are the ones named in the labels.", Severity.LOOK, raw.name, None, raw.size))
    return tuple(best), findings


def _and(made: Sequence[int]) -> str:
    return "corner " + str(made[0] + 1) if len(made) == 1 else f"{len(made)} corners"


def _place(at: Point, ring: Ring) -> Point:
    return (at - ring.middle) / (ring.span or 1.0)


def _predicted(corner: Corner, master: Ring, ring: Ring) -> Corner:
    """Where a corner of the model should lie on another size's ring."""
    guess = ring.middle + _place(corner.at, master) * ring.span
    s, _ = ring.path.nearest(guess)
    return Corner(s, ring.path.point_at(s), 0.0)


def _cost(best: Sequence[Corner], master: Ring, ring: Ring) -> float:
    """The largest distance of matched corners, in shares of the span."""
    return max((abs(_place(a.at, master) - _place(b.at, ring)) for a, b in zip(master.corners, best, strict=True)),
               default=0.0)


def _aligned(master: Ring, ring: Ring, pool: Sequence[Corner]) -> list[Corner]:
    """The best choice, in ring order, of one corner of the pool for each of the model's (dynamic programming)."""
    n, m = len(master.corners), len(pool)
    price = [[abs(_place(a.at, master) - _place(b.at, ring)) ** 2 + TURN_WEIGHT * (a.turn - b.turn) ** 2 for b in pool]
             for a in master.corners]
    best: tuple[float, list[int]] = (float("inf"), [])
    for shift in range(m):
        order = [(shift + k) % m for k in range(m)]
        cost, picked = _monotone(price, order, n)
        if cost < best[0]:
            best = (cost, picked)
    return [pool[j] for j in best[1]]


def _monotone(price: Sequence[Sequence[float]], order: Sequence[int], n: int) -> tuple[float, list[int]]:
    """Cheapest increasing choice from `order`, the first of which must serve the first corner."""
    m = len(order)
    table = [[float("inf")] * m for _ in range(n)]
    came = [[-1] * m for _ in range(n)]
    if n == 0:
        return 0.0, []
    table[0][0] = price[0][order[0]]
    for i in range(1, n):
        low, at = float("inf"), -1
        for j in range(i, m):
            if table[i - 1][j - 1] < low:
                low, at = table[i - 1][j - 1], j - 1
            table[i][j] = low + price[i][order[j]]
            came[i][j] = at
    j = min(range(m), key=lambda k: table[n - 1][k])
    cost, picked = table[n - 1][j], []
    for i in range(n - 1, -1, -1):
        picked.append(order[j])
        j = came[i][j]
    return cost, picked[::-1]
