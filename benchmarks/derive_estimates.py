"""Works the figures of body/survey_women.toml and survey_men.toml out of the rows of the US Army survey of 1988.

    python benchmarks/derive_estimates.py [FOLDER]

FOLDER holds ANSUR_1988_FEMALE.csv and ANSUR_1988_MALE.csv (public domain; lengths in mm). Only means, standard
deviations and correlations of logarithms are kept, no rows. The benchmark of the estimates uses the same functions.
"""

import csv
import math
import os
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
TARGET = HERE.parent / "src" / "toilewright" / "body"
FOLDER = "TOILEWRIGHT_SURVEY"
"""names the folder of the survey's files; otherwise ../shared/data/anthropometry beside the program is looked at."""

PLAIN = {
    "stature": "STATURE", "chest": "CHEST_CIRC", "chest at armscye": "CHEST_CIRC_AT_SCYE",
    "chest below bust": "CHEST_CIRC-BELOW_BUST_", "waist natural": "WAIST_CIRC_NATURAL",
    "waist navel": "WAIST_CIRC-OMPHALION", "hip": "BUTTOCK_CIRC", "neck base": "NECK_CIRC-BASE",
    "shoulder": "SHOULDER_LNTH", "across back": "INTRSCY_DIST", "armscye depth": "SCYE_DEPTH",
    "back length natural": "WAIST_NAT_LNTH", "back length navel": "WAIST_OMPH_LNTH",
    "neck to bust point": "NECK_TO_BUSTPOINT_LNTH", "bust point width": "BUSTPOINT_TO_BUSTPOINT_BRTH",
    "waist to hip navel": "WAIST_HIP_LNTH", "upper arm": "ARM_CIRC-AXILLARY", "elbow": "ELBOW_CIRC-EXTENDED",
    "wrist": "WRIST_CIRC-STYLION", "arm": "SLEEVE-OUTSEAM_LNTH", "waist height natural": "WAIST_HT_NATURAL",
    "waist height navel": "WAIST_HT-OMPHALION", "crotch height": "CROTCH_HT",
    "crotch depth natural": "WAIST_HT_SIT_NATURAL", "crotch depth navel": "WAIST_HT-UMBILICUS-SITTING",
    "crotch length natural": "CROTCH_NAT_WAIST", "crotch length navel": "CROTCH_UMBILICUS",
    "crotch back natural": "CRTCH_PST_NATURAL", "crotch back navel": "CRTCH_PST_OMPHALION",
    "thigh": "THIGH_CIRC-PROXIMAL", "knee": "KNEE_CIRC", "knee height": "PATELLA-MID_HT", "calf": "CALF_CIRC",
    "ankle": "ANKLE_CIRC", "neck height": "CERVIC_HT",
}


def find_folder(given=None):
    """The folder of the survey's files, or None."""
    beside = HERE.parents[1] / "shared" / "data" / "anthropometry"
    for folder in (given, os.environ.get(FOLDER), beside):
        if folder and (Path(folder) / "ANSUR_1988_FEMALE.csv").exists():
            return Path(folder)
    return None


def read_rows(path):
    """The rows of one file by column; the army's byte order mark and accents do not matter."""
    with path.open(encoding="latin-1", newline="") as file:
        text = file.read().removeprefix("ï»¿")
    return list(csv.DictReader(text.splitlines()))


def columns_of(row):
    """One row of 1988 as the columns that are kept (mm; degrees for the slope)."""
    of = {name: float(row[column]) for name, column in PLAIN.items()}
    of["waist to hip natural"] = of["waist to hip navel"] + float(row["WAIST_NATURAL_TO_WAIST_UMBILICUS"])
    fall = float(row["NECK_HT-LATERAL"]) - float(row["ACROMION_HT"])
    of["shoulder slope"] = math.degrees(math.asin(min(fall / of["shoulder"], 0.9)))
    back_in = (float(row["CHEST_DEPTH"]) - float(row["WAIST_DEPTH-OMPHALION"])) / 2
    for waist in ("natural", "navel"):
        down = float(row["CHEST_HT"]) - of[f"waist height {waist}"]
        of[f"front length {waist}"] = of["neck to bust point"] + math.hypot(down, back_in)
    return of


def derive(rows):
    """Means, standard deviations and correlations (in thousandths, below the diagonal) of the logarithms."""
    import numpy as np

    table = [columns_of(row) for row in rows]
    names = list(table[0])
    logs = np.log(np.array([[row[name] for name in names] for row in table]))
    thousandths = np.rint(np.corrcoef(logs.T) * 1000).astype(int)
    return {"columns": names, "mean": [round(v, 4) for v in logs.mean(0).tolist()],
            "sd": [round(v, 4) for v in logs.std(0, ddof=1).tolist()],
            "correlation": [thousandths[i, :i].tolist() for i in range(len(names))]}


def written(who, count, data):
    """The text of one file."""
    lines = [f"# {count} {who} of the US Army survey of 1987-88 (public domain): natural logarithms of mm (of degrees",
             "# for the slope). Means, standard deviations, correlations in thousandths with those before.",
             "# Made by benchmarks/derive_estimates.py; do not edit.", "columns = ["]
    lines += [f'  "{n}",' for n in data["columns"]] + ["]"]
    lines += [f"{key} = [" + ", ".join(f"{v:.4f}" for v in data[key]) + "]" for key in ("mean", "sd")]
    lines += ["correlation = [", *("  [" + ",".join(map(str, row)) + "]," for row in data["correlation"]), "]"]
    return "\n".join(lines) + "\n"


def main(words):
    folder = find_folder(words[0] if words else None)
    if folder is None:
        sys.stderr.write(f"The files of the survey are not here; name their folder, or set {FOLDER} to it.\n")
        return 2
    for who, file in (("women", "ANSUR_1988_FEMALE.csv"), ("men", "ANSUR_1988_MALE.csv")):
        rows = read_rows(folder / file)
        path = TARGET / f"survey_{who}.toml"
        path.write_text(written(who, len(rows), derive(rows)), encoding="utf-8")
        print(f"{path.name}: {len(rows)} {who}, {path.stat().st_size} bytes")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
