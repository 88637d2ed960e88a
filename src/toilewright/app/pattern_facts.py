"""What was found in a pattern file: in sentences, with how sure each is, and the choices that its page offers."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.app.words import say
from toilewright.intake.label_types import Labels
from toilewright.make.reading import Reading
from toilewright.pattern.garment import EdgeRef, Garment
from toilewright.units import show_length


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that was found; `sure` says how: ``read``, ``guessed``, ``missing``."""

    text: str
    sure: str


@dataclass(frozen=True, slots=True)
class SeamSides:
    """One seam as it lies in one size.

    Attributes:
        a, b: its two sides in words, with their lengths.
        verdict: how they go together, in words.
        sews: do they?
    """

    a: str
    b: str
    length_a: str
    length_b: str
    verdict: str
    sews: bool


def middle_size(reading: Reading) -> str:
    """The size in which lengths are told."""
    return reading.pattern.sizes[len(reading.pattern.sizes) // 2]


def facts(reading: Reading, unit: str) -> list[Fact]:
    """Whole? True to scale? What size, what line? Each in a sentence."""
    raw, labels = reading.raw, reading.labels
    sizes = reading.pattern.sizes
    if reading.by_tape:
        return [Fact(say("pattern.fact_by_tape", sizes=", ".join(sizes), n=len(sizes)), "read")]
    count = say("pattern.fact_pieces", n=len(labels.pieces))
    span = say("pattern.fact_one_size", size=sizes[0]) if len(sizes) == 1 else \
        say("pattern.fact_sizes", count=len(sizes), first=sizes[0], last=sizes[-1])
    found = [Fact(f"{count} {span}", "read")]
    joined = sum(not page.apart for page in raw.laid)
    if joined > 1:
        found.append(Fact(say("pattern.fact_pages", n=joined), "read"))
    found.append(_scale(reading, unit))
    if raw.allowance is None:
        found.append(Fact(say("pattern.fact_no_allowance", by=show_length(labels.allowance, unit)), "guessed"))
    elif raw.allowance:
        found.append(Fact(say("pattern.fact_allowance", by=show_length(raw.allowance, unit)), "read"))
    else:
        found.append(Fact(say("pattern.fact_net"), "read"))
    nameless = [p.name for p in labels.pieces if all(e.name.startswith("edge ") for e in p.edges)]
    if nameless:
        found.append(Fact(say("pattern.fact_nameless", names=", ".join(nameless), n=len(nameless)), "missing"))
    if labels.cloth:
        found.append(Fact(say("pattern.fact_cloth", cloth=labels.cloth), "read"))
    return found


def _scale(reading: Reading, unit: str) -> Fact:
    square = reading.raw.test_square
    if square is None:
        return Fact(say("pattern.fact_no_square"), "missing")
    said = {"width": _fine(square.width, unit), "height": _fine(square.height, unit),
            "nominal": _fine(square.nominal, unit)}
    if reading.raw.scale == 1.0:
        return Fact(say("pattern.fact_true", **said), "read")
    return Fact(say("pattern.fact_scaled", factor=f"{reading.raw.scale:.4f}", **said), "read")


def _fine(mm: float, unit: str) -> str:
    return f"{mm / 25.4:.3f} in" if unit == "in" else f"{mm / 10:.2f} cm"


def seam_sides(garment: Garment, unit: str) -> dict[str, SeamSides]:
    """Every seam of one size by its name."""
    from toilewright.pattern.walk import walk

    seams = {s.name: s for s in garment.seams}
    found = {}
    for one in walk(garment):
        seam = seams[one.seam]
        off = show_length(abs(one.difference), unit)
        if seam.ratio is not None:
            words = say("pattern.seam_gathered", ratio=f"{seam.ratio:g}")
        elif off == show_length(0, unit):
            words = say("pattern.seam_equal")
        else:
            words = say("pattern.seam_longer" if one.difference > 0 else "pattern.seam_shorter", by=off)
        if not one.sews:
            words = say("pattern.seam_not", words=words)
        found[one.seam] = SeamSides(_side(seam.a), _side(seam.b), show_length(one.length_a, unit),
                                    show_length(one.length_b, unit), words, one.sews)
    return found


def _side(refs: tuple[EdgeRef, ...]) -> str:
    return " + ".join((f"{r.times} × " if r.times > 1 else "") + f"{r.piece}: {r.edge}" for r in refs)


def seams_at(labels: Labels) -> dict[str, dict[str, list[str]]]:
    """Names of the seams that every edge takes part in, by piece and edge."""
    found: dict[str, dict[str, list[str]]] = {p.name: {e.name: [] for e in p.edges} for p in labels.pieces}
    for row in labels.seams:
        for ref in dict.fromkeys((r.piece, r.edge) for r in (*row.seam.a, *row.seam.b)):
            found[ref[0]][ref[1]].append(row.seam.name)
    return found


def usual_names() -> dict[str, list[str]]:
    """Names that the alterations understand, by what they are for."""
    from toilewright.intake.kinds import KINDS, LINE_NAMES, NOTCH_NAMES, UNFOLDED
    from toilewright.intake.mark_names import dart_name
    from toilewright.intake.piece_maker import BUST_DARTS

    edges = dict.fromkeys([*(e.name for k in KINDS.values() for e in k.edges), *UNFOLDED.values()])
    darts = dict.fromkeys([*BUST_DARTS, *(dart_name(e.name) for k in KINDS.values() for e in k.edges if e.darts)])
    return {"pieces": list(KINDS), "edges": list(edges), "darts": list(darts), "lines": [n for n, _ in LINE_NAMES],
            "notches": list(dict.fromkeys(n for names in NOTCH_NAMES.values() for n in names))}
