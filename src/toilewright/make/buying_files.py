"""The files of a shopping list: cloth.pdf to take to the shop, and the same for machines."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from importlib.util import find_spec
from pathlib import Path

from toilewright.cutting.offers import Buying
from toilewright.make.buying_result import buying_result
from toilewright.make.deliver import write_files

FILES = ("cloth.json", "cloth.pdf")


def write_buying(buying: Buying, out: str | os.PathLike[str]) -> tuple[Path, ...]:
    """Write the shopping list into a folder, all of it or nothing.

    Raises:
        FileError: the folder cannot be made or written to.
    """
    writers: dict[str, Callable[[Path], None]] = {"cloth.json": lambda p: _write_json(buying, p)}
    if find_spec("toilewright.output.shopping"):
        writers["cloth.pdf"] = lambda p: _write_pdf(buying, p)
    return write_files(writers, out)


def _write_json(buying: Buying, path: Path) -> None:
    path.write_text(json.dumps(buying_result(buying), indent=2, ensure_ascii=False) + "\n", encoding="utf-8")


def _write_pdf(buying: Buying, path: Path) -> None:
    from toilewright.output.shopping import write_shopping

    write_shopping(buying, path, buying.unit)
