"""A whole dress, six alterations, truing and walk: 16 ms is the target (one frame of a screen), 50 ms the limit."""

import statistics
import time

from toilewright.blocks.concert import concert_dress
from toilewright.fit.alterations import alter
from toilewright.fit.result import Order
from toilewright.geometry import curve
from toilewright.known import Known, Origin

ORDERS = tuple(Order(name, Known(amount, Origin.ASKED), options) for name, amount, options in (
    ("lengthen or shorten", 12.0, {"piece": "bodice front"}),
    ("high round back", 13.0, {}),
    ("forward shoulder", 10.0, {}),
    ("bust dart height", 18.0, {}),
    ("full bust", 15.0, {}),
    ("waist in or out", 24.0, {}),
))
RUNS = 40


def run():
    garment = concert_dress().at("4")
    times = []
    for _ in range(RUNS):
        curve._length.cache_clear()  # a fresh set of amounts has fresh curves
        start = time.perf_counter()
        alter(garment, ORDERS)
        times.append((time.perf_counter() - start) * 1000)
    times.sort()
    return {"pieces": len(garment.pieces), "alterations": len(ORDERS), "runs": RUNS,
            "p50_ms": statistics.median(times), "p95_ms": times[int(0.95 * RUNS)], "target_ms": 16.0, "limit_ms": 50.0}
