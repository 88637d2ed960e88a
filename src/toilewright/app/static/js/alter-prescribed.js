// The short list: what her body asks of this pattern. One touch takes one in, or all; each can be left aside.
import { alarm, change, get } from "./api.js";
import { showLength } from "./lengths.js";
import { w } from "./words.js";

const node = (name, more = {}, ...inside) => {
  const made = Object.assign(document.createElement(name), more);
  made.append(...inside.filter((one) => one !== null));
  return made;
};

const WORTH = 3; // mm; nearer than that two amounts are one
const WHERE = ["piece", "line", "side", "where"];
const place = (row, word) => (row.options[word] === "both" ? "" : row.options[word] ?? "");

/** Do both change the same, at the same place? */
const same = (a, b) => a.name === b.name && WHERE.every((word) => place(a, word) === place(b, word));

export class Prescribed {
  /** `owner` has make, rows (by id) and add(list). */
  constructor(owner, node_) {
    this.owner = owner;
    this.node = node_;
    this.rows = [];
    this.open = new Set();
    document.addEventListener("thing", ({ detail }) => { if (detail.id === owner.body.id) this.look(); });
    this.look();
  }

  async look() {
    try {
      const found = await get(`/make/${this.owner.make.id}/alter/prescribed`);
      this.rows = found.rows;
      this.next = found.next;
      this.show();
    } catch (problem) {
      this.node.replaceChildren(node("p", { className: "finding look" }, node("span", { textContent: problem.message })));
    }
  }

  get aside() { return this.owner.make.document.aside; }

  /** The row of her list that does it already. */
  listed(one) {
    return [...this.owner.rows.values()].find((row) => row.data.on && same(row.data, one));
  }

  show() {
    const here = document.activeElement?.dataset.what;
    const aside = this.rows.filter((one) => one.worth && this.aside.includes(one.key));
    const doing = this.rows.filter((one) => one.worth && !aside.includes(one));
    const waits = this.rows.filter((one) => !one.worth && one.needs.length);
    const fits = this.rows.filter((one) => !one.worth && !one.needs.length);
    const fresh = doing.filter((one) => !this.listed(one));
    const parts = [];
    if (!doing.length) parts.push(node("p", { textContent: w("prescribed.nothing") }));
    else if (!fresh.length) parts.push(node("p", { className: "well", textContent: `✓ ${w("prescribed.done")}` }));
    parts.push(node("ol", { className: "plain-list" }, ...doing.map((one) => this.row(one))));
    if (fresh.length > 1) {
      parts.push(node("p", {}, this.button(w("prescribed.take_all", { n: fresh.length }), "all", () => this.take(fresh), "main")));
    }
    for (const [key, list, inside] of [["prescribed.waits", waits, (one) => this.waiting(one)],
      ["prescribed.fits", fits, (one) => this.fitting(one)], ["prescribed.aside", aside, (one) => this.left(one)]]) {
      if (list.length) parts.push(this.folded(key, list, inside));
    }
    this.node.replaceChildren(...parts);
    if (here) (this.node.querySelector(`[data-what="${CSS.escape(here)}"]`) ?? this.node.querySelector("button, summary"))?.focus();
  }

  button(words, what, act, className = "") {
    const one = node("button", { type: "button", textContent: words, className });
    one.dataset.what = what;
    one.addEventListener("click", () => act().catch(alarm));
    return one;
  }

  head(one) {
    return node("p", { className: "what" }, node("strong", { textContent: one.name }), one.said ? ` (${one.said})` : "",
      " ", node("span", { className: "number", textContent: one.shown }));
  }

  row(one) {
    const listed = this.listed(one);
    const own = (words) => node("span", {}, words, node("span", { className: "unseen", textContent: ` – ${one.name} ${one.said}` }));
    const actions = node("p", { className: "actions" });
    const act = (key, what, does) => {
      const made = this.button("", `${what} ${one.key}`, does);
      made.append(own(w(key)));
      actions.append(made);
    };
    if (!listed) {
      act("prescribed.take", "take", () => this.take([one]));
      act("prescribed.leave", "leave", () => this.put(one, true));
    } else {
      const now = listed.data.amount ?? listed.settled ?? one.amount;
      const off = Math.abs(now - one.amount) >= WORTH;
      const words = one.because === "standing" ? "prescribed.standing" : off ? "prescribed.other" : "prescribed.taken";
      actions.append(node("span", { className: "well", textContent: `✓ ${w(words, { shown: showLength(Math.abs(now), this.owner.unit) })}` }));
      if (off && one.because !== "standing") act("prescribed.take_this", "take", () => this.owner.set(listed, one.amount));
    }
    return node("li", { className: listed ? "taken" : "" }, this.head(one), node("p", { className: "small why", textContent: one.reason }), actions);
  }

  folded(key, list, inside) {
    const box = node("details", { open: this.open.has(key) }, node("summary", { textContent: w(key, { n: list.length }) }),
      node("ul", { className: "plain-list" }, ...list.map((one) => node("li", {}, ...inside(one)))));
    box.addEventListener("toggle", () => (box.open ? this.open.add(key) : this.open.delete(key)));
    return box;
  }

  waiting(one) {
    const link = (name) => node("a", { href: `/make/${this.owner.make.id}/measure#${name.replaceAll(" ", "-")}`, textContent: w("prescribed.measure", { name }) });
    return [node("p", { className: "what" }, node("strong", { textContent: one.name }), one.said ? ` (${one.said})` : ""),
      node("p", { className: "small", textContent: one.reason }),
      node("p", {}, ...one.needs.flatMap((name) => [link(name), name === this.next ? ` (${w("prescribed.first")})` : "", " "]))];
  }

  fitting(one) {
    return [this.head(one), node("p", { className: "small", textContent: `${one.reason} ${w("prescribed.too_small", { least: one.least })}` })];
  }

  left(one) {
    const again = this.button(w("prescribed.again"), `again ${one.key}`, () => this.put(one, false));
    again.append(node("span", { className: "unseen", textContent: ` – ${one.name}` }));
    return [this.head(one), node("p", {}, again)];
  }

  async take(list) {
    await this.owner.add(list.map(({ name, amount, options }) => ({ name, amount, options })));
    this.show();
  }

  async put(one, aside) {
    const { id, revision } = this.owner.make;
    const keys = this.aside.filter((key) => key !== one.key);
    await change(id, revision, [[["aside"], aside ? [...keys, one.key] : keys]],
      w(aside ? "prescribed.said_aside" : "prescribed.said_again", { name: one.name }));
    this.show();
  }
}
