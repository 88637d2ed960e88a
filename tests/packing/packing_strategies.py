"""Random packing problems: star-shaped pieces, pins, bands, forbidden places, repeats and poses."""

from __future__ import annotations

import cmath
import math

from hypothesis import strategies as st

from toilewright.packing.problem import Beat, Item, Outline, Pose, Problem

HEIGHT = 400.0
POSES = (Pose(), Pose(180.0), Pose(0.0, True), Pose(180.0, True))
ON_FOLD = (Pose(), Pose(180.0, True))


@st.composite
def stars(draw: st.DrawFn, most: float = 150.0) -> Outline:
    """Simple polygons that may be very hollow."""
    n = draw(st.integers(3, 9))
    radii = draw(st.lists(st.integers(12, round(most)), min_size=n, max_size=n))
    return tuple(r * cmath.exp(2j * math.pi * k / n) for k, r in enumerate(radii))


@st.composite
def halves(draw: st.DrawFn) -> Outline:
    """Outlines with an edge on the x axis and everything else above it."""
    n = draw(st.integers(2, 6))
    width = draw(st.integers(40, 250))
    heights = draw(st.lists(st.integers(15, 180), min_size=n, max_size=n))
    top = [complex(width * (1 - k / (n - 1)), h) for k, h in enumerate(heights)]
    return (0j, complex(width, 0.0), *top)


@st.composite
def items(draw: st.DrawFn, key: str) -> Item:
    count = draw(st.integers(1, 2))
    kind = draw(st.sampled_from(("free", "free", "pinned", "band", "beat", "both beats", "pinned beat")))
    if kind.startswith("pinned"):
        outline = draw(halves())
        beat = Beat(outline[1], 10.0, 40.0) if kind == "pinned beat" else None
        return Item(key, outline, count, ON_FOLD, origin_y=0.0, beat_x=beat)
    outline = draw(stars(90.0 if kind == "band" else 150.0))
    poses = draw(st.sampled_from((POSES[:1], POSES[:2], POSES)))
    if kind == "band":
        return Item(key, outline, count, poses, band=draw(st.sampled_from(((200.0, HEIGHT), (0.0, 200.0)))))
    x = Beat(outline[0], 7.0, 50.0) if "beat" in kind else None
    y = Beat(outline[1], 3.0, 30.0) if kind == "both beats" else None
    return Item(key, outline, count, poses, beat_x=x, beat_y=y)


@st.composite
def problems(draw: st.DrawFn, most: int = 6) -> Problem:
    """Problems that can be laid: every item fits the strip by itself."""
    n = draw(st.integers(1, most))
    flaws = draw(st.lists(st.builds(complex, st.integers(0, 500), st.integers(0, 400)), max_size=2))
    return Problem(HEIGHT, tuple(draw(items(f"piece {k}")) for k in range(n)),
                   tuple(tuple(at + c for c in (0j, 60 + 0j, 60 + 25j, 25j)) for at in flaws),
                   gap=draw(st.sampled_from((0.0, 3.0))))
