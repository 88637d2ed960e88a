"""From `python3 start.py` to the first page in a browser's hands."""

import http.client
import importlib.util
import os
import re
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

START = Path(__file__).parent.parent / "start.py"
PYTHON = sys._base_executable
RUNS = 9


def run():
    if not ready():
        raise SystemExit("The start is measured in a finished environment; run this as `python3 start.py bench start`.")
    with tempfile.TemporaryDirectory() as folder:
        once(folder)  # makes the store
        times = sorted(once(folder) for _ in range(RUNS))
    return {"start_to_first_page_s": statistics.median(times), "slowest_s": times[-1], "runs": RUNS}


def ready():
    """Would start.py begin at once? It must not set anything up here."""
    spec = importlib.util.spec_from_file_location("start", START)
    start = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(start)
    return start.is_ready("run")


def once(folder):
    """Seconds until the whole first page has come, as a browser gets it that was let in."""
    begun = time.perf_counter()
    program = subprocess.Popen([PYTHON, START, "worktable", "--no-browser", "--port", "0"],
                               env={**os.environ, "TOILEWRIGHT_HOME": folder}, stdout=subprocess.PIPE, text=True)
    try:
        said = next(line for line in program.stdout if "in?key=" in line)
        port, key = re.search(r"127\.0\.0\.1:(\d+)(/in\?key=\S+)", said).groups()
        browser = http.client.HTTPConnection("127.0.0.1", int(port))
        cookie = ask(browser, key).headers["set-cookie"].partition(";")[0]
        assert ask(browser, "/", cookie=cookie).status == 200
        taken = time.perf_counter() - begun
        browser.close()
        return taken
    finally:
        program.send_signal(signal.SIGTERM)
        program.communicate()


def ask(browser, path, **headers):
    browser.request("GET", path, headers=headers)
    answer = browser.getresponse()
    answer.read()
    return answer
