// One piece as SVG nodes that stay, while their lines change.
import { showChange, showLength } from "./lengths.js";
import { w } from "./words.js";

const SVG = "http://www.w3.org/2000/svg";

/** A node with attributes. */
/** A piece's name in lines: its side stands under it. */
export function linesOf(name) {
  const side = name.match(/^(.+) (left|right)$/);
  return side ? [side[1], side[2]] : [name];
}

export function make(name, attributes = {}, parent = null) {
  const node = document.createElementNS(SVG, name);
  set(node, attributes);
  parent?.append(node);
  return node;
}

/** Change only what is not so already. */
export function set(node, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    const text = String(value);
    if (node.getAttribute(name) !== text) node.setAttribute(name, text);
  }
}

// From the ground up: what lies later lies on top.
const LINES = ["old-cut", "old-seam", "old-darts", "old-notches", "cut", "seam", "fold", "grain", "inner", "darts", "mouths",
  "notches"];

/** Name and measures of a part in words: [words, {name, now, was, change}]. */
export function told(part, unit) {
  const was = part.bought === null || part.bought === undefined ? "" : showLength(part.bought, unit);
  const change = was ? showChange(part.length - part.bought, unit) : "";
  const now = part.length === undefined ? "" : showLength(part.length, unit);
  const words = [part.says];
  if (now) words.push(now);
  if (change) words.push(w("pieces.was", { was, change }));
  else if (was) words.push(w("pieces.same"));
  if (part.more) words.push(part.more);
  return { words: words.join(" · "), name: part.says, now, was, change };
}

/** Everything of a piece that can be pointed at. */
export function partsOf(piece, unit) {
  const edges = piece.edges.map((e) => ({
    key: `edge:${e.name}`, kind: "edge", name: e.name, d: e.d, says: e.name, length: e.length, bought: e.bought, edge: e,
    more: e.kind === "fold" ? w("pieces.on_fold") : w("pieces.allowance", { by: showLength(e.allowance, unit) }),
  }));
  const darts = piece.darts.map((d) => ({
    key: `dart:${d.name}`, kind: "dart", name: d.name, d: d.legs, says: w("pieces.dart_width", { name: d.name }), length: d.width, bought: d.bought?.width,
    more: w("pieces.leg", { by: showLength(d.leg, unit) }),
  }));
  const notches = piece.notches.map((n) => ({
    key: `notch:${n.edge}:${n.name}`, kind: "notch", name: n.name, d: n.d, says: w("pieces.notch", { name: n.name }), at: n.at,
    more: w("pieces.place", { by: showLength(n.place, unit), edge: n.edge }),
  }));
  const lines = piece.lines.map((l) => ({
    key: `line:${l.name}`, kind: "line", name: l.name, d: l.d, says: l.name, length: l.length,
  }));
  const points = piece.points.map((p) => ({
    key: `point:${p.kind}:${p.name}`, kind: "point", name: p.name, at: p.at, d: `M${p.at[0]} ${p.at[1]}h.01`,
    says: p.kind === "dart" ? w("pieces.dart_point", { name: p.name }) : p.name,
    more: [p.origin, showChange(p.moved, unit) && w("pieces.moved", { by: showLength(p.moved, unit) })].filter(Boolean).join(", "),
  }));
  return [...edges, ...lines, ...darts, ...notches, ...points];
}

/** A piece on the table. */
export class PieceDrawing {
  constructor(parent, name) {
    this.name = name;
    this.node = make("g", { class: "piece", "data-piece": name }, parent);
    this.body = make("path", { class: "body", role: "button", tabindex: 0, "data-part": "piece" }, this.node);
    this.lines = Object.fromEntries(LINES.map((key) => [key, make("path", { class: `line ${key}` }, this.node)]));
    this.dots = make("path", { class: "dots" }, this.node);
    this.hits = make("g", { class: "hits" }, this.node);
    this.nodes = new Map();
    this.label = make("g", { class: "label", "aria-hidden": "true" }, this.node);
    this.title = make("text", { class: "title", y: 0 }, this.label);
    this.cut = make("text", { class: "cut-words" }, this.label);
  }

  /** Draw what the piece is now. */
  show(piece, unit) {
    set(this.node, { transform: `translate(${piece.at[0]} ${piece.at[1]})` });
    if (piece === this.piece && unit === this.unit) return;
    this.piece = piece;
    this.unit = unit;
    const old = piece.bought;
    this.node.classList.toggle("changed", Boolean(old));
    const d = {
      cut: piece.cut, seam: piece.seam, fold: piece.fold, grain: piece.grain, inner: piece.lines.map((l) => l.d).join(""),
      darts: piece.darts.map((x) => x.legs).join(""), mouths: piece.darts.map((x) => x.mouth).join(""),
      notches: piece.notches.map((n) => n.d).join(""), "old-cut": old?.cut ?? "", "old-seam": old?.seam ?? "",
      "old-darts": old?.darts ?? "", "old-notches": old?.notches ?? "",
    };
    for (const key of LINES) set(this.lines[key], { d: d[key] });
    set(this.body, { d: `${piece.seam}Z`, "aria-label": this.says(piece) });
    set(this.dots, { d: piece.points.map((p) => `M${p.at[0]} ${p.at[1]}h.01`).join("") });
    this.showLabel(piece);
    this.parts = partsOf(piece, unit);
    this.showHits();
  }

  says(piece) {
    return w(piece.bought ? "pieces.piece_altered" : "pieces.piece", { name: piece.name, cut: piece.label.cut });
  }

  showLabel({ name, label }) {
    set(this.label, { transform: `translate(${label.at[0]} ${label.at[1]})${label.turned ? " rotate(-90)" : ""}` });
    set(this.title, { "font-size": label.size });
    set(this.cut, { "font-size": label.size * 0.6, y: label.size * linesOf(name).length });
    if (this.title.dataset.name !== name) this.showName(name);
    const words = label.cloth === "self" ? label.cut : `${label.cut}, ${label.cloth}`;
    if (this.cut.textContent !== words) this.cut.textContent = words;
  }

  /** The side stands under the name, so that it can be read on a narrow piece too. */
  showName(name) {
    this.title.dataset.name = name;
    this.title.replaceChildren();
    for (const [at, line] of linesOf(name).entries()) {
      make("tspan", { x: 0, dy: at ? "1em" : 0 }, this.title).textContent = line;
    }
  }

  showHits() {
    const kept = new Set();
    for (const part of this.parts) {
      kept.add(part.key);
      let node = this.nodes.get(part.key);
      if (!node) {
        node = make("path", { class: `hit ${part.kind}`, "data-part": part.key, role: "button", tabindex: -1 }, this.hits);
        this.nodes.set(part.key, node);
      }
      set(node, { d: part.d, "aria-label": told(part, this.unit).words });
    }
    for (const [key, node] of this.nodes) if (!kept.has(key)) { node.remove(); this.nodes.delete(key); }
  }

  /** Open: its parts can be reached by Tab. */
  open(yes) {
    this.node.classList.toggle("open", yes);
    set(this.body, { "aria-pressed": yes });
    for (const node of this.nodes.values()) set(node, { tabindex: yes ? 0 : -1 });
  }

  /** Mark one part (its key), or none. */
  mark(key) {
    for (const [name, node] of this.nodes) node.classList.toggle("chosen", name === key);
  }

  part(key) { return this.parts.find((p) => p.key === key); }
}
