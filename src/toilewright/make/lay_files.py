"""The files of a cutting-out: the lay for machines, and to follow on the table."""

from __future__ import annotations

import json
import os
from pathlib import Path

from toilewright.make.deliver import write_files
from toilewright.make.lay_result import laying_result
from toilewright.make.laying import Laying

FILES = ("lay.json",)


def write_laying(laying: Laying, out: str | os.PathLike[str]) -> tuple[Path, ...]:
    """Write every file of a cutting-out into a folder, all of them or none.

    Raises:
        FileError: the folder cannot be made or written to.
    """
    return write_files({"lay.json": lambda p: _write_json(laying, p)}, out)


def _write_json(laying: Laying, path: Path) -> None:
    path.write_text(json.dumps(laying_result(laying), indent=2, ensure_ascii=False) + "\n", encoding="utf-8")
