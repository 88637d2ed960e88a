"""Do the 90 % intervals of estimated measures hold nine of ten? By measure, on bodies the estimates have not seen.

Needs the rows of the surveys (see derive_estimates.py); says so where they are not there. Every measure that is given
is blurred by the tape's allowed error (ISO 20685-1, from memory) first, as a home tape would. "four" stands for
stature, bust, waist and hip given, "others" for all others given. How far measures taken differently may part
(body/survey_measures.toml) was settled with the survey of 2012 and NHANES in view, so those two are no blind test.
"""

import csv
import importlib.util
import math
import random
import statistics
import time
from collections import defaultdict
from pathlib import Path

from toilewright.body.estimates import NINETY, estimates, unlikely
from toilewright.body.measures import find_measure, is_measure
from toilewright.body.survey import read_figures, survey, survey_of
from toilewright.body.tape import Body

_spec = importlib.util.spec_from_file_location("derive_estimates", Path(__file__).with_name("derive_estimates.py"))
derive = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(derive)

FOLDS = 5
FOUR = ("stature", "bust girth", "waist girth", "hip girth")
LATER = {
    "stature": "stature", "chest": "chestcircumference", "waist navel": "waistcircumference",
    "hip": "buttockcircumference",
    "neck base": "neckcircumferencebase", "shoulder": "shoulderlength", "across back": "interscyei",
    "back length navel": "waistbacklength", "thigh": "thighcircumference", "calf": "calfcircumference",
    "ankle": "anklecircumference", "wrist": "wristcircumference", "arm": "sleeveoutseam",
    "waist height navel": "waistheightomphalion", "crotch height": "crotchheight", "neck height": "cervicaleheight",
    "crotch length navel": "crotchlengthomphalion", "crotch back navel": "crotchlengthposterioromphalion",
}
"""Columns of 1988 and what they are called in the survey of 2012, which knows the waist at the navel only."""


def taken(columns, place):
    """The columns of one body as the tape measures known here (mm), the waist at ``natural`` or ``navel``."""
    found = {}
    for row in read_figures("survey_measures.toml")["measure"]:
        mix = row.get("mix") or {row.get("column") or row[place]: 1.0}
        if is_measure(row["name"]) and all(c in columns for c in mix):
            value = math.exp(sum(w * math.log(columns[c]) for c, w in mix.items()))
            found[find_measure(row["name"]).name] = value * row.get("times", 1.0)
    return found


def blurred(values, rng):
    return {n: max(v + rng.gauss(0, find_measure(n).spread / NINETY), 1.0) for n, v in values.items()}


class Tally:
    """Hits and errors by measure."""

    def __init__(self):
        self.hits, self.errors, self.halves = defaultdict(list), defaultdict(list), defaultdict(list)

    def add(self, estimate, true):
        self.hits[estimate.name].append(estimate.low <= true <= estimate.high)
        self.errors[estimate.name].append(abs(estimate.known.value - true))
        self.halves[estimate.name].append(estimate.known.spread)

    def told(self):
        every = [h for hits in self.hits.values() for h in hits]
        return {"coverage": round(statistics.mean(every), 3) if every else None, "by_measure": {
            n: {"coverage": round(statistics.mean(self.hits[n]), 3), "error": round(statistics.mean(self.errors[n]), 1),
                "half_interval": round(statistics.mean(self.halves[n]), 1)} for n in self.hits}}


def body_of(values, place):
    return Body("one of the survey", tuple(values.items()), waist_place=place)


def judge(tally, values, given, place, model, rng):
    known = blurred({n: values[n] for n in given}, rng)
    for estimate in estimates(body_of(known, place), model):
        if estimate.name in values:
            tally.add(estimate, values[estimate.name])


def cross_validated(rows, rng):
    four, others, questioned, found, slips = Tally(), Tally(), 0, 0, 0
    order = list(rows)
    rng.shuffle(order)
    for fold in range(FOLDS):
        model = survey_of(derive.derive([r for k, r in enumerate(order) if k % FOLDS != fold]), "natural")
        for row in order[fold::FOLDS]:
            values = taken(derive.columns_of(row), "natural")
            judge(four, values, FOUR, "natural", model, rng)
            one = rng.choice(list(values))
            judge(others, values, [n for n in values if n != one], "natural", model, rng)
            sheet = blurred(values, rng)
            questioned += bool(unlikely(body_of(sheet, "natural"), model))
            slips += 1
            found += any(u.name == one for u in unlikely(body_of(sheet | {one: sheet[one] * 1.25}, "natural"), model))
    return {"bodies": len(order), "four": four.told(), "others": others.told(),
            "honest_sheets_questioned": questioned / len(order), "a_quarter_too_much_found": found / slips}


def later(rows, who, rng):
    """Bodies of another survey, a quarter of a century later."""
    tally, questioned, model = Tally(), 0, survey(who, "navel")
    for row in rows:
        values = taken({name: float(row[column]) for name, column in LATER.items()}, "navel")
        del values["high hip girth"]  # worked out from two that are given
        judge(tally, values, FOUR, "navel", model, rng)
        questioned += bool(unlikely(body_of(blurred(values, rng), "navel"), model))
    return {"bodies": len(rows), "four": tally.told(), "honest_sheets_questioned": questioned / len(rows)}


def everybody(path, who, rng):
    """Upper arm girth by stature, waist (taken above the hip bone) and hip; bodies beyond the army's apart."""
    model, usual, beyond = survey(who, "navel"), Tally(), Tally()
    most = math.exp(model.mean[model.names.index("hip girth")] + 3 * 0.062)
    lines = [line for line in path.read_text().splitlines() if not line.startswith("#")]
    rows = list(csv.DictReader(lines))
    for row in rows:
        values = {"stature": 10 * float(row["BMXHT"]), "waist girth": 10 * float(row["BMXWAIST"]),
                  "hip girth": 10 * float(row["BMXHIP"]), "upper arm girth": 10 * float(row["BMXARMC"])}
        judge(beyond if values["hip girth"] > most else usual, values, FOUR[:1] + FOUR[2:], "navel", model, rng)
    return {"bodies": len(rows), "within": usual.told(), "beyond": beyond.told(),
            "share_beyond": len(beyond.hits["upper arm girth"]) / len(rows)}


def run():
    folder = derive.find_folder()
    if folder is None:
        return {"left_out": f"the rows of the surveys are not here; set {derive.FOLDER} to their folder"}
    rng, start, told = random.Random(1988), time.perf_counter(), {}
    for who, file in (("women", "FEMALE"), ("men", "MALE")):
        told[f"{who}_1988"] = cross_validated(derive.read_rows(folder / f"ANSUR_1988_{file}.csv"), rng)
        told[f"{who}_2012"] = later(derive.read_rows(folder / f"ANSUR_II_{file}_Public.csv"), who, rng)
        told[f"{who}_nhanes"] = everybody(folder / f"nhanes_adult_{file.lower()}_bmx_2020.csv", who, rng)
    return told | {"seconds": time.perf_counter() - start}
