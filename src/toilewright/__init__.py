"""toilewright: from a bought multi-size sewing pattern to pieces that fit one body.

The same jobs as on the command line, as plain functions on frozen values (lengths in mm)::

    reading = toilewright.read_pattern("bought.pdf")           # sizes, pieces, guessed names, what is unclear
    toilewright.write_labels(reading.labels, "labels.toml")    # for her to confirm or correct
    body = toilewright.read_tape("alto-tape.toml")             # measures by ISO 8559-1 name or everyday alias
    advice = toilewright.advise(reading.pattern, body)         # straight size or blend, with the real ease
    garment = reading.pattern.at(advice.size)
    altered = toilewright.alter(garment, [toilewright.Order("high round back", toilewright.asked(15.0))])
    toilewright.walk(altered.garment)                          # every seam, both lengths, does it sew

    outcome = toilewright.run_make("alto-dress.toml")          # all of it, from one make file
    toilewright.write_outcome(outcome, "out")

Errors are :class:`ToilewrightError`; its message is one sentence for the dressmaker.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

__version__ = "0.1.0"

# Loaded when first asked for: a start that needs no PDF library should not wait for one.
_HOME = {
    "Altered": "fit.result", "Body": "body.tape", "Known": "known", "Labels": "intake.labels", "Order": "fit.result",
    "Origin": "known", "Outcome": "make.outcome", "Pattern": "pattern", "Piece": "pattern", "Garment": "pattern",
    "Reading": "make.reading", "Sized": "make.outcome", "ToilewrightError": "errors",
    "advise": "fit.size", "advise_size": "make.outcome", "alter": "fit.alterations", "asked": "known",
    "auto_amount": "fit.amounts", "blend": "fit.blend", "make_result": "make.result", "measure_ease": "fit.ease",
    "parse_length": "units", "read_labels": "intake.labels", "read_make": "make.recipe",
    "read_pattern": "make.reading", "read_tape": "body.tape", "reading_result": "make.result",
    "run_make": "make.outcome", "show_length": "units", "size_result": "make.result", "walk": "pattern.walk",
    "write_labels": "intake.labels", "write_outcome": "make.deliver",
}

__all__ = ["__version__", *_HOME]


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"toilewright has no {name!r}")
    return getattr(import_module(f"toilewright.{_HOME[name]}"), name)


def __dir__() -> list[str]:
    return sorted({*globals(), *_HOME})
