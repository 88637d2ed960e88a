"""Strips and extra pieces from a shell: what to cut for a tie, a binding, a frill, and those of a whole make."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import App, Parameter

from toilewright.cli_room import Json, answer
from toilewright.errors import InputError

if TYPE_CHECKING:
    from toilewright.cutting.extra import Kind


def put_into(app: App) -> None:
    """The command, beside the others."""
    app.command(strips)


def strips(what: str = "", *, unit: str = "", as_json: Json = False,
           **options: Annotated[str, Parameter(help="What the kind asks; see the bare command.",
                                                allow_leading_hyphen=True)]) -> None:
    """Work out strips and extra pieces: ties, bias strips, frills, circle skirts, buttonholes and others.

    Without a word every kind is listed with its options and worked examples. With a kind and its options, what to cut:
    `strips bias --square "12 in" --width "2 in"`. With a make file, its extra pieces: cut sizes, counts, grain,
    notches, what each is sewn to, and the order of work.

    Parameters
    ----------
    what
        A kind, or a make file (TOML); left out, all kinds.
    unit
        In which lengths without a unit are read, and lengths are shown; left out, cm, or what your options are in.
    """
    from toilewright.cutting.extra import find_kind
    from toilewright.make.strips_result import kinds_lines, kinds_result, sum_lines, sum_result
    from toilewright.units import unit_name

    if what.lower().endswith(".toml"):
        _of_make(Path(what), options, as_json)
        return
    unit = unit_name(unit) if unit else _usual_unit(options)
    if not what:
        if options:
            raise InputError(f"Say of what kind: toilewright strips KIND --{next(iter(options))} ...; without options, "
                             "every kind is listed.")
        answer(as_json, lambda: kinds_result(unit), lambda: print("\n".join(kinds_lines())))
        return
    kind: Kind = find_kind(what)
    worked = kind.work(kind.read(options, unit, f'"{kind.name}"', alone=True))
    answer(as_json, lambda: sum_result(kind, options, worked, unit),
           lambda: print("\n".join(sum_lines(kind, worked, unit))))


def _of_make(make_file: Path, options: dict[str, str], as_json: bool) -> None:
    from toilewright.make.outcome import run_make
    from toilewright.make.strips_result import extras_lines, extras_result

    if options:
        raise InputError(f'"--{next(iter(options))}" says nothing to a make file; write it below [[extra]] there.')
    outcome = run_make(make_file)
    answer(as_json, lambda: extras_result(outcome), lambda: print("\n".join(extras_lines(outcome))))


def _usual_unit(options: dict[str, str]) -> str:
    """Inches where every length is written in them."""
    lengths = [value for value in options.values() if any(c.isdigit() for c in value)]
    inches = [value for value in lengths if value.rstrip().lower().endswith(("in", '"', "inch", "inches", "″"))]
    return "in" if inches else "cm"
