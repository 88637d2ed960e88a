"""A module of this package run in a process of its own, spoken to through pipes."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path


def start_worker(module: str, text: bool = False) -> subprocess.Popen:
    """Start ``toilewright.packing.<module>`` with this interpreter; it finds this package wherever it lies.

    Args:
        text: are its pipes lines of text rather than bytes?
    """
    root = str(Path(__file__).parents[2])
    paths = os.pathsep.join(p for p in (root, os.environ.get("PYTHONPATH", "")) if p)
    return subprocess.Popen([sys.executable, "-m", f"toilewright.packing.{module}"], stdin=subprocess.PIPE,
                            stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=text,
                            env={**os.environ, "PYTHONPATH": paths})
