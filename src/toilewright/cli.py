"""The shell's way in: read, size, make, demo, and the workroom."""

from __future__ import annotations

import io
import json
import logging
import os
import sys
from pathlib import Path
from typing import Annotated

from cyclopts import App, CycloptsError, Parameter

from toilewright import __version__, cli_cloth, cli_fit, cli_room, cli_strips
from toilewright.cli_room import Json, answer
from toilewright.errors import Severity, ToilewrightError

app = App(
    name="toilewright",
    version=__version__,
    help="From a bought multi-size sewing pattern to pieces that fit one body. Start with `toilewright demo "
         "--out demo-out`, look at what it leaves there, then read your own pattern file. The tool advises; "
         "the toile decides.",
    help_format="plaintext",
)
app.command(cli_room.app)
cli_fit.put_into(app)
cli_cloth.put_into(app)
cli_strips.put_into(app)


@app.command
def worktable(*, port: int | None = None, browser: Annotated[bool, Parameter(negative="--no-browser")] = True,
              store: str | None = None, demo: Annotated[bool, Parameter(negative="")] = False) -> None:
    """Open the worktable in your browser: the whole job on screen, on this machine alone.

    Runs until Ctrl-C ends it; everything is saved at every change. A second start opens the one that runs already.

    Parameters
    ----------
    port
        Where it is found on this machine, 0 for any that is free; left out, 8765 or the next free one.
    browser
        Open the browser; without it, only the address is printed.
    store
        The workroom: a folder, or postgresql://...; left out, TOILEWRIGHT_HOME or your system's usual place.
    demo
        Put the choir's demo into a workroom that is empty.
    """
    from toilewright.app.server import run

    def choir(room: object) -> None:
        from toilewright.demo import fill

        fill(room)

    run(store, port, browser, choir, demo)


@app.command
def read(file: Path, *, labels: Path | None = None, as_json: Json = False) -> None:
    """Read a pattern file and say what is in it.

    Takes a PDF (tiled pages or one sheet, sizes in layers or told apart by their lines), an SVG or a DXF. Tells
    the sizes, the pieces, the seam allowance, the test square, and what it could not make sense of. Its exit code is
    1 when the sheet has to be put right before anything is made from it (an outline that stays open).

    Parameters
    ----------
    file
        The pattern: PDF, SVG or DXF.
    labels
        Write the guessed names of pieces, edges and seams to this file, for you to confirm or correct.
    """
    from toilewright.intake.labels import write_labels
    from toilewright.make.reading import read_pattern
    from toilewright.make.result import reading_result
    from toilewright.make.tell import tell_reading

    reading = read_pattern(file)
    if labels is not None:
        write_labels(reading.labels, labels)
    answer(as_json, lambda: reading_result(reading), lambda: tell_reading(reading, labels))
    if stops := [f.text for f in reading.findings if f.severity is Severity.STOP]:
        sys.stderr.write(f"The sheet was read, but has to be put right before anything is made from it: {stops[0]}\n")
        sys.exit(1)


@app.command
def size(make_file: Path, *, as_json: Json = False) -> None:
    """Advise on the size: straight or blended, with the ease that is really in the pieces.

    Parameters
    ----------
    make_file
        Your make file (TOML): which pattern, which tape sheet, what you want.
    """
    from toilewright.make.outcome import advise_size
    from toilewright.make.result import size_result
    from toilewright.make.tell import tell_size

    sized = advise_size(make_file)
    answer(as_json, lambda: size_result(sized), lambda: tell_size(sized))


@app.command
def make(make_file: Path, *, out: Path, as_json: Json = False) -> None:
    """Make the whole pattern up: choose the size, alter, check that it sews, and write everything to print.

    Parameters
    ----------
    make_file
        Your make file (TOML): which pattern, which tape sheet, which alterations.
    out
        The folder for the results. Files of the same names there are replaced, others are left alone.
    """
    from toilewright.make.deliver import write_outcome
    from toilewright.make.outcome import run_make
    from toilewright.make.result import make_result
    from toilewright.make.tell import tell_outcome

    outcome = run_make(make_file)
    write_outcome(outcome, out)
    answer(as_json, lambda: make_result(outcome), lambda: tell_outcome(outcome, out))


@app.command
def demo(*, out: Path, as_json: Json = False) -> None:
    """Show the whole job on the village choir's concert dress, for one alto.

    Draws the ten-size pattern, prints it as a 'bought' layered PDF, and works from that PDF alone, as far as the lay
    on the cloth.

    Parameters
    ----------
    out
        The folder for the demo's files.
    """
    from toilewright import demo as choir
    from toilewright.make.lay_result import laying_result
    from toilewright.make.lay_tell import tell_laying
    from toilewright.make.result import make_result
    from toilewright.make.tell import tell_outcome

    outcome, laying = choir.run(out)

    def tell() -> None:
        tell_outcome(outcome, out)
        tell_laying(laying, out)

    answer(as_json, lambda: {**make_result(outcome), "lay": laying_result(laying)}, tell)


def _fail(text: str, kind: str) -> int:
    if "--json" in sys.argv:
        print(json.dumps({"error": {"kind": kind, "text": text}}, ensure_ascii=False))
    sys.stderr.write(text + "\n")
    return 2


def main(words: list[str] | None = None) -> None:
    """Run the program; errors become one sentence on standard error and exit code 2."""
    # Libraries log what we tell in findings.
    logging.getLogger().setLevel(logging.CRITICAL)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # terminals that cannot show every letter
    try:
        app(words, exit_on_error=False, print_error=False)
    except CycloptsError as problem:
        sys.exit(_fail(f"{str(problem).strip()} See `toilewright --help`.", "usage"))
    except ToilewrightError as problem:
        sys.exit(_fail(str(problem), type(problem).__name__))
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)  # nobody listens; the last words go nowhere
        sys.exit(1)
    except OSError as problem:
        sys.exit(_fail(f"{problem.filename or 'A file'} could not be used: {problem.strerror or problem}.", "OSError"))
    except KeyboardInterrupt:
        sys.exit(130)
    except Exception as problem:
        if os.environ.get("TOILEWRIGHT_TRACE"):
            raise
        sys.exit(_fail(
            f"Something went wrong inside toilewright that is no fault of yours ({type(problem).__name__}: {problem}); "
            "please report it with the file that caused it (TOILEWRIGHT_TRACE=1 shows where).", "internal"))
