"""The pieces on the table in a real browser: true to scale, under hand, finger and keys."""

import math

import pytest

expect = pytest.importorskip("playwright.sync_api").expect

LAPTOP, PHONE = {"width": 1280, "height": 800}, {"width": 390, "height": 844}
HERE = """
const {x, y, k} = document.querySelector('piece-table').view;
const box = document.querySelector('piece-table .stage').getBoundingClientRect();
return {x: x + box.left, y: y + box.top, k, box: [box.left, box.top, box.width, box.height]};
"""
GRIP = """async (along) => {
  const table = document.querySelector('piece-table');
  const front = table.picture.pieces.find((p) => p.name === 'bodice front');
  const at = front.points.find((p) => p.name === 'bust point').at;
  window.amounts = [];
  table.addEventListener('amount', ({detail}) => window.amounts.push({...detail}));
  table.showPiece('bodice front');
  table.handles = [{id: 'height', piece: 'bodice front', at, along, label: 'bust dart height', amount: 0, step: 1,
    min: -40, max: 40}];
}"""


def true_scale(screen, site, size=LAPTOP, **more):
    """The demo's make at true scale."""
    one = screen(site, size, **more)
    one.go("/")
    make = one.page.evaluate("[...document.links].map(a => a.pathname.match(/^\\/make\\/([^/]+)/)?.[1]).find(Boolean)")
    one.go(f"/make/{make}/true-scale")
    expect(one.page.locator("piece-table .piece").first).to_be_attached()
    return one


def view(page):
    return page.evaluate(f"(() => {{{HERE}}})()")


def on_table(seen, point):
    return (point[0] - seen["x"]) / seen["k"], (point[1] - seen["y"]) / seen["k"]


def middle(seen):
    left, top, width, height = seen["box"]
    return left + width / 2, top + height / 2


def settle(page):
    page.evaluate("document.querySelector('piece-table .stage').scrollIntoView({block: 'center'})")
    page.evaluate("new Promise(requestAnimationFrame)")


def test_zoom_keeps_what_is_under_the_hand_and_a_line_is_as_long_as_it_says(screen, site):
    one = true_scale(screen, site)
    page = one.page
    page.evaluate("localStorage.setItem('toilewright.calibration', JSON.stringify({screen: {x: 5.5, y: 5.5, "
                  "over: 85.6, ratio: devicePixelRatio}}))")
    page.reload()
    expect(page.locator(".sure")).to_contain_text("Measured over 8.6 cm")
    assert page.evaluate("document.querySelector('piece-table').scale") == pytest.approx(5.5)
    page.locator("#which").select_option("")
    drawn, said = page.evaluate("""() => {
      const table = document.querySelector('piece-table');
      const piece = table.picture.pieces.find((p) => p.name === 'waistband');
      const node = table.querySelector('[data-piece="waistband"] [data-part="edge:top"]');
      const box = node.getBoundingClientRect();
      return [Math.hypot(box.width, box.height), piece.edges.find((e) => e.name === 'top').length];
    }""")
    assert drawn == pytest.approx(5.5 * said, rel=0.002)

    settle(page)
    seen = view(page)
    hand = (round(seen["box"][0]) + 200, round(seen["box"][1]) + 150)
    before = on_table(seen, hand)
    page.mouse.move(*hand)
    page.keyboard.down("Control")
    page.mouse.wheel(0, 300)
    page.keyboard.up("Control")
    page.wait_for_function("document.querySelector('piece-table').scale < 5")
    assert on_table(view(page), hand) == pytest.approx(before, abs=0.01)

    page.mouse.down()
    page.mouse.move(hand[0] + 90, hand[1] + 40, steps=4)
    page.mouse.up()
    assert on_table(view(page), (hand[0] + 90, hand[1] + 40)) == pytest.approx(before, abs=0.01)


def test_two_fingers_keep_the_paper_under_them(screen, site):
    one = true_scale(screen, site, PHONE, theme="dark", has_touch=True, is_mobile=True)
    page = one.page
    settle(page)
    page.evaluate("document.querySelector('piece-table').fit()")
    seen = view(page)
    cx, cy = middle(seen)
    a, b = (cx - 40, cy - 30), (cx + 40, cy + 30)
    a2, b2 = (cx - 90, cy - 40), (cx + 70, cy + 80)
    held = [on_table(seen, a), on_table(seen, b)]
    cdp = one.context.new_cdp_session(page)

    def touch(kind, *points):
        cdp.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [
            {"x": x, "y": y, "id": i} for i, (x, y) in enumerate(points)]})

    touch("touchStart", a)
    touch("touchStart", a, b)
    for i in range(1, 9):
        touch("touchMove", *(tuple(p + (q - p) * i / 8 for p, q in zip(*pair, strict=True))
                             for pair in ((a, a2), (b, b2))))
    touch("touchEnd")
    now = view(page)
    grown = math.dist(a2, b2) / math.dist(a, b)
    assert now["k"] / seen["k"] == pytest.approx(grown, rel=0.02)
    # A pinch has no turn: what was midway between the fingers is midway between them still.
    half = tuple((p + q) / 2 for p, q in zip(*held, strict=True))
    there = on_table(now, tuple((p + q) / 2 for p, q in zip(a2, b2, strict=True)))
    assert math.dist(half, there) * now["k"] < 3
    assert one.axe() == []
    assert not one.wide()
    one.keep("true-scale-phone-dark")


def test_everything_is_reached_by_keys_and_told(screen, site):
    one = true_scale(screen, site)
    page = one.page
    page.locator("piece-table .stage").focus()
    page.keyboard.press("0")
    whole = view(page)
    page.keyboard.press("ArrowRight")
    assert view(page)["x"] == pytest.approx(whole["x"] - 60)
    page.keyboard.press("+")
    assert view(page)["k"] == pytest.approx(whole["k"] * 1.25)
    page.keyboard.press("Tab")
    first = page.evaluate("(({name, label, edges}) => ({name, cut: label.cut, edge: edges[0].name}))"
                          "(document.querySelector('piece-table').picture.pieces[0])")
    expect(page.locator("piece-table .caption")).to_contain_text(f"{first['name']}, {first['cut']}")
    page.keyboard.press("Enter")
    assert page.evaluate("document.querySelector('piece-table').selection") == {"piece": first["name"], "part": None}
    page.keyboard.press("Tab")
    expect(page.locator("piece-table .caption")).to_contain_text(f"{first['name']} · {first['edge']}")
    page.keyboard.press("Enter")
    assert page.evaluate("document.querySelector('piece-table').selection.part") == f"edge:{first['edge']}"
    page.keyboard.press("Escape")
    page.keyboard.press("Escape")
    assert page.evaluate("document.querySelector('piece-table').selection") is None
    page.keyboard.press("1")
    assert page.evaluate("document.querySelector('piece-table').scale") == pytest.approx(96 / 25.4)

    page.get_by_text("All lengths as a table").click()
    row = page.locator("piece-table table", has_text="bodice front").get_by_role("row", name="side seam")
    expect(row.first).to_contain_text("cm")
    assert one.axe() == []
    one.keep("true-scale-laptop")


def test_the_tape_goes_straight_and_along_the_edge_with_darts_closed(screen, site):
    page = true_scale(screen, site).page
    told = page.evaluate("""async () => {
      const table = document.querySelector('piece-table');
      table.showPiece('skirt back');
      const piece = table.picture.pieces.find((p) => p.name === 'skirt back');
      const waist = piece.edges.find((e) => e.name === 'waist');
      const node = table.querySelector('[data-piece="skirt back"] [data-part="edge:waist"]');
      const [a, b] = [0, node.getTotalLength()].map((s) => node.getPointAtLength(s));
      table.useTape(true);
      for (const p of [a, b]) {
        const at = table.view.toStage([p.x + piece.at[0], p.y + piece.at[1]]);
        table.tap({at, target: node});
      }
      return [table.caption.textContent, waist.length, Math.hypot(a.x - b.x, a.y - b.y)];
    }""")
    cm = [f"{mm / 10:.1f} cm" for mm in told[1:]]
    assert told[0] == f"straight {cm[1]} · along the waist {cm[0]}"


def test_a_grip_slides_along_its_way_and_keeps_its_hold(screen, site):
    one = true_scale(screen, site)
    page = one.page
    page.evaluate(GRIP, [0, 1])
    settle(page)
    grip = page.get_by_role("slider", name="bust dart height")
    box = grip.bounding_box()
    assert min(box["width"], box["height"]) >= 44
    x, y, k = box["x"] + 22, box["y"] + 22, view(page)["k"]
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 30, y + 10 * k, steps=5)
    page.wait_for_function("window.amounts.length > 0")
    # New pieces arrive while she still holds it.
    page.evaluate("""() => { const t = document.querySelector('piece-table'); t.update(structuredClone(t.picture));
      t.handles = [{...t.handles[0], at: [t.handles[0].at[0], t.handles[0].at[1] + 10], amount: 10}]; }""")
    page.mouse.move(x + 30, y + 18 * k, steps=4)
    page.mouse.up()
    amounts = page.evaluate("window.amounts")
    assert amounts[-1] == {"id": "height", "amount": 18, "done": True}
    assert all(not a["done"] for a in amounts[:-1]) and 10 in [a["amount"] for a in amounts]
    assert grip.bounding_box()["y"] + 22 == pytest.approx(y + 18 * k, abs=0.6)
    assert grip.bounding_box()["x"] + 22 == pytest.approx(x, abs=0.6)
    expect(grip).to_be_focused()
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Shift+ArrowUp")
    assert [a["amount"] for a in page.evaluate("window.amounts")[-2:]] == [19, 29]
    expect(grip).to_have_attribute("aria-valuetext", "2.9 cm")
    page.keyboard.press("End")
    assert page.evaluate("window.amounts.at(-1)") == {"id": "height", "amount": 40, "done": True}
    one.keep("grip-laptop")


def test_lengths_are_written_as_the_program_writes_them(screen, site):
    from toilewright.units import show_length

    page = true_scale(screen, site).page
    lengths = [k * 0.125 for k in range(-900, 900)] + [k * 1.5875 for k in range(-300, 300)]
    lengths += [876.3, 2.5, 7.5, -0.4, 12345.678]
    told = page.evaluate("""async (all) => { const {showLength} = await import('/static/js/lengths.js');
      return all.map((mm) => [showLength(mm, 'cm'), showLength(mm, 'in')]); }""", lengths)
    assert told == [[show_length(mm), show_length(mm, "in")] for mm in lengths]


def test_a_projector_is_measured_on_the_mat_both_ways(screen, site):
    one = true_scale(screen, site)
    page = one.page
    page.get_by_label("From a projector, on the mat").check()
    across, down = page.get_by_label("squares across measure"), page.get_by_label("squares down measure")
    many = [int(n) for n in page.evaluate("document.querySelector('screen-calibration').many")]
    across.fill(f"{many[0] * 20}")
    down.fill("far")
    page.get_by_role("button", name="Take these").click()
    expect(page.get_by_role("alert").filter(has_text="cannot be read")).to_be_visible()
    down.fill(f"{many[1] * 25},0")
    page.get_by_role("button", name="Take these").click()
    assert page.evaluate("[...'xy'].map((n) => JSON.parse(localStorage['toilewright.calibration']).projector[n])") == \
        pytest.approx([0.5, 0.4])
    page.get_by_label("Turned by").select_option("90")
    page.get_by_label("Mirrored").check()
    matrix = page.evaluate("""() => {
      const m = document.querySelector('piece-table .world').getCTM();
      return [m.a, m.b, m.c, m.d];
    }""")
    assert matrix == pytest.approx([0, -0.4, -0.5, 0], abs=1e-6)
    expect(page.locator("piece-table .caption")).to_be_hidden()
    assert one.axe() == []
    one.keep("projector-laptop")


def test_a_seam_is_walked_to_its_end(screen, site):
    page = true_scale(screen, site).page
    page.emulate_media(reduced_motion="reduce")
    told = page.evaluate("""async () => {
      await import('/static/js/seam-walk.js');
      const make = document.getElementById('true-scale').dataset.make;
      const walk = document.createElement('seam-walk');
      walk.setAttribute('make', make);
      walk.setAttribute('seam', 'armhole');
      document.getElementById('main').append(walk);
      while (!walk.said) await new Promise(requestAnimationFrame);
      walk.button.click();
      return [walk.said.textContent, walk.picture.difference];
    }""")
    assert told[0].endswith(f"At the end {abs(told[1]) / 10:.1f} cm of the second side are left over: "
                            "that is taken up in the sewing.")
    slider = page.get_by_role("slider", name="How far the seam has been walked")
    slider.focus()
    page.keyboard.press("Home")
    page.keyboard.press("ArrowRight")
    expect(page.locator("seam-walk .walk-said")).to_contain_text("0.1 cm along the first side, 0.1 cm along the second")
