"""Names full of markup through every page: none of it becomes a part of a page, and no script of it runs."""

import re

from browser.conftest import LAPTOP

HOSTILE = "\"'><script>alert(1)</script><img src=x onerror=alert(1)><b id=planted>"
STEPS = ("measure", "pattern", "size", "alter", "walk", "print", "cards", "diary", "true-scale")

SEND = """async ([path, body]) => {
  const headers = {"accept": "application/json", "x-toilewright": document.querySelector('[name=csrf]').content ??
    document.querySelector('[name=csrf]').value};
  if (body !== null && !body.file) headers["content-type"] = "application/json";
  let sent = body === null ? undefined : JSON.stringify(body);
  if (body?.file) { sent = new FormData(); sent.append("file", new File([body.file], body.name)); }
  const answer = await fetch(path, {method: body === null ? "GET" : "POST", headers, body: sent});
  const text = await answer.text();
  if (!answer.ok) throw new Error(path + " " + answer.status + " " + text);
  try { return JSON.parse(text); } catch { return text; }
}"""

WATCH = """window.planted = [];
document.addEventListener("securitypolicyviolation", 
  (e) => window.planted.push(e.violatedDirective + " " + e.blockedURI));"""


def test_markup_in_names_stays_text_on_every_page(screen, site):
    s = screen(site, LAPTOP)
    s.context.add_init_script(WATCH)
    dialogs = []
    s.page.on("dialog", lambda dialog: (dialogs.append(dialog.message), dialog.dismiss()))
    s.go("/")

    def send(path, body=None):
        return s.page.evaluate(SEND, [path, body])

    def change(thing_id, *rows):
        base = send(f"/things/{thing_id}")["revision"]
        send(f"/things/{thing_id}/change", {"base": base, "words": HOSTILE, "set": rows})

    make_id = s.page.locator('a[href^="/make/"]').first.get_attribute("href").split("/")[2]
    make = send(f"/things/{make_id}")["document"]
    body, pattern = make["body"], make["pattern"]
    names = send(f"/pattern/{pattern}/labels.toml")
    quoted = HOSTILE.replace('"', '\\"')
    names = "\n".join(line if line.startswith("printed") else
                      re.sub("skirt back|side seam", lambda found: f"{quoted} {found[0]}", line)
                      for line in names.splitlines())
    job = send(f"/pattern/{pattern}/labels", {"file": names, "name": f"{HOSTILE.replace('/', '')}.toml"})["job"]
    assert "event: done" in send(f"/jobs/{job}/events")
    change(make_id, [["title"], HOSTILE], [["note"], HOSTILE],
           [["diary", "+"], {"date": "2024-05-01", "kind": "change", "text": HOSTILE}])
    change(body, [["name"], HOSTILE], [["note"], HOSTILE])
    change(pattern, [["name"], HOSTILE], [["note"], HOSTILE])
    send("/things", {"kind": "cloth", "document": {"name": HOSTILE, "fibre": HOSTILE, "note": HOSTILE}, "words": "x"})

    told = {}
    for path in ("/", "/bodies", "/patterns", "/shelf", "/keeping", "/devices", f"/body/{body}", f"/pattern/{pattern}",
                 f"/thing/{make_id}/history", f"/thing/{pattern}/history", *(f"/make/{make_id}/{p}" for p in STEPS)):
        s.go(path)
        s.page.wait_for_load_state("networkidle")
        assert s.page.locator("#planted, img[src=x]").count() == 0, path
        assert s.page.evaluate("window.planted") == [], path
        told[path] = s.page.locator("body").text_content()
    assert dialogs == [] and s.complaints == [] and s.strangers == []
    for path in (f"/pattern/{pattern}", f"/make/{make_id}/walk"):
        assert f"{HOSTILE} side seam" in told[path], path
    assert [path for path, text in told.items() if HOSTILE not in text] in ([], ["/devices"])
