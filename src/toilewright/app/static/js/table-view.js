// Where the eye is over the table: scale in px per mm and what lies at the corner; moved by hand, wheel and keys.

const STILL = 6; // px a finger may wander and still have tapped
const SMALLEST = 0.02;
const LARGEST = 60;

/** px of the stage = mm * k + (x, y). */
export class View {
  constructor(stage, moved) {
    this.stage = stage;
    this.moved = moved;
    this.k = 1;
    this.x = 0;
    this.y = 0;
    this.own = false; // has she moved it herself?
    this.locked = false; // true scale that must stay
    this.fingers = new Map();
    for (const name of ["pointerdown", "pointermove", "pointerup", "pointercancel"]) {
      stage.addEventListener(name, (event) => this[name](event));
    }
    stage.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
  }

  toTable([x, y]) { return [(x - this.x) / this.k, (y - this.y) / this.k]; }

  toStage([x, y]) { return [x * this.k + this.x, y * this.k + this.y]; }

  at(event) {
    const box = this.stage.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  put(k, x, y, own = true) {
    this.k = Math.min(Math.max(k, SMALLEST), LARGEST);
    this.x = x;
    this.y = y;
    this.own = own;
    this.moved();
  }

  pan(dx, dy) { this.put(this.k, this.x + dx, this.y + dy); }

  /** Larger or smaller round a point of the stage, which stays where it is. */
  zoom(by, [px, py] = this.middle()) {
    if (this.locked) return;
    const [mx, my] = this.toTable([px, py]);
    const k = Math.min(Math.max(this.k * by, SMALLEST), LARGEST);
    this.put(k, px - mx * k, py - my * k);
  }

  /** To a given scale round the middle, or round a point of the stage. */
  scaleTo(k, at = this.middle()) {
    const locked = this.locked;
    this.locked = false;
    this.zoom(k / this.k, at);
    this.locked = locked;
  }

  middle() { return [this.stage.clientWidth / 2, this.stage.clientHeight / 2]; }

  /** A box of the table filling the stage. */
  fit([x, y, width, height], own = false) {
    const [w, h] = [this.stage.clientWidth, this.stage.clientHeight];
    if (!w || !h || !width || !height) return;
    const k = Math.min(w / width, h / height) * 0.98;
    this.put(k, (w - width * k) / 2 - x * k, (h - height * k) / 2 - y * k, own);
  }

  /** Move just so far that a box of the table is seen. */
  reveal([x, y, width, height]) {
    const [left, top] = this.toStage([x, y]);
    const [right, foot] = this.toStage([x + width, y + height]);
    const shift = (low, high, size) => (low < 0 || high > size
      ? (high - low > size ? (size - low - high) / 2 : low < 0 ? 20 - low : size - 20 - high) : 0);
    const [dx, dy] = [shift(left, right, this.stage.clientWidth), shift(top, foot, this.stage.clientHeight)];
    if (dx || dy) this.pan(dx, dy);
  }

  // -- hands ---------------------------------------------------------------------------------------------

  pointerdown(event) {
    if (event.button > 0) return;
    this.fingers.set(event.pointerId, this.at(event));
    this.stage.setPointerCapture(event.pointerId);
    if (this.fingers.size === 1) { this.down = { at: this.at(event), target: event.target, still: true }; } else this.down.still = false;
  }

  pointermove(event) {
    const before = this.fingers.get(event.pointerId);
    if (!before) return;
    const now = this.at(event);
    if (this.down.still && Math.hypot(now[0] - this.down.at[0], now[1] - this.down.at[1]) < STILL) return;
    this.down.still = false;
    const other = [...this.fingers].find(([id]) => id !== event.pointerId)?.[1];
    this.fingers.set(event.pointerId, now);
    if (other) this.pinch(before, now, other);
    else this.pan(now[0] - before[0], now[1] - before[1]);
  }

  /** One finger went from `before` to `now` while the other rested: the paper stays under both. */
  pinch(before, now, other) {
    const middle = (p) => [(p[0] + other[0]) / 2, (p[1] + other[1]) / 2];
    const apart = (p) => Math.hypot(p[0] - other[0], p[1] - other[1]) || 1;
    const [from, to] = [middle(before), middle(now)];
    this.pan(to[0] - from[0], to[1] - from[1]);
    this.zoom(apart(now) / apart(before), to);
  }

  pointerup(event) {
    if (!this.fingers.delete(event.pointerId)) return;
    if (this.down.still && this.fingers.size === 0) {
      this.stage.dispatchEvent(new CustomEvent("tap", { detail: { at: this.down.at, target: this.down.target } }));
    }
  }

  pointercancel(event) { this.fingers.delete(event.pointerId); }

  wheel(event) {
    event.preventDefault();
    const unit = event.deltaMode === 1 ? 18 : event.deltaMode === 2 ? this.stage.clientHeight : 1;
    // A trackpad tells a pinch as a wheel with Control held.
    if (event.ctrlKey || event.metaKey) this.zoom(Math.exp(-event.deltaY * unit * 0.004), this.at(event));
    else if (event.shiftKey && !event.deltaX) this.pan(-event.deltaY * unit, 0);
    else this.pan(-event.deltaX * unit, -event.deltaY * unit);
  }
}
