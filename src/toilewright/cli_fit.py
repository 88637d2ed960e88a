"""Fitting from a shell: every alteration there is, and what a body asks of its pattern."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

from toilewright.cli_room import Json, answer
from toilewright.errors import InputError


def put_into(app: App) -> None:
    """The commands of fitting, beside the others."""
    for command in (alterations, fit, toile, tissue):
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


def toile(make_file: Path, *, saw: Annotated[tuple[str, ...], Parameter(negative="")] = (),
          accept: Annotated[tuple[int, ...], Parameter(negative="")] = (), draw: Path | None = None,
          as_json: Json = False) -> None:
    """Say what the toile will show on her before it is sewn, or answer what she saw on it.

    Parameters
    ----------
    make_file
        Your make file (TOML): which pattern, which tape sheet, which alterations.
    saw
        One thing that the toile shows, in your own words, with its length where one can be taken, such as "dart ends
        2 cm below the bust point" or "too tight across the back, opened by 3 cm"; give it once for each thing. Without
        it you are told what to expect of a toile that is not sewn yet.
    accept
        Number of a reading that is to be made: it is written into your make file, with what was seen.
    draw
        Write a picture (SVG) of what to expect: your bust point, shoulder point, waist and hip on the pieces.
    """
    from toilewright.fit.toile.sayings import read_saying
    from toilewright.make.outcome import advise_size
    from toilewright.make.toile import accepted, beside, predict_make, read_toile, read_toiles
    from toilewright.make.toile_file import draw_prediction, write_reading
    from toilewright.make.toile_result import prediction_lines, prediction_result, read_lines, read_result

    if accept and not saw:
        raise InputError("A reading can only be accepted together with what was seen; give --saw again, as before.")
    sized = advise_size(make_file)
    if not saw:
        told, reads = predict_make(sized), read_toiles(sized)
        if draw is not None:
            draw_prediction(sized, told, draw)
        answer(as_json, lambda: prediction_result(sized, told, reads),
               lambda: print("\n".join(prediction_lines(sized, told, beside(reads, sized)))))
        return
    read = read_toile(sized, [read_saying(said, sized.unit) for said in saw], date=datetime.date.today().isoformat())
    taken = accepted(read, accept)
    if taken:
        write_reading(make_file, read, taken, sized.unit)
    answer(as_json, lambda: read_result(sized, read, taken), lambda: print("\n".join(read_lines(sized, read))))


def tissue(kind: str, *, out: Path, as_json: Json = False) -> None:
    """Say which lengths to take off a tissue pattern with a tape, and draw where each of them runs.

    For a pattern without a file. Two files are written: tissue-guide.pdf, with every piece and the tape on it, and
    flat-sheet.toml to write the lengths in (left alone when it is there already). A make file names the flat sheet as
    its pattern; size, fit and make then work as with a file, and make writes the cards to lie beside the tissue.

    Parameters
    ----------
    kind
        What the pattern is of: dress, bodice, princess dress, tunic, skirt, wrap skirt or trousers.
    out
        The folder for the two files.
    """
    from toilewright.make.tissue import write_tissue

    written = write_tissue(kind, out)
    answer(as_json, written.plain, lambda: print("\n".join(written.lines())))
