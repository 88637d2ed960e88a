"""The cloth of a make file.

::

    [[cloth]]                      # one row for each cloth; the first one is "self"
    use       = "self"             # self, lining, interfacing, contrast, or a name that pieces carry
    width     = "140 cm"           # as sold, selvedges included
    selvedge  = "1 cm"             # what each edge loses
    length    = "3 m"              # what is there, for a remnant or from the shelf
    washed    = true               # what is there is washed already
    shrinkage = ["3 %", "1 %"]     # lengthways, across; or as measured on a square: ["97 cm of 100 cm", ...]
    stretch   = ["0 %", "20 %"]
    weight    = 120                # grams of one square metre
    one_way   = true               # nap, pile or a one-way print
    sided     = true               # right and wrong side differ
    repeat    = { along = "8 cm", across = "8 cm", first_along = "2 cm", first_across = "0 cm" }
    match     = ["centre front", "side seam", "armhole"]
    border    = "20 cm"
    flaws     = [["30 cm", "40 cm", "4 cm", "4 cm"]]   # x, y, width, height; or an outline of [x, y] pairs
    outline   = [["0", "0"], ["150 cm", "0"], ["90 cm", "80 cm"]]   # of an irregular remnant
    price     = 12.5               # of one metre (of one yard where it is sold by the yard)
    prices    = { "90 cm" = 9, "140 cm" = 12.5 }
    sold_by   = "metre"            # or "yard", which is taken where lengths are in inches
    envelope  = { "140 cm" = "3.2 m", "115 cm" = "4 m" }
    fold      = "lengthwise"       # open, lengthwise, part, or a depth such as "30 cm"
    grain_tolerance = "1 deg"
    squaring  = "2.5 cm"           # what each end loses until it is straight
    margin    = "20 cm"            # for mishaps
    overhang  = "7 cm"             # of a strip over the edge of a table, when its tip has sunk by 41.5 degrees
    pieces    = ["sleeve frill"]   # that are cut from this cloth, whatever the pattern says

    [lay]
    with = ["soprano.toml"]        # other makes in the same lay
    gap  = "3 mm"                  # between two pieces

Flaws and outline are measured on the cloth as it lies to be cut, washed and squared: x along the selvedge from the cut
end, y across from the inner edge of the selvedge.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from toilewright.body.sheet import check_keys, rows_of, table_of, text_of
from toilewright.errors import FileError, InputError
from toilewright.make.cloth_entries import length_of, words_of
from toilewright.make.cloth_row import KEYS, read_row
from toilewright.make.cloth_wish import ClothWish, LayWish


def read_cloths(sheet: Mapping[str, Any], unit: str, where: str) -> tuple[ClothWish, ...]:
    """The rows ``[[cloth]]`` of a make file.

    Raises:
        InputError: an entry that cannot be used, said with its cloth.
    """
    wishes: list[ClothWish] = []
    for row in rows_of(sheet, "cloth", where):
        wish = read_cloth(row, unit, where, "" if wishes else "self")
        if any(wish.use == other.use for other in wishes):
            raise InputError(f'Two cloths of {where} are both for "{wish.use}"; give each its own  use, such as '
                             '"lining" or "contrast".')
        wishes.append(wish)
    named: dict[str, str] = {}
    for wish in wishes:
        for piece in wish.pieces:
            if piece in named:
                raise InputError(f'The piece "{piece}" stands in {where} below two cloths, "{named[piece]}" and '
                                 f'"{wish.use}"; take it out of one.')
            named[piece] = wish.use
    return tuple(wishes)


def read_cloth(row: Mapping[str, Any], unit: str, where: str, use: str = "self") -> ClothWish:
    """One row ``[[cloth]]``.

    Args:
        use: what it is for when it does not say.

    Raises:
        InputError: an entry that cannot be used, said with its cloth.
    """
    use = " ".join(text_of(row, "use", f"a cloth of {where}", use).split())
    if not use or len(use) > 60:
        raise InputError(f'A cloth of {where} does not say what it is for; add a line such as  use = "lining".')
    place = f'cloth "{use}" of {where}'
    check_keys(row, KEYS, place)
    return read_row(row, unit, place, use)


def read_lay(sheet: Mapping[str, Any], unit: str, where: str, folder: Path) -> LayWish:
    """The table ``[lay]`` of a make file, whose other makes are looked for in `folder`.

    Raises:
        InputError: an entry that cannot be used.
        FileError: a make that is not there.
    """
    table = table_of(sheet, "lay", where)
    place = f'"lay" of {where}'
    check_keys(table, ("with", "gap"), place)
    others = []
    for name in words_of(table, "with", place, '["soprano.toml"]'):
        path = folder / name
        if not path.is_file():
            raise FileError(f'The {where} lays its pieces with the make "{name}", but there is no such file in '
                            f'"{folder.resolve()}".')
        others.append(path)
    gap = length_of(table["gap"], unit, f'"gap" of {place}', 0.0, 50.0, '"3 mm"') if "gap" in table else None
    return LayWish(tuple(others), gap)
