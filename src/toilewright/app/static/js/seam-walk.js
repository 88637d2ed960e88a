// <seam-walk make="..." seam="...">: one piece lies still, the other rolls along it, edge on edge.
//
//   walk.picture = {...}    what app/rolling.py sends; or the attributes make and seam, then it is fetched
import { alarm, get } from "./api.js";
import { showLength } from "./lengths.js";
import { make, set } from "./piece-drawing.js";
import { w } from "./words.js";

const SECONDS = 7; // for a whole seam
const AROUND = 170; // mm of table seen round the place where the edges touch

/** The place at `s` mm of a side: [x, y, direction in radians]. */
export function placeAt(line, s) {
  let high = line.findIndex((row) => row[2] >= s);
  if (high < 1) high = high === 0 ? 1 : line.length - 1;
  const [a, b] = [line[high - 1], line[high]];
  const share = b[2] > a[2] ? Math.min(Math.max((s - a[2]) / (b[2] - a[2]), 0), 1) : 0;
  return [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share, Math.atan2(b[1] - a[1], b[0] - a[0])];
}

/** How far side b has come when side a has come to `s`: gathers run ahead. */
export const partner = (picture, s) => Math.min(s * (picture.ratio ?? 1), picture.b.length);

class SeamWalk extends HTMLElement {
  async connectedCallback() {
    if (this.built) return;
    this.built = true;
    this.unit = this.getAttribute("unit") || document.documentElement.dataset.unit || "cm";
    if (this._picture) { this.build(); return; }
    try {
      const seam = encodeURIComponent(this.getAttribute("seam"));
      this._picture = await get(`/make/${this.getAttribute("make")}/seam?seam=${seam}`);
      this.build();
    } catch (problem) { alarm(problem); }
  }

  set picture(picture) {
    this._picture = picture;
    if (this.built) this.build();
  }

  get picture() { return this._picture; }

  build() {
    const { a, b } = this._picture;
    this.svg = make("svg", { class: "rolling", role: "img", "aria-label": w("rolling.picture", { a: a.words, b: b.words }) });
    this.still = this.side("still", a);
    this.rolling = this.side("rolls", b);
    this.touch = make("path", { class: "touch" }, this.svg);
    this.slider = Object.assign(document.createElement("input"), { type: "range", min: 0, max: Math.ceil(this.end), step: 1, value: 0 });
    this.slider.setAttribute("aria-label", w("rolling.slider"));
    this.slider.addEventListener("input", () => { this.stop(); this.go(Number(this.slider.value)); });
    this.button = Object.assign(document.createElement("button"), { type: "button" });
    this.button.addEventListener("click", () => (this.frame ? this.stop() : this.play()));
    const row = Object.assign(document.createElement("div"), { className: "walk-tools" });
    row.append(this.button, this.slider);
    this.said = Object.assign(document.createElement("p"), { className: "number walk-said" });
    this.said.setAttribute("role", "status");
    this.replaceChildren(this.svg, row, this.said);
    this.stop();
    this.go(0);
  }

  side(name, side) {
    const group = make("g", { class: name }, this.svg);
    const outline = make("path", { class: "outline" }, group);
    const line = make("g", { class: "side" }, group);
    make("path", { class: "edge", d: `M${side.line.map(([x, y]) => `${x} ${y}`).join("L")}` }, line);
    const key = name === "still" ? "a" : "b";
    for (const notch of this._picture.notches) {
      const [x, y, way] = placeAt(side.line, notch[key]);
      const [nx, ny] = [-Math.sin(way) * 9, Math.cos(way) * 9];
      make("path", { class: notch.meets ? "mark" : "mark off", d: `M${x - nx} ${y - ny}L${x + nx} ${y + ny}` }, line);
    }
    return { group, outline, line, side };
  }

  /** As far as the longer side goes. */
  get end() {
    const { a, b, ratio } = this._picture;
    return Math.max(a.length, b.length / (ratio ?? 1));
  }

  /** The edges touch `s` mm from the start of the still one. */
  go(s) {
    const picture = this._picture;
    this.at = s;
    const sa = Math.min(s, picture.a.length);
    const sb = partner(picture, s);
    const [ax, ay, aWay] = placeAt(picture.a.line, sa);
    const [bx, by, bWay] = placeAt(picture.b.line, sb);
    const turn = ((aWay - bWay) * 180) / Math.PI;
    // Past its end the shorter side is thought to run on straight.
    const over = s - sa;
    const [tx, ty] = [ax + Math.cos(aWay) * over, ay + Math.sin(aWay) * over];
    set(this.rolling.group, { transform: `translate(${tx} ${ty}) rotate(${turn}) translate(${-bx} ${-by})` });
    this.lay(this.still, sa);
    this.lay(this.rolling, sb);
    set(this.touch, { d: `M${tx} ${ty}h.01` });
    set(this.svg, { viewBox: `${tx - AROUND} ${ty - AROUND * 0.62} ${2 * AROUND} ${AROUND * 1.24}` });
    this.slider.value = String(Math.round(s));
    this.slider.setAttribute("aria-valuetext", showLength(s, this.unit));
    this.tell(s, sa, sb);
  }

  /** The piece of the stretch that is walked just now. */
  lay({ outline, side }, s) {
    const one = side.stretches.find((x) => s <= x.to) ?? side.stretches.at(-1);
    set(outline, { d: `${this._picture.pieces[one.piece]}Z`, transform: `matrix(${one.matrix.join(" ")})` });
  }

  tell(s, sa, sb) {
    const picture = this._picture;
    const words = [w("rolling.at", { a: showLength(sa, this.unit), b: showLength(sb, this.unit) })];
    const near = picture.notches.find((n) => Math.abs(n.a - s) < 2.5);
    if (near) words.push(w(near.meets ? "rolling.meet" : "rolling.miss", { name: near.name }));
    if (s >= this.end - 0.5) words.push(this.ending());
    this.svg.classList.toggle("at-end", s >= this.end - 0.5);
    const text = words.join(" · ");
    if (this.said.textContent !== text) this.said.textContent = text;
  }

  ending() {
    const { difference, sews } = this._picture;
    const by = showLength(Math.abs(difference), this.unit);
    if (Math.abs(difference) < 1) return w("rolling.even");
    const side = w(difference > 0 ? "rolling.b_longer" : "rolling.a_longer", { by });
    return `${side} ${w(sews ? "rolling.eased" : "rolling.does_not_sew")}`;
  }

  play() {
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) { this.go(this.end); return; }
    const from = this.at >= this.end - 0.5 ? 0 : this.at;
    const started = performance.now();
    const tick = (now) => {
      const s = from + ((now - started) / 1000 / SECONDS) * this.end;
      this.go(Math.min(Math.max(s, 0), this.end));
      if (s < this.end && this.isConnected) this.frame = requestAnimationFrame(tick);
      else this.stop();
    };
    this.frame = requestAnimationFrame(tick);
    this.name();
  }

  stop() {
    cancelAnimationFrame(this.frame);
    this.frame = 0;
    this.name();
  }

  name() { this.button.textContent = w(this.frame ? "rolling.stop" : "rolling.play"); }
}

customElements.define("seam-walk", SeamWalk);
