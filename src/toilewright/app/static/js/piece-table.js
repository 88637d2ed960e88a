// <piece-table>: the pieces on the table, to look at, to measure and to take hold of.
//
//   table.picture = {...}          what app/pictures.py sends; later ones may leave out what has not changed
//   table.update(picture)          the same, by its busier name
//   table.versions                 {piece: version}, to be sent along so that only what changed comes back
//   table.selection = {piece, part}   part: "edge:waist", "dart:bust dart", "point:landmark:bust point", or nothing
//   table.handles = [{id, piece, at, along, label, amount, step, min, max}]   places as in the picture (y down)
//   table.before = false           the bought lines under the altered ones: shown or not
//   table.scale                    px per mm; setting it zooms round the middle
//   table.showPiece(name)          bring one piece into view
//   table.trueScale(name)          true scale, as calibrated on this device, with that piece (or all) in the middle
// Events: "amount" {id, amount, done}, "choose" {piece, part} (part null for the piece itself; both null for nothing).
// Attributes: unit (else the page's), projector (lines only, at true scale).
import { kept, perMm } from "./calibration-kept.js";
import { Grips } from "./table-grips.js";
import { PieceDrawing, make, set, told, linesOf } from "./piece-drawing.js";
import { Rulers } from "./table-rulers.js";
import { Tape } from "./table-tape.js";
import { View } from "./table-view.js";
import { w } from "./words.js";
import { measuresOf } from "./table-measures.js";

const STEP = 60; // px for one press of an arrow
const LABEL = { least: 11, most: 30, seen: 8.5 }; // px, letters of a piece's name
const WIDE = 2.3; // a letter is about half as wide as high, and a name may stick out a little

class PieceTable extends HTMLElement {
  connectedCallback() {
    if (this.stage) return;
    this.unit = this.getAttribute("unit") || document.documentElement.dataset.unit || "cm";
    this.drawings = new Map();
    this.waiting = this.waiting ?? { handles: [] };
    this.build();
    this.view = new View(this.stage, () => this.moved());
    this.view.locked = this.hasAttribute("projector");
    this.tape = new Tape(this.world, this.view, this.unit);
    this.grips = new Grips(this.grip, this.view, (name) => this.drawings.get(name)?.piece.at ?? [0, 0], (words) => this.say(words));
    this.listen();
    new ResizeObserver(() => { if (!this.view.own) this.fit(); else this.moved(); }).observe(this.stage);
    const { picture, handles, selection } = this.waiting;
    if (picture) this.update(picture);
    if (handles) this.handles = handles;
    if (selection) this.selection = selection;
  }

  build() {
    const box = (name, parent = this) => {
      const node = document.createElement("div");
      node.className = name;
      parent.append(node);
      return node;
    };
    this.tools = box("tools");
    const frame = box("frame");
    this.rulers = new Rulers(frame);
    this.stage = box("stage", frame);
    this.stage.tabIndex = 0;
    this.stage.setAttribute("role", "group");
    this.stage.setAttribute("aria-label", w("pieces.table"));
    this.svg = make("svg", { class: "pieces", role: "presentation" }, this.stage);
    this.world = make("g", { class: "world" }, this.svg);
    this.grip = box("grips", frame);
    this.caption = document.createElement("p");
    this.caption.className = "caption number";
    this.caption.textContent = w("pieces.hint");
    this.live = document.createElement("p");
    this.live.className = "unseen";
    this.live.setAttribute("role", "status");
    this.measures = document.createElement("details");
    this.measures.className = "measures";
    this.append(this.caption, this.live, this.measures);
    this.measures.append(Object.assign(document.createElement("summary"), { textContent: w("pieces.measures") }));
    this.measures.addEventListener("toggle", () => this.listMeasures());
    this.buildTools();
  }

  buildTools() {
    const tool = (title, sign, act) => {
      const node = Object.assign(document.createElement("button"), { type: "button", title });
      node.setAttribute("aria-label", title);
      node.textContent = sign;
      node.addEventListener("click", act);
      this.tools.append(node);
      return node;
    };
    tool(w("pieces.smaller"), "−", () => this.view.zoom(1 / 1.4));
    tool(w("pieces.larger"), "+", () => this.view.zoom(1.4));
    tool(w("pieces.all"), w("pieces.short_all"), () => this.fit());
    tool(w("pieces.true"), "1 : 1", () => this.view.scaleTo(perMm()));
    this.taping = tool(w("pieces.tape"), w("pieces.short_tape"), () => this.useTape(!this.measuring));
    this.taping.setAttribute("aria-pressed", "false");
    this.under = tool(w("pieces.before"), w("pieces.short_before"), () => { this.before = !this.before; });
    this.under.setAttribute("aria-pressed", "true");
  }

  listen() {
    this.stage.addEventListener("tap", ({ detail }) => this.tap(detail));
    this.stage.addEventListener("pointerover", ({ target }) => { if (!this.measuring) this.tellOf(target, false); });
    this.stage.addEventListener("pointerleave", () => { if (!this.measuring) this.tellChosen(); });
    this.stage.addEventListener("focusin", ({ target }) => this.reached(target));
    this.stage.addEventListener("keydown", (event) => this.key(event));
  }

  // -- what is shown ---------------------------------------------------------------------------------------

  set picture(picture) { this.update(picture); }

  get picture() { return this._picture; }

  get versions() {
    return Object.fromEntries([...this.drawings].map(([name, one]) => [name, one.piece.version]));
  }

  update(picture) {
    if (!this.stage) { this.waiting = { ...this.waiting, picture }; return; }
    const first = !this._picture;
    const names = new Set(picture.pieces.map((p) => p.name));
    for (const [name, one] of this.drawings) if (!names.has(name)) { one.node.remove(); this.drawings.delete(name); }
    for (const sent of picture.pieces) {
      let one = this.drawings.get(sent.name);
      if (!one && sent.edges) {
        one = new PieceDrawing(this.world, sent.name);
        this.drawings.set(sent.name, one);
        this.world.append(this.tape.node);
      }
      if (!one) continue;
      // What comes without its lines is as it was; a place may still be another one.
      const same = !sent.edges && sent.at.join() === one.piece.at.join();
      one.show(sent.edges ? sent : same ? one.piece : { ...one.piece, at: sent.at }, this.unit);
    }
    this._picture = { ...picture, pieces: [...this.drawings.values()].map((one) => one.piece) };
    this.under.hidden = picture.changed.length === 0;
    if (first || !this.view.own) this.fit();
    else this.grips.place();
    this.labels(true);
    if (this._selection) this.showSelection();
    if (this.measures.open) this.listMeasures();
  }

  set handles(handles) {
    this.waiting = { ...this.waiting, handles };
    this.grips?.show(handles, this.unit);
  }

  get handles() { return this.waiting?.handles ?? []; }

  set before(yes) {
    this.classList.toggle("only-now", !yes);
    this.under?.setAttribute("aria-pressed", String(yes));
  }

  get before() { return !this.classList.contains("only-now"); }

  set scale(k) { this.view.scaleTo(k); }

  get scale() { return this.view.k; }

  fit() {
    if (!this._picture) return;
    if (this.view.locked) this.trueScale();
    else this.view.fit(this._picture.box);
  }

  trueScale(name = "") {
    const piece = this.drawings.get(name)?.piece;
    const [x, y, width, height] = piece ? boxOf(piece) : this._picture.box;
    for (const [key, one] of this.drawings) one.node.classList.toggle("away", Boolean(piece) && key !== name);
    const now = kept(this.view.locked ? "projector" : "screen");
    this.beam = this.view.locked ? beamOf(now) : null;
    if (this.beam) {
      Object.assign(this.dataset, { ground: now.ground, colour: now.colour });
      this.style.setProperty("--weight", now.weight);
    }
    const [dx, dy] = this.thrown([x + width / 2, y + height / 2], now.x);
    const [mx, my] = this.view.middle();
    this.view.put(now.x, mx - dx, my - dy, true);
  }

  /** Where a place of the table falls, before the table is moved. */
  thrown([x, y], k) {
    if (!this.beam) return [x * k, y * k];
    const [a, b, c, d] = this.beam;
    return [a * x + c * y, b * x + d * y];
  }

  moved() {
    const { k, x, y } = this.view;
    set(this.world, { transform: this.beam ? `matrix(${this.beam.join(" ")} ${x} ${y})` : `translate(${x} ${y}) scale(${k})` });
    if (!this.hasAttribute("projector")) this.rulers.show(this.view, this.unit);
    this.grips?.place();
    this.labels();
  }

  /** Names stay readable from afar and do not shout from near; where they would not fit they are left out. */
  labels(again = false) {
    const { k } = this.view;
    if (k === this.lettered && !again) return;
    this.lettered = k;
    for (const { piece, title, cut, node } of this.drawings.values()) {
      const { size, turned } = piece.label;
      const lines = linesOf(piece.name);
      const room = (WIDE * piece.box[turned ? 3 : 2]) / Math.max(...lines.map((line) => line.length));
      const letters = Math.min(Math.max(size, LABEL.least / k), LABEL.most / k, room);
      set(title, { "font-size": letters });
      set(cut, { "font-size": letters * 0.6, y: letters * lines.length });
      node.classList.toggle("far", letters * 0.6 * k < LABEL.seen);
      node.classList.toggle("farther", letters * k < LABEL.seen);
    }
  }

  showPiece(name) {
    const piece = this.drawings.get(name)?.piece;
    if (piece) this.view.fit(boxOf(piece), true);
  }

  listMeasures() {
    while (this.measures.children.length > 1) this.measures.lastChild.remove();
    if (this.measures.open) this.measures.append(measuresOf([...this.drawings.values()], this.unit));
  }

  // -- choosing --------------------------------------------------------------------------------------------

  set selection(chosen) {
    this._selection = chosen?.piece ? { piece: chosen.piece, part: chosen.part ?? null } : null;
    if (this.stage) this.showSelection();
    else this.waiting = { ...this.waiting, selection: chosen };
  }

  get selection() { return this._selection ?? null; }

  showSelection() {
    const chosen = this._selection;
    for (const [name, one] of this.drawings) {
      one.open(name === chosen?.piece);
      one.mark(name === chosen?.piece ? chosen.part : null);
    }
    this.tellChosen();
  }

  choose(piece, part, aloud = true) {
    this.selection = { piece, part };
    if (aloud) this.live.textContent = this.caption.textContent;
    this.dispatchEvent(new CustomEvent("choose", { bubbles: true, detail: { piece: piece ?? null, part: part ?? null } }));
  }

  say(words, aloud = false) {
    this.caption.textContent = words;
    if (aloud) this.live.textContent = words;
  }

  tellChosen() {
    const one = this.drawings.get(this._selection?.piece);
    const part = one?.part(this._selection.part);
    this.say(part ? `${one.name} · ${told(part, this.unit).words}` : one ? one.says(one.piece) : w("pieces.hint"));
  }

  /** What a node is: [drawing, part]. */
  what(node) {
    const one = this.drawings.get(node.closest?.(".piece")?.dataset.piece);
    return one ? [one, one.part(node.dataset.part)] : [];
  }

  tellOf(node, aloud) {
    const [one, part] = this.what(node);
    if (one) this.say(part ? `${one.name} · ${told(part, this.unit).words}` : one.says(one.piece), aloud);
  }

  tap({ at, target }) {
    const [one, part] = this.what(target);
    if (this.measuring) this.say(this.tape.lay(this.tape.find(one ?? this.nearby(at), this.view.toTable(at))), true);
    else this.choose(one?.name, part?.key);
  }

  /** The piece whose box holds a point of the stage, for places just outside its lines. */
  nearby(at) {
    const [x, y] = this.view.toTable(at);
    return [...this.drawings.values()].find(({ piece }) => {
      const [left, top, width, height] = boxOf(piece);
      return x >= left && x <= left + width && y >= top && y <= top + height;
    });
  }

  useTape(yes) {
    this.measuring = yes;
    this.taping.setAttribute("aria-pressed", String(yes));
    this.classList.toggle("measuring", yes);
    this.tape.clear();
    if (yes) this.say(this.tape.words(), true);
    else this.tellChosen();
  }

  // -- keys ------------------------------------------------------------------------------------------------

  reached(target) {
    if (!target.matches(":focus-visible") || target === this.stage) return;
    const [one, part] = this.what(target);
    if (!one) return;
    this.view.reveal(boxOf(one.piece));
    if (!this.measuring) this.tellOf(target, false);
    if (part) one.mark(part.key);
  }

  key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { view } = this;
    const act = {
      ArrowLeft: () => view.pan(STEP, 0), ArrowRight: () => view.pan(-STEP, 0),
      ArrowUp: () => view.pan(0, STEP), ArrowDown: () => view.pan(0, -STEP),
      "+": () => view.zoom(1.25), "=": () => view.zoom(1.25), "-": () => view.zoom(0.8),
      0: () => this.fit(), 1: () => view.scaleTo(perMm()),
      Enter: () => this.enter(event.target), " ": () => this.enter(event.target), Escape: () => this.back(),
    }[event.key];
    if (!act || (event.key === "Escape" && !this._selection && !this.measuring)) return;
    event.preventDefault();
    act();
  }

  enter(target) {
    const [one, part] = this.what(target);
    if (!one) return;
    if (this.measuring) {
      const [ox, oy] = one.piece.at;
      const middle = part?.at ?? middleOf(target);
      this.say(this.tape.lay(this.tape.find(one, [middle[0] + ox, middle[1] + oy])), true);
    } else this.choose(one.name, part?.key);
  }

  back() {
    if (this.measuring) { this.useTape(false); return; }
    const { piece, part } = this._selection;
    if (part) this.choose(piece, null);
    else this.choose(null, null);
    this.drawings.get(piece)?.body.focus({ preventScroll: true });
  }
}

/** px per mm across and down, the picture turned and mirrored before: an SVG matrix without its move. */
function beamOf({ x, y, turned, mirrored }) {
  const [c, s] = [Math.round(Math.cos((turned * Math.PI) / 180)), Math.round(Math.sin((turned * Math.PI) / 180))];
  const flip = mirrored ? -1 : 1;
  return [flip * c * x, flip * s * y, -s * x, c * y];
}

function middleOf(path) {
  const p = path.getPointAtLength(path.getTotalLength() / 2);
  return [p.x, p.y];
}

function boxOf({ at, box }) { return [at[0] + box[0], at[1] + box[1], box[2], box[3]]; }

customElements.define("piece-table", PieceTable);
