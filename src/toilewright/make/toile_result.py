"""What a toile will show and what was read off it: as plain values for machines, and in words."""

from __future__ import annotations

from collections.abc import Sequence

from toilewright.fit.toile.aim import Aim
from toilewright.fit.toile.answer import Reading, way_out
from toilewright.fit.toile.observations import Observation
from toilewright.fit.toile.predict import Prediction
from toilewright.make.outcome import Sized
from toilewright.make.toile import Beside, ToileRead
from toilewright.units import show_length

Plain = dict[str, object]
Predictions = Sequence[tuple[str, Prediction]]


def prediction_result(sized: Sized, told: Predictions, reads: Sequence[ToileRead]) -> Plain:
    """What the next toile will show, and what the earlier ones did; lengths in mm."""
    return {"title": sized.make.title, "body": sized.body.name, "toile": len(sized.make.toiles) + 1,
            "prediction": [{"side": side, "aims": [_aim(a) for a in one.aims], "ease": [_aim(a) for a in one.eases],
                            "wrap": [{"pose": c.pose.value, "covered": c.covered, "left_mm": round(c.left.value, 1),
                                      "sentence": c.text} for c in one.wrap]} for side, one in told],
            "toiles": [read_result(sized, read) for read in reads]}


def _aim(aim: Aim) -> Plain:
    return {"place": aim.place, "off_mm": round(aim.by.value, 1), "plus_minus_mm": round(aim.by.spread or 0.0, 1),
            "pattern_mm": round(aim.pattern.value, 1), "hers_mm": round(aim.hers.value, 1),
            "origin": aim.hers.origin.value, "sentence": aim.sentence, "would_show": aim.sign}


def read_result(sized: Sized, read: ToileRead, accepted: Sequence[Reading] = ()) -> Plain:
    """One toile for a machine: what was seen, and its readings, the likeliest first."""
    return {
        "title": sized.make.title, "body": sized.body.name, "toile": read.number, "date": read.date,
        "saw": [_seen(one, n in read.unanswered) for n, one in enumerate(read.saw)],
        "readings": [{**reading_plain(one, n), "stopped": read.stopped[n - 1]}
                     for n, one in enumerate(read.readings, 1)],
        "accepted": [one.alteration for one in accepted]}


def _seen(one: Observation, unanswered: bool) -> Plain:
    return {"sign": one.sign, "amount_mm": one.amount, "side": one.side, "answered": not unanswered,
            "way_out": way_out(one) if unanswered else ""}


def reading_plain(one: Reading, number: int) -> Plain:
    """One reading for a machine."""
    return {"number": number, "name": one.alteration, "called": one.called, "amount_mm": round(one.amount.value, 1),
            "plus_minus_mm": round(one.amount.spread or 0.0, 1), "likelihood": round(one.likelihood, 3),
            "reason": one.reason, "tells_apart": one.tells_apart, "options": dict(one.options),
            "explains": list(one.explains), "try_first": one.first, "worth_doing": one.worth_doing,
            "origin": one.amount.origin.value}


# -- in words -----------------------------------------------------------------------------------------


def prediction_lines(sized: Sized, told: Predictions, beside: Sequence[Beside]) -> list[str]:
    """What the next toile will show, line by line; then the earlier toiles beside each other."""
    lines = [f"Toile {len(sized.make.toiles) + 1} of {sized.make.title} will show on {sized.body.name}:"]
    for side, one in told:
        lines += [f"On her {side}:"] if side != "both" else []
        lines += [f"- {row.sentence}" for row in one.rows] + [f"- {row.text}" for row in one.wrap]
    if beside:
        lines += ["", "What the toiles asked for so far:"]
        lines += [f"- {row.alteration}: " + ", ".join(
            f"toile {n} {_brief(reading, made, sized.unit)}"
            for n, (reading, made) in enumerate(zip(row.by_toile, row.made, strict=True), 1)) for row in beside]
    lines.append('Sew it, look, and say what you saw: --saw "dart ends 2 cm below the bust point".')
    return lines


def _brief(reading: Reading | None, made: float, unit: str) -> str:
    if reading is None:
        return "did not ask for it" if not made else f"made {show_length(made, unit)}"
    said = f"{show_length(reading.amount.value, unit)} ({reading.likelihood:.0%})"
    return f"{said}, made {show_length(made, unit)}" if made else said


def read_lines(sized: Sized, read: ToileRead) -> list[str]:
    """The readings of one toile, numbered; what to look at where two causes look alike."""
    unit = sized.unit
    lines = [f"Toile {read.number} of {sized.make.title} on {sized.body.name}:",
             *(f"- {one.say(unit)}{_unanswered(one) if n in read.unanswered else ''}"
               for n, one in enumerate(read.saw)), ""]
    for number, one in enumerate(read.readings, 1):
        first = one.first and one.worth_doing and not read.stopped[number - 1]
        lines += [f"{number}. {_headed(one, unit)}{' - try this first' if first else ''}", f"   {one.reason}"]
        lines += [f"   {one.tells_apart}"] if one.tells_apart else []
        if not one.worth_doing:
            lines.append("   That little is not worth doing: cloth, tape and hand are no better.")
        if read.stopped[number - 1]:
            lines.append(f"   It cannot be made like that: {read.stopped[number - 1]}")
    lines.append("How often each cause comes up is our own judgement, not a count; the next toile decides. "
                 "--accept NUMBER writes a reading into your make file.")
    return lines


def _unanswered(one: Observation) -> str:
    way = way_out(one)
    return f": no alteration of this pattern would cure it{f'; {way}' if way else ''}"


def _headed(one: Reading, unit: str) -> str:
    """A reading in one line; what has a name of its own for its way needs no sign."""
    more = ", ".join(f"{key} {value}" for key, value in one.options.items())
    amount = one.amount.value if one.called == one.alteration else abs(one.amount.value)
    return (f"{one.called}{f' ({more})' if more else ''}: {show_length(amount, unit)} give or take "
            f"{show_length(one.amount.spread or 0.0, unit)}, likely {one.likelihood:.0%}")
