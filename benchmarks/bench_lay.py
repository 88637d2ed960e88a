"""How tightly we pack: public instances of the garment trade, and garments of our own.

The instances (``../shared/data/nesting``; ESICUP sets as OpenPacking publishes them, SOURCE.md there) are packed by the
library alone and by :func:`toilewright.packing.solve.pack`, the same seconds on the same two cores one after the other;
"best known" stands in ``../shared/LIBRARIES.md``. Where the folder is missing that part is left out and said so.
Densities are the area of the pieces over the area of the strip that they take, from our own arithmetic.

Garments of our own are laid for a few seconds and for many; and the demo's dress beside a first fit by area.
LAY_INSTANCE_SECONDS (60), LAY_SECONDS (10), LAY_LONG (120; 600 takes an hour) and LAY_SEED (0) change what is done;
LAY_ONLY names some of the instances and garments. What is found is also said at once, on standard error.
"""

import json
import os
import queue
import statistics
import sys
import time
from pathlib import Path

from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.blocks.concert import concert_dress
from toilewright.blocks.princess_dress import princess_dress
from toilewright.cutting.cloth import Cloth, Fold
from toilewright.cutting.lay.arrange import Search, arrange
from toilewright.cutting.lay.pieces import cut_pieces
from toilewright.packing.engine import Engine, Shape, Task
from toilewright.packing.first_fit import first_fit
from toilewright.packing.problem import Item, Pose, Problem
from toilewright.packing.solve import pack

FOLDER = Path(__file__).parents[2] / "shared" / "data" / "nesting"
BEST_KNOWN = {"shirts": 90.92, "trousers": 92.62, "swim": 79.83, "albano": 89.82, "marques": 92.02, "dagli": 90.17}
"""% after hours, from the literature, as ``../shared/LIBRARIES.md`` gives them."""

HEIGHT = 1400.0
"""mm; instances come in units of their own and are scaled to a strip as wide as a cloth."""

INSTANCE_SECONDS = float(os.environ.get("LAY_INSTANCE_SECONDS", "60"))
SECONDS, LONG = float(os.environ.get("LAY_SECONDS", "10")), float(os.environ.get("LAY_LONG", "120"))
SEED = int(os.environ.get("LAY_SEED", "0"))
ONLY = [name.strip() for name in os.environ.get("LAY_ONLY", "").split(",") if name.strip()]


def said(name: str, figures: dict) -> dict:
    """Shown at once: the whole takes long, and what was measured is not to be lost with it."""
    print(f"{name}: {json.dumps(figures)}", file=sys.stderr, flush=True)
    return figures


def wanted(names) -> list[str]:
    """Those of the names that are to be measured."""
    return [name for name in names if not ONLY or name in ONLY]


def instance(name: str) -> Problem:
    """One of the public instances."""
    read = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    scale = HEIGHT / read["strip_height"]
    items = []
    for row in read["items"]:
        corners = [complex(x, y) * scale for x, y in row["shape"]["data"]]
        corners = corners[:-1] if abs(corners[0] - corners[-1]) < 1e-9 else corners
        corners = corners if area(corners) > 0 else corners[::-1]
        items.append(Item(str(row["id"]), tuple(corners), row["demand"],
                          tuple(Pose(t) for t in row["allowed_orientations"])))
    return Problem(HEIGHT, tuple(items))


def area(corners) -> float:
    """Of a polygon, counter-clockwise positive (mm2)."""
    return sum((a.conjugate() * b).imag for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)) / 2


def density(problem: Problem, length: float) -> float:
    """Per cent of the strip that is taken by pieces."""
    return round(100 * sum(abs(area(i.outline)) * i.count for i in problem.items) / problem.height / length, 2)


def library_alone(problem: Problem, seconds: float, seed: int) -> float:
    """Length that the packing library reaches by itself, on two cores."""
    shapes = tuple(Shape(tuple((p.real, p.imag) for p in i.outline), i.count, tuple(o.turn for o in i.poses))
                   for i in problem.items)
    squeeze = max(1, round(0.2 * seconds))
    inbox: queue.Queue = queue.Queue()
    best = float("inf")
    with Engine(inbox) as engine:
        engine.start(Task(problem.height, shapes, 0.0, seed, 2, int(seconds) - squeeze, squeeze))
        while engine.busy:
            found = inbox.get()
            if engine.heard(found) and not found.done:
                best = min(best, found.length)
    return best


def instances() -> dict:
    """Every instance: the library alone, ours, the best known (% of the strip taken)."""
    if not FOLDER.is_dir():
        return {"left out": f"{FOLDER.parent.parent.name}/data/nesting is not there"}
    found = {}
    for name in wanted(BEST_KNOWN):
        problem, known = instance(name), BEST_KNOWN[name]
        alone = density(problem, library_alone(problem, INSTANCE_SECONDS, SEED))
        begun = time.perf_counter()
        ours = density(problem, pack(problem, INSTANCE_SECONDS, SEED).length)
        found[name] = said(name, {
            "library_alone": alone, "ours": ours, "seconds": round(time.perf_counter() - begun, 1),
            "best_known": known, "short_of_best_known": round(known - ours, 2)})
    return found


GARMENTS = {
    "dress folded 140": (concert_dress, 1400.0, Fold.LENGTHWISE),
    "dress open 150": (concert_dress, 1500.0, Fold.OPEN),
    "princess dress folded 150": (princess_dress, 1500.0, Fold.LENGTHWISE),
    "tunic open 140": (choir_tunic, 1400.0, Fold.OPEN),
    "trousers folded 150": (choir_trousers, 1500.0, Fold.LENGTHWISE),
}


def laid(name: str, seconds: float, search=pack) -> float:
    """Length of a lay of a middle size of one of our garments (mm)."""
    draft, width, fold = GARMENTS[name]
    garments = draft().garments
    pieces = cut_pieces(garments[len(garments) // 2])
    lay = arrange(pieces, Cloth("self", width=width, fold=fold), Search(search, seconds, SEED, None, None))
    assert lay.certificate.passed
    return lay.length


def garments() -> dict:
    """Every garment: a first fit, a few seconds, many."""
    found = {}
    for name in wanted(GARMENTS):
        fit = laid(name, 0.0, lambda problem, **_: first_fit(problem))
        short, long = laid(name, SECONDS), laid(name, LONG)
        best = min(short, long)
        found[name] = said(name, {
            "first_fit_mm": round(fit), "mm": round(short), "long_mm": round(long),
            "over_long_percent": round(100 * (short / best - 1), 2),
            "saved_percent": round(100 * (1 - short / fit), 2)})
    return found


def stop_after() -> dict:
    """Seconds from asking to stop until the lay is there, asked at ten moments."""
    draft, _, _ = GARMENTS["dress open 150"]
    pieces = cut_pieces(draft().garments[4])
    waits = []
    for k in range(10):
        asked: list[float] = []
        begun = time.perf_counter()

        def stop(k=k, begun=begun, asked=asked) -> bool:
            if not asked and time.perf_counter() - begun > 0.8 + 0.7 * k:
                asked.append(time.perf_counter())
            return bool(asked)

        fold = Fold.OPEN if k % 2 else Fold.LENGTHWISE
        arrange(pieces, Cloth("self", width=1400.0, fold=fold), Search(pack, 60.0, SEED, None, stop))
        waits.append(time.perf_counter() - asked[0])
    return said("stopped", {"median_s": round(statistics.median(waits), 2), "longest_s": round(max(waits), 2)})


def run() -> dict:
    """All of it."""
    return {"instance_seconds": INSTANCE_SECONDS, "instances": instances(), "seconds": SECONDS, "long_seconds": LONG,
            "garments": garments(), "stopped": stop_after()}
