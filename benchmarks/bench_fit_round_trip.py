"""A block that fits a body exactly, disturbed by three alterations: do the prescriptions bring every landmark back?

For each body of the US Army survey of 1988 (its rows where they are at hand, see derive_estimates.py; else bodies drawn
from the distribution that the program ships) our own block is drafted to fit. Three alterations of different groups
with sane amounts, drawn by a seeded generator, disturb it. Prescriptions are asked for and made, a round at a time and
with the least amount small, until nothing more is prescribed. Within 3 mm counts: every landmark and dart point of
every piece, in the piece's own place. Bodies for which the draft itself does not close are drawn again and counted.
"""

import importlib.util
import math
import os
import random
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from contextlib import suppress
from dataclasses import replace
from functools import cache, partial
from pathlib import Path

from toilewright.blocks.choir_trousers import trousers_for
from toilewright.blocks.concert import dress_for
from toilewright.body.survey import read_figures, survey
from toilewright.body.tape import Body
from toilewright.errors import ToilewrightError
from toilewright.fit.alterations import find_alteration, made_alone
from toilewright.fit.prescribe import USES, drafted_for, prescribe
from toilewright.fit.result import Order
from toilewright.known import asked

BODIES, SEED = 500, 1988
WITHIN = 3.0
ROUNDS = 14
LEAST = 0.15
"""mm; prescriptions smaller than this are not made any more."""

DISTURBING = {
    "lengthen or shorten": (20.0, ({"piece": "bodice back"}, {"piece": "sleeve"}, {"piece": "skirt front"},
                                   {"piece": "trouser front"})),
    "back length": (15.0, ({},)),
    "high round back": (18.0, ({},)),
    "erect back": (15.0, ({},)),
    "forward shoulder": (10.0, ({},)),
    "shoulder slope": (14.0, ({},)),
    "shoulder width": (14.0, ({},)),
    "back width": (10.0, ({},)),
    "full bust": (16.0, ({},)),
    "bust dart height": (22.0, ({},)),
    "bust dart point": (10.0, ({"way": "in"},)),
    "armhole depth": (15.0, ({},)),
    "armhole in or out": (10.0, ({"where": "front"},)),
    "upper arm": (25.0, ({},)),
    "waist in or out": (40.0, ({},)),
    "high hip in or out": (30.0, ({},)),
    "hip in or out": (40.0, ({},)),
    "crotch depth": (18.0, ({},)),
    "crotch length back": (18.0, ({"way": "seat"},)),
    "thigh": (30.0, ({},)),
    "calf": (25.0, ({},)),
}
"""By alteration, the largest amount that disturbs (mm) and the ways in which it is made."""

TRIES = 200
"""draws after which a group may come a second time: some blocks take nothing of one of their groups."""

SMALLEST = 6.0
"""mm; nothing smaller disturbs: it would not be worth doing."""


# -- bodies -----------------------------------------------------------------------------------------


def bodies(seed, draw):
    """An endless row of bodies (mm, by ISO 8559-1 name), each drawn by `draw`."""
    rng = random.Random(seed)
    while True:
        yield _completed(draw(rng), rng)


@cache
def of_survey():
    """A way to draw among the survey's rows, or None where they are not here."""
    spec = importlib.util.spec_from_file_location("derive_estimates", Path(__file__).with_name("derive_estimates.py"))
    derive = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(derive)
    folder = derive.find_folder()
    if folder is None:
        return None
    rows = derive.read_rows(folder / "ANSUR_1988_FEMALE.csv")
    ways = read_figures("survey_measures.toml")["measure"]

    def one(rng):
        columns = derive.columns_of(rng.choice(rows))
        found = {}
        for way in ways:
            mix = way.get("mix") or {way.get("column") or way["natural"]: 1.0}
            found[way["name"]] = math.exp(sum(w * math.log(columns[c]) for c, w in mix.items())) * way.get("times", 1.0)
        return found
    return one


def drawn(rng):
    """One body from the distribution of logarithms."""
    model = survey("women", "natural")
    root = _root(model.covariance)
    normal = [rng.gauss(0.0, 1.0) for _ in model.names]
    return {name: math.exp(model.mean[i] + sum(r * z for r, z in zip(root[i], normal, strict=False)))
            for i, name in enumerate(model.names)}


def _root(table):
    """The lower triangle whose square is the table (Cholesky)."""
    rows = []
    for i, row in enumerate(table):
        fresh = []
        for j in range(i):
            fresh.append((row[j] - sum(a * b for a, b in zip(fresh, rows[j], strict=False))) / rows[j][j])
        rows.append([*fresh, math.sqrt(max(row[i] - sum(a * a for a in fresh), 1e-12))])
    return rows


def _completed(body, rng):
    """What the survey did not take: across the front, and the neck point to the waist behind, near what is usual."""
    body["across front width"] = body["across back width"] * rng.gauss(0.934, 0.015)
    body["neck shoulder point to waist back"] = body["back neck point to waist"] + rng.gauss(18.0, 3.0)
    body["forward shoulder"] = 0.0
    return body


# -- the round trip ---------------------------------------------------------------------------------

TROUSERS = 0.25
"""Share of bodies that trousers are drafted for; the others get the dress."""

KEPT = ("bodice front", "bodice back", "sleeve", "skirt front", "skirt back", "trouser front", "trouser back")


def block(measures, rng):
    """The dress, or for one body in four the trousers, without what carries no landmark."""
    whole = trousers_for(measures) if rng.random() < TROUSERS else dress_for(measures)
    seams = tuple(s for s in whole.seams if all(r.piece in KEPT for r in (*s.a, *s.b)))
    return replace(whole, pieces=tuple(p for p in whole.pieces if p.name in KEPT), seams=seams)


def disturbed(garment, rng):
    """The garment after three alterations, and which they were: of different groups, as far as it can take them."""
    done, groups, tries = [], set(), 0
    while len(done) < 3 and tries < 2 * TRIES:
        tries += 1
        if tries > TRIES:
            groups = set()
        name = rng.choice(sorted(DISTURBING))
        one, _ = find_alteration(name)
        most, ways = DISTURBING[name]
        options = rng.choice(ways)
        low, high = max(-most, one.sane[0]), min(most, one.sane[1])
        amount = rng.uniform(low, high)
        known = one.group in groups or name in [n for n, *_ in done]
        if known or abs(amount) < SMALLEST or not one.has_place(garment, options):
            continue
        try:
            garment = made_alone(garment, Order(name, asked(amount), dict(options)))
        except ToilewrightError:
            continue
        groups.add(one.group)
        done.append((name, options.get("piece", ""), round(amount, 1)))
    return garment, done


def brought_back(garment, body, drafted, cup):
    """The garment after as many rounds of prescriptions as it takes; and the rounds."""
    count = 0
    while count < ROUNDS:
        count += 1
        told = [p for p in prescribe(garment, body, drafted_cup=cup, least=LEAST, drafted=drafted) if p.worth_doing]
        if not told:
            break
        for one in told:
            with suppress(ToilewrightError):  # what cannot be made is left, and shows at its landmark
                garment = made_alone(garment, one.order)
    return garment, count


def farthest(one, other):
    """The landmark or dart point that lies farthest from where it was: (mm, its name)."""
    off = [(0.0, "")]
    for piece in one.pieces:
        now = other.piece(piece.name)
        marks = {m.name: m.at for m in now.landmarks} | {d.name + " point": d.apex for d in now.darts}
        was = {m.name: m.at for m in piece.landmarks} | {d.name + " point": d.apex for d in piece.darts}
        off += [(abs(marks[n] - at), f"{piece.name}: {n}") for n, at in was.items() if n in marks]
        off += [(math.inf, f"{piece.name}: {n} lost") for n in was if n not in marks]
    return max(off)


def trip(number, seed=SEED, draw=None):
    """One body: what disturbed it, how far the worst landmark is off, and how many bodies could not be drafted."""
    rng = random.Random(seed * 100_003 + number)
    skipped = 0
    for measures in bodies(rng.random(), draw or of_survey() or drawn):
        try:
            garment = block(measures, rng)
            break
        except ToilewrightError:
            skipped += 1
    body = Body("one of the survey", tuple(measures.items()))
    drafted = drafted_for(garment, measures)
    cup = measures["bust girth"] - measures["upper bust girth"]
    start = time.perf_counter()
    wrong, done = disturbed(garment, rng)
    try:
        right, rounds = brought_back(wrong, body, drafted, cup)
    except ToilewrightError as problem:
        return {"done": done, "off": math.inf, "where": str(problem)[:80], "rounds": ROUNDS, "skipped": skipped,
                "seconds": time.perf_counter() - start}
    off, where = farthest(garment, right)
    return {"done": done, "off": off, "where": where, "rounds": rounds, "skipped": skipped,
            "seconds": time.perf_counter() - start}


def run(count=BODIES, seed=SEED):
    cores = os.cpu_count() or 1
    start = time.perf_counter()
    if cores > 1:
        with ProcessPoolExecutor(cores) as pool:
            trips = list(pool.map(partial(trip, seed=seed), range(count), chunksize=8))
    else:
        trips = [trip(i, seed) for i in range(count)]
    wall = time.perf_counter() - start
    bad = [t for t in trips if t["off"] > WITHIN]
    took = Counter(name for t in trips for name, *_ in t["done"])
    failed = Counter(name for t in bad for name, *_ in t["done"])
    return {
        "bodies": count, "within_3mm": count - len(bad), "share_within_3mm": round(1 - len(bad) / count, 4),
        "target": 0.95,
        "bodies_per_second": round(count / wall / cores, 3), "cores": cores,
        "seconds_for_one_body": round(sum(t["seconds"] for t in trips) / count, 4),
        "rounds": round(sum(t["rounds"] for t in trips) / count, 1),
        "not_drafted": sum(t["skipped"] for t in trips),
        "rows": "of the survey" if of_survey() else "drawn from the shipped distribution",
        "failures": {f"{name}": f"{failed[name]} of {took[name]}" for name in sorted(took) if failed[name]},
        "farthest": dict(Counter(t["where"] for t in bad).most_common(8)),
        "not_disturbed": sorted(set(USES) - set(DISTURBING)),
    }
