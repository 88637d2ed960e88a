"""The pieces of a whole dress as values for the screen, all of them changed: 10 ms is the target."""

import statistics
import time

from toilewright.app.pictures import garment_picture
from toilewright.app.piece_pictures import piece_picture
from toilewright.blocks.concert import concert_dress
from toilewright.cutting.allowances import cutting_line
from toilewright.fit.alterations import alter
from toilewright.fit.result import Order
from toilewright.known import asked

RUNS = 40


def altered(garment, amount):
    return alter(garment, tuple(Order(name, asked(size), options) for name, size, options in (
        ("lengthen or shorten", 12.0 + amount, {"piece": "bodice front"}),
        ("forward shoulder", 10.0, {}),
        ("bust dart height", 18.0 + amount, {}),
        ("full bust", 15.0 + amount, {}),
        ("waist in or out", 24.0 + amount, {}),
    ))).garment


def run():
    bought = concert_dress().at("4")
    garments = [altered(bought, k / 10) for k in range(RUNS + 1)]
    garment_picture(garments[-1], bought)
    whole, changed = [], []
    known = {}
    for garment in garments[:-1]:
        start = time.perf_counter()
        picture = garment_picture(garment, bought, known=known)
        changed.append((time.perf_counter() - start) * 1000)
        known = {p["name"]: p["version"] for p in picture["pieces"]}
    for garment in garments[:-1]:
        piece_picture.cache_clear()
        cutting_line.cache_clear()
        for piece in bought.pieces:
            cutting_line(piece)  # as bought is drawn once
        start = time.perf_counter()
        garment_picture(garment, bought)
        whole.append((time.perf_counter() - start) * 1000)
    whole.sort()
    changed.sort()
    return {"pieces": len(bought.pieces), "runs": RUNS, "whole_p50_ms": statistics.median(whole),
            "whole_p95_ms": whole[int(0.95 * RUNS)], "change_p50_ms": statistics.median(changed),
            "change_p95_ms": changed[int(0.95 * RUNS)], "target_ms": 10.0}
