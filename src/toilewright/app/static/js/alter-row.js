// One alteration in the list: its amount as a dial, where the amount comes from, what it did, what stops it.
import { showLength } from "./lengths.js";
import { w } from "./words.js";

const node = (name, more = {}, ...inside) => {
  const made = Object.assign(document.createElement(name), more);
  made.append(...inside.filter((one) => one !== null));
  return made;
};

const SLACK = 0.01; // of a step; nearer to one than this it is there already

/** A row; `owner` is told by its methods choose, typed, set, flip, switchOn, remove, promote, options, choices. */
export class AlterRow {
  constructor(owner, data) {
    this.owner = owner;
    this.node = node("article", { className: "sheet row" });
    this.node.tabIndex = -1;
    this.build(data);
    this.take(data);
  }

  /** Whether she has typed something that is not saved. */
  get typing() { return this.text !== null; }

  /** The row as it is asked for: {id, name, amount, options, on, standing}. */
  get asked() {
    const { id, name, options, standing } = this.data;
    const amount = this.text === null ? this.data.amount : this.text.trim() === "" ? null
      : { length: this.text.replace(/^\s*[-−–]/, ""), unit: this.owner.unit, sign: /^\s*[-−–]/.test(this.text) ? -this.sign : this.sign };
    return { id, name, amount, options, on: this.data.on, standing };
  }

  build({ id, name }) {
    const ways = this.owner.ways[name];
    this.node.id = `row-${id}`;
    this.said = node("span", { className: "where quiet" });
    const open = node("button", { type: "button", textContent: name });
    open.addEventListener("click", () => this.owner.choose(this));
    this.tag = node("span", { className: "tag" });
    this.on = node("input", { type: "checkbox" });
    this.on.addEventListener("change", () => this.owner.switchOn(this, this.on.checked));
    const header = node("header", {}, node("h3", {}, open, this.said), this.tag,
      node("label", { className: "tick" }, this.on, node("span", { className: "unseen", textContent: `${name}: ` }), w("alter.make_it")));
    this.plus = this.way(ways.plus, 1);
    this.minus = ways.minus ? this.way(ways.minus, -1) : null;
    const group = node("div", { className: "ways" }, this.plus, this.minus);
    group.setAttribute("role", "group");
    group.setAttribute("aria-label", w("alter.way", { name }));
    this.field = node("input", { type: "text", inputMode: "text", autocomplete: "off" });
    this.field.setAttribute("aria-label", w("alter.amount", { name }));
    this.field.addEventListener("focus", () => this.owner.choose(this, false));
    this.field.addEventListener("input", () => { this.text = this.field.value; this.owner.typed(this); });
    this.field.addEventListener("change", () => this.owner.entered(this));
    this.field.addEventListener("keydown", (event) => {
      const by = { ArrowUp: 1, ArrowDown: -1 }[event.key];
      if (by) { event.preventDefault(); this.step(by, event.shiftKey); }
      if (event.key === "Escape") { this.text = null; this.show(); this.owner.typed(this); }
    });
    this.auto = node("button", { type: "button", textContent: w("alter.measures") });
    this.auto.addEventListener("click", () => this.owner.set(this, null));
    this.dial = node("div", { className: "dial" }, node("div", { className: "amount" }, this.stepper("−", "alter.less", -1, name),
      this.field, this.stepper("+", "alter.more", 1, name)), group, this.auto);
    this.says = node("div", { className: "says" });
    this.says.setAttribute("aria-live", "polite");
    this.more = node("details", { className: "more" },
      node("summary", {}, w("alter.more_of"), node("span", { className: "unseen", textContent: `: ${name}` })));
    this.more.addEventListener("toggle", () => { if (this.more.open) this.fill(); });
    this.node.append(header, this.dial, this.says, this.more);
  }

  way(words, sign) {
    const button = node("button", { type: "button", textContent: words });
    button.addEventListener("click", () => this.owner.flip(this, sign));
    return button;
  }

  stepper(sign, key, by, name) {
    const button = node("button", { type: "button", className: "step", textContent: sign });
    button.setAttribute("aria-label", w(key, { name }));
    button.addEventListener("click", (event) => this.step(by, event.shiftKey));
    return button;
  }

  /** To the next whole step, larger (1) or smaller (-1) in the way that it goes. */
  step(by, fine) {
    // The amount she set counts at once; the answer about it may still be on its way.
    const now = Math.abs((this.text === null ? this.data.amount : null) ?? this.settled ?? 0);
    const size = fine ? this.owner.fine : this.owner.step;
    const next = (by > 0 ? Math.floor(now / size + SLACK) + 1 : Math.ceil(now / size - SLACK) - 1) * size;
    this.owner.set(this, this.sign * Math.max(0, next));
  }

  /** New data from the store. */
  take(data) {
    this.data = data;
    this.sign = (data.amount ?? this.settled ?? 1) < 0 ? -1 : 1;
    this.text = null;
    this.show();
    if (this.more.open) this.fill();
  }

  /** What became of it. */
  result(found) {
    this.found = found;
    if (found?.amount !== undefined) {
      this.settled = found.amount;
      if (this.data.amount === null && found.amount !== 0) this.sign = found.amount < 0 ? -1 : 1;
    }
    this.show();
  }

  show() {
    const { data, found } = this;
    this.node.classList.toggle("off", !data.on);
    this.tag.textContent = w(data.standing ? "alter.always" : data.always ? "alter.always_changed" : "alter.this_make");
    this.said.textContent = data.said ? ` ${data.said}` : "";
    this.on.checked = data.on;
    const amount = data.amount ?? found?.amount;
    if (this.text === null) this.field.value = amount === undefined || amount === null ? "" : showLength(Math.abs(amount), this.owner.unit);
    this.plus.setAttribute("aria-pressed", String(this.sign > 0));
    this.minus?.setAttribute("aria-pressed", String(this.sign < 0));
    this.auto.setAttribute("aria-pressed", String(data.amount === null && this.text === null));
    const told = this.told();
    const text = told.map((one) => `${one.className} ${one.textContent}`).join("\n");
    if (text === this.telling) return; // a live region speaks only of what is new
    this.telling = text;
    this.says.replaceChildren(...told);
  }

  told() {
    const { data, found } = this;
    const line = (text, className = "small quiet") => node("p", { className, textContent: text });
    if (!data.on) return [line(w("alter.off"))];
    if (!found) return [];
    if (found.fate === "refused") {
      const stop = node("p", { className: "finding stop" }, node("span", { textContent: found.why }));
      return [stop];
    }
    if (found.fate === "no place") return [line(w("alter.no_place"))];
    const parts = [];
    if (found.fate === "too small") parts.push(line(w("alter.too_small", { shown: found.shown })));
    if (data.amount === null && this.text === null && found.reason) {
      const from = node("details", { open: this.opened === true }, node("summary", {}, node("span", { className: "number",
        textContent: `${found.shown}${found.spread ? ` ± ${found.spread}` : ""} · ${found.origin}` })),
      node("p", { className: "small", textContent: found.reason[0].toUpperCase() + found.reason.slice(1) }));
      from.addEventListener("toggle", () => { this.opened = from.open; });
      parts.push(from);
    }
    for (const { severity, text } of found.findings ?? []) {
      parts.push(severity === "note" ? line(text) : node("p", { className: `finding ${severity}` }, node("span", { textContent: text })));
    }
    if (found.changed?.length) parts.push(line(w("alter.changes", { pieces: found.changed.join(", ") })));
    return parts;
  }

  /** A new one that is refused as it stands opens what there is to choose. */
  ask() { if (this.found?.fate === "refused") this.more.open = true; }

  async fill() {
    const { data, owner } = this;
    const inside = [];
    for (const { key, label, usual, words, field } of await owner.choices(data.name)) {
      const now = data.options[key] ?? "";
      const control = field ? node("input", { value: now, autocomplete: "off", placeholder: owner.unit })
        : node("select", {}, node("option", { value: "", textContent: usual }),
          ...words.map(([value, shown]) => node("option", { value, textContent: shown, selected: value === now })));
      control.addEventListener("change", () => {
        const said = control.value.trim();
        const options = { ...this.data.options };
        if (said) options[key] = field && /\d$/.test(said) ? `${said} ${owner.unit}` : said; else delete options[key];
        owner.options(this, options, field ? said || usual : control.selectedOptions[0].textContent);
      });
      inside.push(node("label", { className: "field" }, node("span", { textContent: label }), control));
    }
    const button = (key, act) => {
      const made = node("button", { type: "button", textContent: w(key) });
      made.addEventListener("click", act);
      return made;
    };
    const actions = node("p", { className: "actions" });
    if (data.standing) actions.append(button("alter.leave_out", () => owner.switchOn(this, false)));
    else actions.append(button(data.always ? "alter.back_to_always" : "alter.remove", () => owner.remove(this)));
    inside.push(actions);
    if (!data.standing && !data.always) {
      actions.append(button("alter.promote", () => owner.promote(this)));
      inside.push(node("p", { className: "small quiet", textContent: owner.promoteNote }));
    }
    const here = this.more.contains(document.activeElement);
    while (this.more.children.length > 1) this.more.lastChild.remove();
    this.more.append(...inside);
    if (here) this.more.querySelector("summary").focus();
  }
}
