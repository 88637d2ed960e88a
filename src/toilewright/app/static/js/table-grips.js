// Grips that slide along one direction: an amount in the hand.
import { showLength } from "./lengths.js";

const FAR = 10;

/** One grip; it keeps its node, its focus and its pointer while pictures change under it. */
class Grip {
  constructor(grips) {
    this.grips = grips;
    this.node = document.createElement("div");
    this.node.className = "grip";
    this.node.tabIndex = 0;
    this.node.setAttribute("role", "slider");
    this.tag = document.createElement("span");
    this.tag.className = "tag";
    this.tag.setAttribute("aria-hidden", "true");
    this.node.append(this.tag);
    this.node.addEventListener("pointerdown", (event) => this.take(event));
    this.node.addEventListener("pointermove", (event) => this.pull(event));
    for (const name of ["pointerup", "pointercancel"]) this.node.addEventListener(name, (event) => this.leave(event));
    this.node.addEventListener("keydown", (event) => this.key(event));
    this.node.addEventListener("focus", () => grips.tell(this.words));
    this.node.addEventListener("pointerenter", () => grips.tell(this.words));
  }

  get words() { return `${this.handle.label} · ${showLength(this.amount, this.grips.unit)}`; }

  show(handle) {
    this.handle = handle;
    if (!this.held && !this.waiting) this.amount = handle.amount;
    if (handle.amount === this.amount) this.waiting = false;
    const unit = this.grips.unit;
    const say = { "aria-label": handle.label, "aria-valuemin": handle.min, "aria-valuemax": handle.max,
      "aria-valuenow": this.amount, "aria-valuetext": showLength(this.amount, unit) };
    for (const [name, value] of Object.entries(say)) this.node.setAttribute(name, value);
    this.tag.textContent = this.words;
    const [dx, dy] = handle.along;
    this.node.style.setProperty("--way", `${Math.atan2(dy, dx)}rad`);
    this.place();
  }

  /** Where it lies on the stage: at its place for the amount that is in the hand. */
  place() {
    const { piece, at, along, amount } = this.handle;
    const [ox, oy] = this.grips.origin(piece);
    const more = this.amount - amount;
    const [x, y] = this.grips.view.toStage([ox + at[0] + along[0] * more, oy + at[1] + along[1] * more]);
    this.node.style.transform = `translate(${x}px, ${y}px)`;
  }

  take(event) {
    if (event.button > 0) return;
    event.preventDefault();
    this.node.focus({ preventScroll: true });
    this.node.setPointerCapture(event.pointerId);
    this.held = { id: event.pointerId, x: event.clientX, y: event.clientY, amount: this.amount };
    this.node.classList.add("held");
  }

  pull(event) {
    if (event.pointerId !== this.held?.id) return;
    const [dx, dy] = this.handle.along;
    const moved = ((event.clientX - this.held.x) * dx + (event.clientY - this.held.y) * dy) / this.grips.view.k;
    this.to(this.held.amount + moved / (dx * dx + dy * dy || 1), false);
  }

  leave(event) {
    if (event.pointerId !== this.held?.id) return;
    const { amount } = this.held;
    this.held = null;
    this.node.classList.remove("held");
    this.waiting = this.amount !== this.handle.amount;
    if (event.type === "pointercancel") this.to(amount, true);
    else if (this.amount !== amount) this.emit(true);
  }

  key(event) {
    const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: FAR, PageDown: -FAR }[event.key];
    const { min, max, step } = this.handle;
    const wanted = by ? this.amount + by * step * (event.shiftKey ? FAR : 1) : { Home: min, End: max }[event.key];
    if (wanted === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    this.waiting = true;
    this.to(wanted, true);
  }

  to(wanted, done) {
    const { min, max, step } = this.handle;
    const amount = Math.min(Math.max(Math.round(Math.round(wanted / step) * step * 1e6) / 1e6, min), max);
    if (amount === this.amount && !done) return;
    this.amount = amount;
    this.show(this.handle);
    this.grips.tell(this.words);
    this.emit(done);
  }

  /** Once for each frame while it is moved; at once when it is let go. */
  emit(done) {
    const send = () => {
      this.frame = 0;
      this.node.dispatchEvent(new CustomEvent("amount", { bubbles: true, composed: true,
        detail: { id: this.handle.id, amount: this.amount, done } }));
    };
    if (done) {
      cancelAnimationFrame(this.frame);
      send();
    } else if (!this.frame) this.frame = requestAnimationFrame(send);
  }
}

/** All grips on a table. */
export class Grips {
  constructor(layer, view, origin, tell) {
    Object.assign(this, { layer, view, origin, tell, unit: "cm", all: new Map() });
  }

  show(handles, unit) {
    this.unit = unit;
    const ids = new Set(handles.map((h) => h.id));
    for (const [id, grip] of this.all) if (!ids.has(id)) { grip.node.remove(); this.all.delete(id); }
    for (const handle of handles) {
      let grip = this.all.get(handle.id);
      if (!grip) {
        grip = new Grip(this);
        this.all.set(handle.id, grip);
        this.layer.append(grip.node);
      }
      grip.show(handle);
    }
  }

  place() { for (const grip of this.all.values()) grip.place(); }
}
