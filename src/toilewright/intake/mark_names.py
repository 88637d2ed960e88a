"""Names for darts and notches, and which mark of one size is which mark of another."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count

from toilewright.intake.piece_corners import Ring
from toilewright.intake.piece_maker import Marks, Run, marks_on
from toilewright.intake.raw import RawPiece


@dataclass(frozen=True, slots=True)
class ModelMarks:
    """Darts and notches of one size in the order of its outline: the edge of each; for notches also where on it (share
    of its length) and how many ticks."""

    dart_runs: tuple[Run, ...]
    notch_runs: tuple[Run, ...]
    notch_places: tuple[tuple[float, int], ...]
    marks: Marks


def model_marks(raw: RawPiece, ring: Ring, runs: Sequence[Run]) -> ModelMarks:
    """The marks of a piece in one size, in order."""
    marks = marks_on(raw, ring, runs)
    notches = [(run, (s / run.path.length, notch.count)) for run in runs
               for s, notch in marks.notches.get(run.label.name, ())]
    return ModelMarks(tuple(run for run in runs for _ in marks.darts.get(run.label.name, ())),
                      tuple(run for run, _ in notches), tuple(place for _, place in notches), marks)


def dart_name(edge: str) -> str:
    """What a dart on an edge is called.

    >>> dart_name("side seam"), dart_name("waist"), dart_name("underarm back")
    ('bust dart', 'waist dart', 'elbow dart')
    """
    if edge.startswith("underarm"):
        return "elbow dart"
    return {"side seam": "bust dart"}.get(edge, f"{edge} dart")


def numbered(names: Sequence[str]) -> tuple[str, ...]:
    """Repeated names told apart: the second one gets a 2, and so on; numbers that other names carry are passed over.

    >>> numbered(["waist dart", "waist dart", "neck dart"]), numbered(["facing", "facing", "facing 2"])
    (('waist dart', 'waist dart 2', 'neck dart'), ('facing', 'facing 3', 'facing 2'))
    """
    given, seen = set(names), Counter()
    out = []
    for name in names:
        seen[name] += 1
        own = name
        if name and seen[name] > 1:
            own = next(new for k in count(seen[name]) if (new := f"{name} {k}") not in given)
            given.add(own)
        out.append(own)
    return tuple(out)


def cap_notches(marks: Sequence[tuple[float, int]]) -> tuple[str, ...]:
    """Names of the notches on a sleeve cap, walked from its front end to its back end.

    Args:
        marks: share of the cap's length, and number of ticks.

    >>> cap_notches([(0.2, 1), (0.5, 1), (0.8, 2)])
    ('front notch', 'shoulder point', 'back notch')
    """
    middle = min((i for i, (f, count) in enumerate(marks) if abs(f - 0.5) < 0.12 and count == 1),
                 key=lambda i: abs(marks[i][0] - 0.5), default=None)
    return tuple("shoulder point" if i == middle else "front notch" if f < 0.5 else "back notch"
                 for i, (f, _) in enumerate(marks))


def paired(model: Sequence[float], other: Sequence[float]) -> list[int | None]:
    """For each place on another size's edge the number of the model's place it stands for (shares of the length).

    Equally many are taken in order; otherwise each takes the nearest one that is left, within a tenth of the edge.
    """
    if len(model) == len(other):
        return list(range(len(model)))
    pairs = sorted((abs(f - g), i, j) for i, f in enumerate(model) for j, g in enumerate(other))
    taken: dict[int, int] = {}
    for gap, i, j in pairs:
        if gap < 0.1 and j not in taken and i not in taken.values():
            taken[j] = i
    return [taken.get(j) for j in range(len(other))]
