// <screen-calibration which="screen|projector">: how many px are a millimetre here. Kept on this device.
import { keep, kept } from "./calibration-kept.js";
import { make, set } from "./piece-drawing.js";
import { MM_PER_INCH, showLength } from "./lengths.js";
import { w } from "./words.js";

// A bank card has the size ID-1 of ISO/IEC 7810.
const CARD = { wide: 85.6, high: 53.98, round: 3.18 };
const BY_EYE = 0.3; // mm by which an edge is matched on a screen
const BY_TAPE = 1; // mm by which a stretch on the mat is measured
const FINEST = 0.005; // px per mm
const SQUARE = { cm: 100, in: 4 * MM_PER_INCH };

/** How sure a scale is, in words. */
export function sureness(which, unit) {
  const { over } = kept(which);
  if (!over) return w("true_scale.never");
  const long = unit === "in" ? 36 * MM_PER_INCH : 1000;
  const off = ((which === "screen" ? BY_EYE : BY_TAPE) / over) * long;
  return w("true_scale.sure", { over: showLength(over, unit), long: showLength(long, unit), by: showLength(Math.max(off, 1), unit) });
}

/** A length somebody wrote, in mm; NaN when it is none. */
function read(text, unit) {
  const found = text.trim().replace(",", ".").match(/^(\d+(?:\.\d*)?|\.\d+)\s*(cm|mm|in|")?$/);
  const size = { cm: 10, mm: 1, in: MM_PER_INCH, '"': MM_PER_INCH }[found?.[2] ?? unit];
  return found && Number(found[1]) > 0 ? Number(found[1]) * size : NaN;
}

const element = (name, values = {}, parent = null) => {
  const node = Object.assign(document.createElement(name), values);
  parent?.append(node);
  return node;
};

function labelled(words, field, parent) {
  const label = element("label", { className: "field" }, parent);
  element("span", { textContent: words }, label);
  label.append(field);
  return field;
}

class ScreenCalibration extends HTMLElement {
  static observedAttributes = ["which"];

  connectedCallback() {
    this.unit = document.documentElement.dataset.unit || "cm";
    this.build();
  }

  attributeChangedCallback() { if (this.isConnected) this.build(); }

  get which() { return this.getAttribute("which") === "projector" ? "projector" : "screen"; }

  build() {
    this.replaceChildren();
    if (this.which === "screen") this.buildScreen();
    else this.buildProjector();
  }

  // -- a screen: a thing of known size laid on it ---------------------------------------------------------------

  buildScreen() {
    const row = element("div", { className: "actions" }, this);
    this.thing = labelled(w("true_scale.by"), element("select"), row);
    for (const [value, textContent] of [["card", w("true_scale.card")], ["ruler", w("true_scale.ruler")]]) {
      element("option", { value, textContent }, this.thing);
    }
    this.thing.addEventListener("change", () => this.showScreen());
    this.how = element("p", {}, this);
    const tools = element("div", { className: "scale-tools" }, this);
    const nudge = (sign, words, by) => {
      const node = element("button", { type: "button", textContent: sign }, tools);
      node.setAttribute("aria-label", words);
      node.addEventListener("click", () => this.take(Number(this.slider.value) + by));
      return node;
    };
    nudge("−", w("true_scale.smaller"), -FINEST);
    this.slider = element("input", { type: "range", min: 2, max: 14, step: FINEST }, tools);
    this.slider.setAttribute("aria-label", w("true_scale.slider"));
    this.slider.addEventListener("input", () => this.take(Number(this.slider.value)));
    nudge("+", w("true_scale.larger"), FINEST);
    this.svg = make("svg", { class: "known-thing", "aria-hidden": "true" });
    this.append(this.svg);
    this.showScreen();
  }

  get long() { return this.thing.value === "card" ? CARD.wide : this.reach; }

  take(k) {
    keep("screen", { x: k, y: k, over: Math.round(this.long * 10) / 10 });
    this.showScreen();
  }

  showScreen() {
    const { x: k } = kept("screen");
    this.slider.value = String(k);
    this.slider.setAttribute("aria-valuetext", showLength(this.svg.clientWidth / k, this.unit));
    this.how.textContent = w(this.thing.value === "card" ? "true_scale.fit_card" : "true_scale.fit_ruler");
    this.svg.replaceChildren();
    if (this.thing.value === "card") this.drawCard(k);
    else this.drawRuler(k);
  }

  /** Upright where the screen is too narrow for it. */
  drawCard(k) {
    const upright = CARD.wide * k + 4 > this.clientWidth;
    const [wide, high] = upright ? [CARD.high, CARD.wide] : [CARD.wide, CARD.high];
    set(this.svg, { height: high * k + 4 });
    make("rect", { x: 2, y: 2, width: wide * k, height: high * k, rx: CARD.round * k }, this.svg);
  }

  drawRuler(k) {
    const each = this.unit === "in" ? MM_PER_INCH : 10;
    const parts = this.unit === "in" ? 8 : 10;
    const many = Math.max(Math.floor((this.clientWidth - 30) / k / each), 1);
    this.reach = many * each;
    set(this.svg, { height: 70 });
    const d = [];
    for (let i = 0; i <= many * parts; i += 1) {
      const at = 10 + (i * each * k) / parts;
      d.push(`M${at} 0V${i % parts === 0 ? 40 : i % (parts / 2) === 0 ? 28 : 18}`);
      if (i % parts === 0) make("text", { x: at, y: 60 }, this.svg).textContent = String(i / parts);
    }
    make("path", { d: d.join("") }, this.svg);
  }

  // -- a projector: squares measured where they fall --------------------------------------------------------------

  buildProjector() {
    element("p", { textContent: w("true_scale.grid_how") }, this);
    this.svg = make("svg", { class: "grid-thing", role: "img", "aria-label": w("true_scale.grid", { side: showLength(SQUARE[this.unit], this.unit) }) });
    this.append(this.svg);
    const row = element("div", { className: "actions" }, this);
    this.fields = [0, 1].map(() => labelled("", element("input", { type: "text", inputMode: "decimal", size: 8 }), row));
    const button = element("button", { type: "button", textContent: w("true_scale.take") }, row);
    button.addEventListener("click", () => this.takeGrid());
    for (const field of this.fields) field.addEventListener("keydown", (event) => { if (event.key === "Enter") this.takeGrid(); });
    this.problem = element("p", { className: "warn" }, this);
    this.problem.setAttribute("role", "alert");
    this.buildLooks();
    this.showGrid();
  }

  showGrid() {
    const { x, y } = kept("projector");
    const side = SQUARE[this.unit];
    const [w0, h0] = [this.clientWidth - 4, Math.max(innerHeight * 0.6, 240)];
    this.many = [Math.max(Math.floor(w0 / (side * x)), 1), Math.max(Math.floor(h0 / (side * y)), 1)];
    const [wide, high] = [this.many[0] * side * x, this.many[1] * side * y];
    set(this.svg, { height: high + 4 });
    const d = [];
    for (let i = 0; i <= this.many[0]; i += 1) d.push(`M${2 + i * side * x} 2v${high}`);
    for (let i = 0; i <= this.many[1]; i += 1) d.push(`M2 ${2 + i * side * y}h${wide}`);
    this.svg.replaceChildren();
    make("path", { d: d.join("") }, this.svg);
    const [across, down] = this.fields.map((field) => field.previousSibling);
    across.textContent = w("true_scale.across", { n: this.many[0] });
    down.textContent = w("true_scale.down", { n: this.many[1] });
  }

  takeGrid() {
    const found = this.fields.map((field) => read(field.value, this.unit));
    const bad = found.findIndex(Number.isNaN);
    if (bad >= 0) {
      const text = this.fields[bad].value;
      this.problem.textContent = text.trim() ? w("true_scale.odd", { text }) : w("true_scale.odd_half");
      this.fields[bad].focus();
      return;
    }
    this.problem.textContent = "";
    const side = SQUARE[this.unit];
    const { x, y } = kept("projector");
    keep("projector", { x: (x * this.many[0] * side) / found[0], y: (y * this.many[1] * side) / found[1], over: Math.min(...found) });
    for (const field of this.fields) field.value = "";
    this.showGrid();
  }

  buildLooks() {
    const now = kept("projector");
    const row = element("div", { className: "actions" }, this);
    const label = element("label", { className: "tick" }, row);
    const mirrored = element("input", { type: "checkbox", checked: now.mirrored }, label);
    label.append(w("true_scale.mirrored"));
    mirrored.addEventListener("change", () => keep("projector", { mirrored: mirrored.checked }));
    const choose = (name, words, options) => {
      const field = labelled(words, element("select"), row);
      for (const [value, words] of options) element("option", { value, textContent: words, selected: String(now[name]) === String(value) }, field);
      field.addEventListener("change", () => keep("projector", { [name]: Number.isNaN(Number(field.value)) ? field.value : Number(field.value) }));
    };
    choose("turned", w("true_scale.turned"), [0, 90, 180, 270].map((n) => [n, w("true_scale.degrees", { n })]));
    choose("weight", w("true_scale.weight"), [1, 2, 3, 5, 8].map((n) => [n, w("true_scale.weight_px", { n })]));
    choose("ground", w("true_scale.ground"), ["dark", "light"].map((one) => [one, w(`true_scale.ground_${one}`)]));
    choose("colour", w("true_scale.colour"), ["white", "yellow", "green", "red"].map((one) => [one, w(`true_scale.colour_${one}`)]));
  }
}

customElements.define("screen-calibration", ScreenCalibration);
