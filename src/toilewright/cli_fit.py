"""Fitting from a shell: every alteration there is, and what a body asks of its pattern."""

from __future__ import annotations

from pathlib import Path

from cyclopts import App

from toilewright.cli_room import Json, answer


def put_into(app: App) -> None:
    """The commands of fitting, beside the others."""
    for command in (alterations, fit):
        app.command(command)


def alterations(*, as_json: Json = False) -> None:
    """List every alteration: its group, its usual range, and what it needs of a pattern."""
    from toilewright.make.fitting import alteration_lines, alterations_result

    answer(as_json, alterations_result, lambda: print("\n".join(alteration_lines())))


def fit(make_file: Path, *, as_json: Json = False) -> None:
    """Say what to alter for her on this pattern, by how much and why, from her tape sheet.

    Parameters
    ----------
    make_file
        Your make file (TOML): which pattern, which tape sheet, which size.
    """
    from toilewright.make.fitting import fit_lines, fit_make, fit_result
    from toilewright.make.outcome import advise_size

    fitted = fit_make(advise_size(make_file))
    answer(as_json, lambda: fit_result(fitted), lambda: print("\n".join(fit_lines(fitted))))
