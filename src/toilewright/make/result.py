"""Results as plain values for machines; every length in mm."""

from __future__ import annotations

from collections.abc import Sequence

from toilewright.errors import Finding
from toilewright.fit.ease import Ease
from toilewright.intake.report import read_report
from toilewright.known import Known
from toilewright.make.outcome import Outcome, Sized
from toilewright.make.reading import Reading
from toilewright.make.strips_result import extras_result
from toilewright.pattern.garment import Garment
from toilewright.pattern.walk import SeamWalk

Plain = dict[str, object]


def reading_result(reading: Reading) -> Plain:
    """What a pattern file holds (see :func:`toilewright.intake.report.read_report`), with names and seams."""
    report = read_report(reading.raw)
    report["name"] = reading.labels.name
    report["labels"] = [{"printed": p.printed, "name": p.name, "edges": [e.name for e in p.edges],
                         "darts": list(p.darts), "notches": list(p.notches)} for p in reading.labels.pieces]
    report["seams"] = [{"name": s.seam.name, "confirmed": s.confirmed} for s in reading.labels.seams]
    report["findings"] = _findings(reading.findings)
    return report


def size_result(sized: Sized) -> Plain:
    """The choice of size with its reasons, and the real ease as bought."""
    return {"body": _body(sized), "sizes": _sizes(sized), "ease": [_ease(e) for e in sized.ease],
            "findings": _findings(sized.findings)}


def make_result(outcome: Outcome) -> Plain:
    """The whole make, as in ``result.json``."""
    sized = outcome.sized
    before = {e.place: e for e in sized.ease}
    bought = {w.seam: w for w in outcome.walks_before}
    return {
        "title": sized.make.title,
        "body": _body(sized),
        "sizes": _sizes(sized),
        "ease": [{**_ease(e), "ease_as_bought_mm": _value(before[e.place].ease) if e.place in before else None}
                 for e in outcome.ease],
        "alterations": [
            {"name": d.order.name, "amount_mm": round(d.order.amount.value, 3), **_said(d.order.amount),
             "options": dict(d.order.options), "changed": list(d.changed), "made": True}
            for d in outcome.altered.done
        ] + [{"name": name, "amount_mm": 0.0, "worked_out_mm": round(k.value, 3), **_said(k), "options": {},
              "changed": [], "made": False} for name, k in outcome.skipped],
        "toiles": [{"date": t.date, "saw": [seen.say(sized.unit) for seen in t.saw]} for t in sized.make.toiles],
        "landmarks": _landmarks(outcome.altered.bought, outcome.altered.garment),
        "extras": extras_result(outcome)["extras"],
        "seams": [_seam(w, bought.get(w.seam)) for w in outcome.walks],
        "findings": _findings(outcome.findings),
    }


def _body(sized: Sized) -> Plain:
    body = sized.body
    return {"name": body.name, "date": body.date, "posture": list(body.posture),
            "measures_mm": {n: round(v, 3) for n, v in body.measures if n != "shoulder slope"}}


def _sizes(sized: Sized) -> Plain:
    chosen: Plain = {"chosen": dict(sized.sizes), "straight": len(sized.sizes) == 1,
                     "all": list(sized.reading.pattern.sizes)}
    if sized.advice is not None:
        advice = sized.advice
        chosen["advice"] = {
            "size": advice.size, "blend": dict(advice.blend), "chart_size": advice.chart_size,
            "reasons": list(advice.reasons),
            "ease_by_size_mm": {size: {e.place: _value(e.ease) for e in rows} for size, rows in advice.table}}
    return chosen


def _ease(row: Ease) -> Plain:
    return {
        "place": row.place, "garment_mm": _value(row.garment), "garment_origin": row.garment.origin.value,
        "garment_reason": row.garment.reason, "body_mm": _value(row.body),
        "ease_mm": _value(row.ease), "plus_minus_mm": row.ease and row.ease.spread and round(row.ease.spread, 1),
        "minimum_mm": row.minimum, "source": row.source,
        "usual_mm": [v if v is None else round(v, 3) for v in row.usual] if row.usual else None,
        "pieces": list(row.pieces), "enough": row.enough, "verdict": row.verdict}


def _said(known: Known) -> Plain:
    return {"origin": known.origin.value, "plus_minus_mm": known.spread and round(known.spread, 1),
            "reason": known.reason}


def _value(known: Known | None) -> float | None:
    return None if known is None else round(known.value, 3)


def _landmarks(before: Garment, after: Garment) -> list[Plain]:
    """Every landmark and dart point, where it was and where it is now."""
    rows: list[Plain] = []
    for piece in after.pieces:
        old = before.piece(piece.name) if before.has(piece.name) else None
        was = {m.name: m.at for m in old.landmarks} if old else {}
        was |= {f"{d.name} point": d.apex for d in old.darts} if old else {}
        now = [(m.name, m.at, m.origin.value) for m in piece.landmarks]
        now += [(f"{d.name} point", d.apex, "read off the pattern") for d in piece.darts]
        rows += [{"piece": piece.name, "name": name, "before": _xy(was.get(name)), "after": _xy(at), "origin": origin}
                 for name, at, origin in now]
    return rows


def _xy(point: complex | None) -> list[float] | None:
    return None if point is None else [round(point.real, 3), round(point.imag, 3)]


def _seam(w: SeamWalk, bought: SeamWalk | None) -> Plain:
    """A seam; it sews when side b minus side a lies within ``allowed_ease_mm``, gathers included."""
    gathers = w.length_b - w.difference - w.length_a
    return {"name": w.seam, "a": w.sides[0], "b": w.sides[1], "length_a_mm": round(w.length_a, 3),
            "length_b_mm": round(w.length_b, 3), "difference_mm": round(w.length_b - w.length_a, 3),
            "difference_as_bought_mm": bought and round(bought.length_b - bought.length_a, 3),
            "allowed_ease_mm": [round(v + gathers, 3) for v in w.allowed],
            "gathered_ratio": round((w.length_a + gathers) / w.length_a, 4) if abs(gathers) > 1e-6 else None,
            "verdict": w.verdict,
            "notches": [{"name": n.name, "at_a_mm": round(n.at_a, 2), "at_b_mm": round(n.at_b, 2),
                         "offset_mm": round(n.offset, 2)} for n in w.notches],
            "note": w.note}


def _findings(found: Sequence[Finding]) -> list[Plain]:
    return [f.as_dict() for f in found]
