"""The workroom from a shell: what is kept, and the same jobs on it as on files."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import App, Parameter

from toilewright.errors import InputError, NameUnknown

if TYPE_CHECKING:
    from toilewright.fit.toile.learned import Learned
    from toilewright.make.outcome import Outcome, Sized
    from toilewright.workroom.documents import Kind
    from toilewright.workroom.store import Thing, Workroom

app = App(name="workroom", help="The store that the worktable uses: people, patterns, cloth and makes.",
          help_format="plaintext")

Json = Annotated[bool, Parameter(name="--json", negative="", help="Print the result for a machine to read.")]
Store = Annotated[str, Parameter(help="Another store: a folder, or postgresql://...; else the usual one.")]


@app.command(name="list")
def show_all(*, store: Store = "", as_json: Json = False) -> None:
    """List everything that is kept, newest first."""
    from toilewright.workroom.days import minute
    from toilewright.workroom.documents import Kind, name_of

    with _open(store) as room:
        rows = [{"kind": kind.value, "id": t.id, "name": name_of(t.document), "changed": minute(t.changed)}
                for kind in Kind for t in room.things(kind)]
    answer(as_json, lambda: rows, lambda: print(
        "\n".join(f"{r['kind']:8} {r['id']}  {r['name']}" for r in rows)
        or "The workroom is empty; `toilewright workroom take FILE` brings something in."))


@app.command
def take(file: Path, *, labels: Path | None = None, store: Store = "") -> None:
    """Bring in a tape sheet, a pattern file, or a make file with all that it names.

    Parameters
    ----------
    file
        A tape sheet or make file (TOML), or a pattern (PDF, SVG, DXF).
    labels
        The confirmed names of a pattern's edges.
    """
    from toilewright.workroom import taking
    from toilewright.workroom.documents import name_of

    with _open(store) as room:
        if file.suffix.lower() != ".toml":
            thing = taking.take_pattern(room, file, labels)
        elif _is_make(file):
            thing = taking.take_make(room, file)
        else:
            thing = taking.take_tape(room, file)
        print(f"{thing.kind} {thing.id}: {name_of(thing.document)}")


@app.command
def size(make: str, *, store: Store = "", as_json: Json = False) -> None:
    """Advise on the size for a make that is kept.

    Parameters
    ----------
    make
        Its title, or its id from `toilewright workroom list`.
    """
    from toilewright.make.result import size_result
    from toilewright.make.tell import tell_size

    with _open(store) as room:
        sized = _sized(room, make)
    answer(as_json, lambda: size_result(sized), lambda: tell_size(sized))


@app.command
def make(make: str, *, out: Path, store: Store = "", as_json: Json = False) -> None:
    """Make up a make that is kept, and write everything to print.

    Parameters
    ----------
    make
        Its title, or its id from `toilewright workroom list`.
    out
        The folder for the results. Files of the same names there are replaced, others are left alone.
    """
    from toilewright.make.deliver import write_outcome
    from toilewright.make.outcome import make_up
    from toilewright.make.result import make_result
    from toilewright.make.tell import tell_outcome

    with _open(store) as room:
        outcome: Outcome = make_up(_sized(room, make))
    write_outcome(outcome, out)
    answer(as_json, lambda: make_result(outcome), lambda: tell_outcome(outcome, out))


@app.command
def learn(make: str, *, always: bool = False, store: Store = "", as_json: Json = False) -> None:
    """Keep with the body what the toiles of a make asked for, and tell what its makes had in common.

    Parameters
    ----------
    make
        Its title, or its id from `toilewright workroom list`.
    always
        From now on make for this body always what several makes agree on.
    """
    from toilewright.workroom.documents import Kind
    from toilewright.workroom.learning import learned_of, make_standing, teach

    with _open(store) as room:
        body = teach(room, _find(room, make, (Kind.MAKE,)).id)
        rows = learned_of(body.document)
        for row in rows if always else ():
            if row.standing:
                make_standing(room, body.id, row)
    told = [f"{row.name}{' (worth making always)' if row.standing else ''}: {row.say(body.document.unit)}"
            for row in rows]
    answer(as_json, lambda: [_learned(row) for row in rows],
           lambda: print("\n".join(told) or "The toiles of this make asked for nothing."))


def _learned(row: Learned) -> dict[str, object]:
    return {"name": row.name, "options": dict(row.options), "amount_mm": round(row.amount, 1),
            "plus_minus_mm": round(row.spread, 1), "makes": row.makes, "worth_making_always": row.standing}


@app.command
def history(name: str, *, store: Store = "") -> None:
    """Tell every change of one thing, oldest first.

    Parameters
    ----------
    name
        The title or name of a make, person, pattern or cloth, or its id.
    """
    from toilewright.workroom.days import minute
    from toilewright.workroom.documents import Kind

    with _open(store) as room:
        for r in room.history(_find(room, name, tuple(Kind)).id):
            print(f"{r.number:4} {minute(r.at)}  {r.words}{f'  ({r.by})' if r.by else ''}")


@app.command
def pack(file: Path, *, make: str = "", store: Store = "") -> None:
    """Write everything, or one make with all it needs, into one file.

    Parameters
    ----------
    file
        The file to write; one of that name is replaced.
    make
        Title or id of the one make.
    """
    from toilewright.files import replacing
    from toilewright.workroom.documents import Kind
    from toilewright.workroom.packing import export_all, export_make

    with _open(store) as room:
        data = export_make(room, _find(room, make, (Kind.MAKE,)).id) if make else export_all(room)
    with replacing(file) as work:
        Path(work).write_bytes(data)
    print(f"{file}: {len(data) / 1e6:.1f} MB. It holds measures and pictures; keep it where only you can read it.")


@app.command
def unpack(file: Path, *, store: Store = "") -> None:
    """Bring in what `pack`, or the worktable, wrote into one file.

    Parameters
    ----------
    file
        The packed file.
    """
    from toilewright.workroom.packing import import_file

    with _open(store) as room:
        print(import_file(room, file.read_bytes()).text)


@app.command(name="backups")
def show_backups(*, store: Store = "") -> None:
    """List the automatic back-ups, newest first."""
    from toilewright.workroom.backups import backups
    from toilewright.workroom.days import minute

    for one in backups(_folder(store)):
        print(f"{one.name}  {minute(one.made)}  {one.size / 1e6:.1f} MB")


@app.command
def restore(name: str, *, store: Store = "") -> None:
    """Put a back-up in the place of the store; the present file is set aside, never deleted.

    Parameters
    ----------
    name
        Of the back-up, from `toilewright workroom backups`.
    """
    from toilewright.workroom.backups import restore as put_back

    aside = put_back(_folder(store), name)
    print(f"{name} is in its place." + (f" What was there is now {aside}." if aside else ""))


def answer(as_json: bool, data: Callable[[], object], words: Callable[[], None]) -> None:
    """Print for a machine or for her."""
    if as_json:
        print(json.dumps(data(), indent=2, ensure_ascii=False))
    else:
        words()


@contextmanager
def _open(store: str) -> Iterator[Workroom]:
    from toilewright.workroom.store import Workroom

    room = Workroom.open(store or None)
    try:
        yield room
    finally:
        room.close()


def _folder(store: str) -> Path:
    from toilewright.workroom.store import place_of

    place = place_of(store)
    if "://" in place:
        raise InputError("A store on a server is backed up by its server; `toilewright workroom pack` writes it all "
                         "into one file.")
    return Path(place)


def _find(room: Workroom, name: str, kinds: tuple[Kind, ...]) -> Thing:
    from toilewright.workroom.days import minute
    from toilewright.workroom.documents import name_of

    things = [t for kind in kinds for t in room.things(kind)]
    found = [t for t in things if t.id == name] or [t for t in things if name_of(t.document).lower() == name.lower()]
    if not found:
        what = kinds[0].value if len(kinds) == 1 else "thing"
        raise NameUnknown.among(what, name, [name_of(t.document) for t in things], "the workroom")
    if len(found) > 1:
        listed = ", ".join(f"{t.id} ({minute(t.changed)})" for t in found)
        raise InputError(f'"{name}" is the name of {len(found)} things in the workroom; say which by its id: {listed}.')
    return found[0]


def _sized(room: Workroom, name: str) -> Sized:
    """A kept make up to the choice of size; its pattern is read if that was not done yet."""
    from toilewright.make.outcome import size_up
    from toilewright.workroom.documents import Kind
    from toilewright.workroom.recipes import body_for, recipe
    from toilewright.workroom.taking import reading_of

    doc = _find(room, name, (Kind.MAKE,)).document
    for what, kept in (("body", doc.body), ("pattern", doc.pattern)):
        if not kept:
            raise InputError(f'"{doc.title}" has no {what} yet; choose one on the worktable (`toilewright worktable`).')
    body, pattern = room.get(doc.body).document, room.get(doc.pattern).document
    return size_up(recipe(doc), body_for(doc, body), reading_of(room, pattern))


def _is_make(file: Path) -> bool:
    from toilewright.body.sheet import read_sheet

    return "pattern" in read_sheet(file, "sheet")
