"""The demo: a village choir sews its concert dresses, and one alto needs hers to fit.

All data here is invented.
"""

from __future__ import annotations

import os
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from toilewright.blocks.concert import concert_dress
from toilewright.intake.labels import write_labels
from toilewright.make.deliver import remove_empty, unwritable, write_outcome
from toilewright.make.lay_files import write_laying
from toilewright.make.laying import Laying, lay_outcomes
from toilewright.make.outcome import Outcome, run_make
from toilewright.make.reading import read_pattern
from toilewright.output.printed_pattern import print_pattern

if TYPE_CHECKING:
    from toilewright.workroom.store import Workroom

PATTERN, LABELS, TAPE, MAKE = "concert-dress.pdf", "concert-dress-labels.toml", "alto-tape.toml", "alto-dress.toml"

TAPE_SHEET = """\
# Tape sheet of one alto of the village choir (invented).
name = "the alto"
date = "2026-11-20"
unit = "cm"
waist_place = "natural"
posture = ["high round back", "shoulders carried forward", "low bust points"]

[measures]
height = 166
bust = "95,5"
high_bust = 90
waist = "78,5 cm"
hip = 102
nape_to_waist = "43"
neck_shoulder_point_to_waist_back = "43,4"
neck_shoulder_point_to_bust_point = "29,1 cm"
front_waist_length = "45"
bust_point_to_bust_point = 20
across_back = "36,2"
shoulder = "12,5"
upper_arm = "29,5"
arm_length = 58
waist_to_hip = "20,8"
forward_shoulder = "1,2"

# What she always needs.
[[alteration]]
name = "high round back"
amount = "auto"

[[alteration]]
name = "forward shoulder"
amount = "auto"
"""

MAKE_FILE = f"""\
# One make: which pattern, whose body, and what is to be altered. Run it again whenever something here changes:
#   toilewright make {MAKE} --out DIR
title = "Concert dress for the alto"
pattern = "{PATTERN}"
labels = "{LABELS}"
tape = "{TAPE}"
size = "auto"

[[alteration]]
name = "bust dart height"
amount = "auto"

[[alteration]]
name = "waist in or out"
amount = "auto"

[[alteration]]
name = "lengthen or shorten"
piece = "skirt front"
amount = "2 cm"
"""


CLOTH_WIDTH, LAY_SECONDS = "140 cm", 5.0


def run(out: str | os.PathLike[str]) -> tuple[Outcome, Laying]:
    """Draw and print the 'bought' pattern, then do the whole job from that PDF alone, as far as the lay on the cloth.

    All files go to `out`.

    Raises:
        FileError: the folder cannot be made or written to.
    """
    folder = Path(out)
    new = [f for f in (folder, *folder.parents) if not f.exists()]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(prefix=".toilewright-", dir=folder) as work:
            for name in _write(Path(work), MAKE_FILE):
                os.replace(Path(work) / name, folder / name)
    except OSError as problem:
        remove_empty(new)
        raise unwritable(folder, problem) from None
    write_labels(read_pattern(folder / PATTERN).labels, folder / LABELS)
    outcome = run_make(folder / MAKE)
    write_outcome(outcome, folder)
    laying = lay_outcomes([outcome], width=CLOTH_WIDTH, fold="lengthwise", seconds=LAY_SECONDS)
    write_laying(laying, folder)
    return outcome, laying


def fill(room: Workroom) -> None:
    """Put the alto, the 'bought' pattern and her dress into a workroom; names on the pattern stay as guessed."""
    from toilewright.workroom.taking import take_make

    with tempfile.TemporaryDirectory(prefix="toilewright-") as work:
        _write(Path(work), MAKE_FILE.replace(f'labels = "{LABELS}"\n', ""))
        take_make(room, Path(work) / MAKE)


def _write(folder: Path, make_file: str) -> tuple[str, ...]:
    """Write tape sheet, make file and pattern; their names."""
    (folder / TAPE).write_text(TAPE_SHEET, encoding="utf-8")
    (folder / MAKE).write_text(make_file, encoding="utf-8")
    print_pattern(concert_dress(), folder / PATTERN, "a4")
    return TAPE, MAKE, PATTERN
