"""What the one-page summary and the terminal say of a make, in her words and her unit."""

from __future__ import annotations

from collections.abc import Sequence

from toilewright.fit.ease import Ease
from toilewright.fit.result import Done
from toilewright.known import Known
from toilewright.make.outcome import Outcome, Sized
from toilewright.output.before_after import overlays
from toilewright.output.summary import Summary, Table
from toilewright.pattern.walk import SeamWalk
from toilewright.units import show_length, unit_name


def summary_of(outcome: Outcome) -> Summary:
    """The words and pictures of the summary page."""
    sized = outcome.sized
    return Summary(
        sized.make.title, (who(sized), *size_lines(sized)),
        (ease_table(sized, outcome.ease), alteration_table(outcome), walk_table(outcome.walks, sized.unit)),
        tuple(f.text for f in outcome.findings), overlays(outcome.altered.bought, outcome.whole))


def who(sized: Sized) -> str:
    """For whom, when measured, from which pattern."""
    when = f", measured on {sized.body.date}" if sized.body.date else ""
    return f"For {sized.body.name}{when}. Pattern: {sized.reading.pattern.name}."


def size_lines(sized: Sized) -> tuple[str, ...]:
    """The size that was cut, and why, or what was advised instead."""
    if sized.advice is None:
        return (f"Size {sized.size_name}, as asked for.",)
    if sized.make.size == "auto":
        return sized.advice.reasons
    return (f"Size {sized.size_name}, as asked for. The advice would be: {sized.advice.reasons[0]}",)


def bought_table(sized: Sized) -> Table:
    """Ease as bought, beside what the handbooks ask."""
    unit = sized.unit
    rows = [(e.place, _length(e.body, unit), _length(e.garment, unit), _unsure(e.ease, unit), handbook(e, unit))
            for e in sized.ease]
    return Table("Ease that is really in the pieces", ("where", "body", "pieces", "ease", "handbooks"), tuple(rows),
                 (0.25, 0.15, 0.15, 0.215, 0.235))


def ease_table(sized: Sized, after: Sequence[Ease]) -> Table:
    """Ease as bought and as altered, beside what the handbooks ask."""
    bought = {e.place: e for e in sized.ease}
    unit = sized.unit
    rows = [(e.place, _length(e.body, unit), _length(bought[e.place].ease if e.place in bought else None, unit),
             _unsure(e.ease, unit), handbook(e, unit)) for e in after]
    return Table("Ease that is really in the pieces", ("where", "body", "as bought", "altered", "handbooks"),
                 tuple(rows), (0.25, 0.15, 0.15, 0.215, 0.235))


def handbook(e: Ease, unit: str) -> str:
    """What the handbooks ask at a place, in a few words."""
    if e.minimum is None or e.usual is None:
        return "-"
    low, high = e.usual
    if high is None:
        return f"{show_length(low, unit)} or more"
    least, short = show_length(e.minimum, unit), unit_name(unit)
    return f"{least.removesuffix(short).strip()} to {show_length(high, unit)}"


def alteration_table(outcome: Outcome) -> Table:
    """Every alteration with its amount and reason, also those not worth doing."""
    unit = outcome.sized.unit
    rows = [(_what(d), show_length(abs(d.order.amount.value), unit), d.order.amount.reason)
            for d in outcome.altered.done]
    rows += [(name, "none", k.reason) for name, k in outcome.skipped]
    return Table("Alterations, in the order of work", ("what", "how much", "why"), tuple(rows), (0.24, 0.15, 0.61))


def _what(done: Done) -> str:
    """An alteration as its card calls it, with its way and the piece she named: "shorten, sleeve"."""
    way = done.card.title.split(", {")[0].lower()
    return f"{way}, {done.order.options['piece']}" if "piece" in done.order.options else way


def walk_table(walks: Sequence[SeamWalk], unit: str) -> Table:
    """Every seam, walked."""
    rows = [(w.seam, show_length(w.length_a, unit), show_length(w.length_b, unit), more(w, unit), notches(w), w.verdict)
            for w in walks]
    return Table("The walk: do the seams sew?", ("seam", "one side", "the other", "more", "notches", ""), tuple(rows),
                 (0.25, 0.165, 0.165, 0.165, 0.135, 0.12))


def more(w: SeamWalk, unit: str) -> str:
    """How much longer the second side is, or how far it is gathered."""
    flat = w.length_b - w.difference
    if abs(flat - w.length_a) > 1.0:
        return f"{flat / w.length_a:.2g} to 1"
    return show_length(w.difference, "in") if unit == "in" else f"{round(w.difference, 1) + 0.0:.1f} mm"


def notches(w: SeamWalk) -> str:
    """How many balance marks meet."""
    if not w.notches:
        return "-"
    off = sum(not w.meets(n) for n in w.notches)
    return f"{off} of {len(w.notches)} off" if off else f"{len(w.notches)} meet"


def _unsure(known: Known | None, unit: str) -> str:
    """A length with how far it may be off."""
    if known is None or not known.spread:
        return _length(known, unit)
    value, short = show_length(known.value, unit), unit_name(unit)
    return f"{value.removesuffix(short).strip()} ± {show_length(known.spread, unit)}"


def _length(known: Known | None, unit: str) -> str:
    return "-" if known is None else show_length(known.value, unit)
