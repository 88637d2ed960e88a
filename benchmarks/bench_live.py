"""From a change of amount to the redrawn pieces, in the program and in a real browser: 100 ms at the 95th percentile.

The browser's part runs where the tests have run once (`python3 start.py test` brings playwright and Chromium).
"""

import json
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

from toilewright.app.altering import listed, tried
from toilewright.app.table import Table
from toilewright.body.tape import Wish
from toilewright.demo import fill
from toilewright.workroom.documents import Kind
from toilewright.workroom.store import Workroom

CHANGES = 60
NAME = "bust dart height"
FRAME = 0.016  # s between two moves of the hand

WATCH = """() => {
  // Every question takes along the changes that were made before it; when its answer is on the screen they are done.
  const table = document.querySelector("piece-table");
  const watch = window.watch = { begun: [], sent: 0, taken: [], last: "" };
  const changed = (event) => {
    if (event.type === "pointermove" && !event.target.classList.contains("held")) return;
    watch.begun.push(event.timeStamp);
  };
  const field = document.querySelector('input[aria-label="Amount of NAME"]');
  field.addEventListener("input", changed, true);
  document.addEventListener("pointermove", changed, true);
  const fetched = window.fetch;
  window.fetch = (address, options) => {
    if (String(address).endsWith("/alter/try")) watch.sent = watch.begun.length;
    return fetched(address, options);
  };
  const update = table.update.bind(table);
  table.update = (picture) => {
    const done = watch.begun.splice(0, watch.sent);
    watch.sent = 0;
    update(picture);
    requestAnimationFrame(() => {
      const after = new MessageChannel(); // its message comes when the frame has been drawn
      after.port1.onmessage = () => watch.taken.push(...done.map((begun) => performance.now() - begun));
      after.port2.postMessage(null);
    });
  };
}""".replace("NAME", NAME)

SHOWN = """(k) => new Promise((done) => {
  const look = () => (watch.taken.length > k ? done() : setTimeout(look, 5));
  look();
})"""


def run():
    with tempfile.TemporaryDirectory() as folder:
        room = Workroom.open(folder)
        fill(room)
        figures = {"target_ms": 100.0, **in_the_program(room)}
        make_id = room.things(Kind.MAKE)[0].id
        room.close()
        return {**figures, **in_a_browser(folder, make_id)}


def spread(name, times):
    times = sorted(times)
    return {f"{name}_p50_ms": statistics.median(times), f"{name}_p95_ms": times[int(0.95 * len(times))],
            f"{name}_changes": len(times)}


def in_the_program(room):
    """What one change costs the program: all alterations made anew, the changed pieces as text for the browser."""
    table = Table(room)
    make_id = room.things(Kind.MAKE)[0].id
    rows = listed(table.place(make_id, "alter").make, table.place(make_id, "alter").body)
    chosen = next(one.id for one in rows if one.row.name == NAME)
    figures = {}
    for name, wanted in (("program", chosen), ("program_held", "")):
        known, times = {}, []
        for k in range(CHANGES + 1):
            start = time.perf_counter()
            sized = table.sized(make_id, unit="cm")
            wishes = [(one.id, Wish(one.row.name, 5.0 + 0.3 * k if one.id == chosen else one.row.amount,
                                    dict(one.row.options)), one.standing) for one in rows]
            found = tried(sized, wishes, {}, "cm", known, wanted)
            json.dumps(found, separators=(",", ":"))
            times.append((time.perf_counter() - start) * 1000)
            known = {p["name"]: p["version"] for p in found["picture"]["pieces"]}
        figures |= spread(name, times[1:])  # the first looks at the pieces as bought
    return figures


def in_a_browser(folder, make_id):
    chromium = os.environ.get("CHROMIUM") or shutil.which("chromium") or shutil.which("google-chrome")
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        return {"browser": "not measured: it needs what `python3 start.py test` installs"}
    if not chromium:
        return {"browser": "not measured: it needs Chromium"}
    command = [sys.executable, "-m", "toilewright", "worktable", "--port", "0", "--no-browser"]
    program = subprocess.Popen(command,
                               env={**os.environ, "TOILEWRIGHT_HOME": folder}, stdout=subprocess.PIPE, text=True)
    try:
        address = next(found[0] for found in (re.search(r"http://127\.0\.0\.1:\d+/in\S*", line)
                                              for line in program.stdout) if found)
        with sync_playwright() as p:
            browser = p.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
            page = browser.new_page(viewport={"width": 1280, "height": 800})
            page.goto(address)
            page.goto(f"{address.partition('/in')[0]}/make/{make_id}/alter")
            figures = {**typed(page), **pulled(page)}
            browser.close()
        return figures
    finally:
        program.terminate()
        program.communicate()


def typed(page):
    """Amounts typed one after the other, each looked at before the next."""
    field = page.get_by_role("textbox", name=f"Amount of {NAME}")
    field.focus()
    page.wait_for_selector(".grip")
    page.wait_for_timeout(500)
    page.evaluate(WATCH)
    for k in range(CHANGES):
        field.fill(f"{1 + k * 0.03:.2f}")
        page.evaluate(SHOWN, k)
    return spread("typed", page.evaluate("watch.taken"))


def pulled(page):
    """A grip pulled to and fro without a stop."""
    page.reload()
    page.get_by_role("textbox", name=f"Amount of {NAME}").focus()
    grip = page.locator(".grip").first
    grip.wait_for()
    page.wait_for_timeout(500)
    box = grip.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.evaluate(WATCH)
    for k in range(2 * CHANGES):
        page.mouse.move(x, y + 24 * (1 if k % 2 else -1) * (k % 24) / 24)
        page.wait_for_timeout(FRAME * 1000)
    page.wait_for_timeout(500)
    taken = page.evaluate("watch.taken")
    page.mouse.up()
    return spread("pulled", taken)
