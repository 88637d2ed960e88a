"""The whole demo as a person runs it, in a fresh process: target under 20 s, installed."""

import subprocess
import sys
import tempfile
import time
from pathlib import Path


def run():
    with tempfile.TemporaryDirectory() as folder:
        start = time.perf_counter()
        subprocess.run([sys.executable, "-m", "toilewright", "demo", "--out", str(Path(folder) / "demo"), "--json"],
                       check=True, stdout=subprocess.DEVNULL)
        seconds = time.perf_counter() - start
    return {"demo_seconds": seconds, "target_seconds": 20.0, "within_target": seconds < 20.0}
