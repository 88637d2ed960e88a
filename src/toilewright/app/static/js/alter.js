// The alterations of a make: tried at every change, saved when she leaves the amount or lets go of the grip.
import "./piece-table.js";
import { AlterRow } from "./alter-row.js";
import { finding } from "./alter-finding.js";
import { Prescribed } from "./alter-prescribed.js";
import { alarm, change, get, known, post, tell } from "./api.js";
import { showLength } from "./lengths.js";
import { make, set } from "./piece-drawing.js";
import { w } from "./words.js";

const CROSS = 9; // mm
const PAUSE = 250; // ms without a change, after which grips are asked for anew
const LOOK_ROUND = 5000; // ms between two looks whether another device changed something
const start = JSON.parse(document.getElementById("start").textContent);

class Altering {
  constructor() {
    this.table = document.getElementById("pieces");
    this.place = document.getElementById("rows");
    this.stand = document.getElementById("stand");
    Object.assign(this, { unit: start.unit, step: start.step, fine: start.fine, ways: start.ways, make: start.make, body: start.body });
    this.rows = new Map();
    this.chosen = null;
    this.saves = 0;
    known(this.make.id, this.make.revision);
    known(this.body.id, this.body.revision);
    this.lay(start.list);
    this.show(start.first);
    this.table.addEventListener("amount", ({ detail }) => this.pulled(detail));
    document.addEventListener("thing", ({ detail }) => this.saved(detail));
    for (const button of document.querySelectorAll("[data-add]")) {
      button.addEventListener("click", () => this.add([{ name: button.dataset.add, amount: null, options: {} }]));
    }
    for (const button of document.querySelectorAll("[data-take]")) {
      button.addEventListener("click", () => this.add([JSON.parse(button.dataset.take)]));
    }
    for (const button of document.querySelectorAll("[data-take-all]")) {
      button.addEventListener("click", () => this.add([...button.closest("section").querySelectorAll("[data-take]")]
        .map((one) => JSON.parse(one.dataset.take))));
    }
    this.prescribed = new Prescribed(this, document.getElementById("prescribed"));
    setInterval(() => this.lookRound(), LOOK_ROUND);
    const wanted = decodeURIComponent(location.hash.slice(1));
    const first = [...this.rows.values()].find((row) => row.node.id === wanted || row.data.name === wanted);
    if (first) { this.choose(first); first.node.scrollIntoView({ block: "nearest" }); }
  }

  /** Which other makes a standing alteration would touch. */
  get promoteNote() {
    const note = w("alter.promote_note", { name: this.body.document.name });
    return start.touched.length ? `${note} ${w("alter.promote_touches", { titles: start.touched.join(", ") })}` : note;
  }

  // -- the list --------------------------------------------------------------------------------------------

  /** Lay the rows out anew; what she types in one stays. */
  lay(list) {
    const ids = new Set(list.map((one) => one.id));
    for (const data of list) this.sameRow(data, ids);
    for (const [id, row] of this.rows) if (!ids.has(id)) { row.node.remove(); this.rows.delete(id); }
    for (const [i, data] of list.entries()) {
      let row = this.rows.get(data.id);
      if (!row) {
        row = new AlterRow(this, data);
        this.rows.set(data.id, row);
      } else if (row.keeping) row.data = { ...data, amount: row.data.amount }; // newer than what was kept
      else if (row.typing) row.data = data;
      else row.take(data);
      if (this.place.children[i] !== row.node) this.place.insertBefore(row.node, this.place.children[i] ?? null);
    }
    if (this.chosen && !this.rows.has(this.chosen)) this.chosen = null;
    document.getElementById("none").hidden = list.length > 0;
    this.prescribed?.show();
  }

  /** A standing one that was changed for this make, or is as always again, stays the row that she has in hand. */
  sameRow(data, ids) {
    if (this.rows.has(data.id)) return;
    const alike = JSON.stringify(data.options);
    const old = [...this.rows].find(([id, row]) => !ids.has(id) && row.data.name === data.name
      && JSON.stringify(row.data.options) === alike && row.data.standing !== data.standing);
    if (!old) return;
    const [id, row] = old;
    this.rows.delete(id);
    this.rows.set(data.id, row);
    row.node.id = `row-${data.id}`;
    if (this.chosen === id) this.chosen = data.id;
  }

  choose(row, aim = true) {
    const id = row.data.id;
    if (this.chosen === id) return;
    this.chosen = id;
    this.gripped = null;
    history.replaceState(history.state, "", `#${row.node.id}`); // found again when the page is shown anew
    for (const one of this.rows.values()) one.node.classList.toggle("chosen", one === row);
    this.aim = aim;
    this.try();
  }

  // -- trying ----------------------------------------------------------------------------------------------

  /** Ask what would be; while an answer is on its way the newest question waits. */
  async try(list = false) {
    this.relist = this.relist || list;
    if (this.asking) { this.again = true; return; }
    this.asking = true;
    do {
      this.again = false;
      const [whole, saves] = [this.relist, this.saves];
      this.relist = false;
      try {
        const found = await post(`/make/${this.make.id}/alter/try`, {
          rows: whole ? null : [...this.rows.values()].map((row) => row.asked),
          known: this.table.versions, chosen: this.gripped === this.chosen ? "" : this.chosen ?? "" });
        if (whole && saves !== this.saves) this.relist = this.again = true; // older than what was saved meanwhile
        else this.show(found);
      } catch (problem) { alarm(problem); }
    } while (this.again);
    this.asking = false;
  }

  show(found) {
    if (found.list) {
      this.lay(found.list);
      // The list as kept does not hold what she is typing or has just set; that is tried once more.
      this.again = this.again || [...this.rows.values()].some((row) => row.typing || row.keeping);
    }
    this.table.update(found.picture);
    for (const [id, row] of this.rows) row.result(found.rows[id]);
    if (found.handles) this.grip(found.handles);
    else if (this.chosen) this.slide();
    this.showAim(found.aim);
    this.tellStand(found);
    this.prescribed?.show();
  }

  grip(handles) {
    this.gripped = this.chosen;
    this.table.handles = handles;
    if (this.aim && handles.length) this.table.showPiece(handles[0].piece);
    this.aim = false;
  }

  /** Grips move along with the amount at once; where they truly lie is asked when she pauses. */
  slide() {
    const found = this.rows.get(this.chosen)?.found;
    this.table.handles = found?.fate !== "made" ? [] : this.table.handles.map((one) => ({ ...one, amount: found.amount,
      at: one.at.map((at, i) => at + one.along[i] * (found.amount - one.amount)) }));
    clearTimeout(this.later);
    this.later = setTimeout(() => {
      if (this.held) return;
      this.gripped = null;
      this.try();
    }, PAUSE);
  }

  /** A cross on the front where her bust point lies. */
  showAim(aim) {
    const on = this.table.drawings.get(aim?.piece)?.node;
    this.aimed ??= make("path", { class: "aim", d: `M${-CROSS} 0H${CROSS}M0 ${-CROSS}V${CROSS}` });
    if (!on) { this.aimed.remove(); return; }
    set(this.aimed, { transform: `translate(${aim.at.join(" ")})` });
    if (this.aimed.parentNode !== on) on.append(this.aimed);
  }

  tellStand({ ease, seams, dart, aim, findings }) {
    const line = (className, ...inside) => {
      const made = Object.assign(document.createElement("p"), { className });
      made.append(...inside);
      return made;
    };
    const part = (text, className = "") => Object.assign(document.createElement("span"), { textContent: text, className });
    const rows = [];
    if (ease.length) {
      rows.push(line("eases", part(w("alter.ease_left"), "quiet"),
        ...ease.map((one) => part(`${one.place} ${one.ease}`, one.enough === false ? "short" : ""))));
    }
    if (dart) rows.push(line("", `${dart} ${aim ? w("alter.aim") : ""}`));
    if (seams.off.length) {
      const names = seams.off.map((one) => `${one.name} (${one.note})`).join(", ");
      const link = Object.assign(document.createElement("a"), { href: `/make/${this.make.id}/walk`, textContent: w("alter.to_walk") });
      rows.push(line("finding stop", part(w("alter.not_sew", { n: seams.off.length, names })), link));
    } else rows.push(line("sews", w("alter.all_sew", { n: seams.all })));
    for (const one of findings) if (one.severity !== "note") rows.push(line(`finding ${one.severity}`, part(one.text)));
    this.stand.setAttribute("aria-live", this.held ? "off" : "polite");
    const text = rows.map((one) => one.textContent).join("");
    if (text === this.standing) return; // a live region speaks only of what is new
    this.standing = text;
    this.stand.replaceChildren(...rows);
  }

  /** A grip in the picture was moved. */
  pulled({ id, amount, done }) {
    const row = this.rows.get(id.split("|")[0]);
    if (!row) return;
    this.held = !done;
    if (done) { this.set(row, amount); return; }
    row.text = null;
    row.data = { ...row.data, amount };
    row.sign = amount < 0 ? -1 : 1;
    row.show();
    this.try();
  }

  // -- what rows ask for -----------------------------------------------------------------------------------

  typed() { this.try(); }

  async entered(row) {
    if (row.text === null) return;
    const { amount } = row.asked;
    await this.keepAmount(row, amount);
  }

  set(row, amount) {
    row.text = null;
    row.data = { ...row.data, amount };
    if (amount !== null && amount !== 0) row.sign = amount < 0 ? -1 : 1;
    row.show();
    this.choose(row, false);
    this.try();
    return this.keepAmount(row, amount);
  }

  flip(row, sign) {
    const now = Math.abs(row.data.amount ?? row.settled ?? 0);
    row.sign = sign;
    if (row.text !== null) { this.typed(); row.show(); return null; }
    return this.set(row, sign * now);
  }

  /** Save an amount; while one is being saved only the newest waits, for a standing one becomes one of this make by it. */
  keepAmount(row, amount) {
    row.wanted = { amount };
    row.keeping ??= this.keepWanted(row).finally(() => { row.keeping = null; });
    return row.keeping;
  }

  async keepWanted(row) {
    while (row.wanted) {
      const { amount } = row.wanted;
      row.wanted = null;
      await this.keepOne(row, amount);
    }
  }

  async keepOne(row, amount) {
    const { id, name, options, standing } = row.data;
    const shown = amount === null ? w("alter.from_measures") : typeof amount === "number"
      ? showLength(amount, this.unit) : amount.length;
    const words = w("alter.said_changed", { name, shown });
    const set = standing ? [[["alterations", "+"], { name, amount, options, on: true, note: "" }]]
      : [[["alterations", id, "amount"], amount]];
    const text = row.text;
    if (!(await this.save(this.make.id, set, words))) return;
    const kept = this.make.document.alterations.find((one) => one.id === id);
    if (text !== null && row.text === text) { // it could be read, so it is settled; what she typed since stays
      row.text = null;
      if (kept) row.data = { ...row.data, amount: kept.amount };
      row.show();
    }
    const shownAnew = this.try(true);
    if (standing) { await shownAnew; await this.settledDown(); }
  }

  switchOn(row, on) {
    const { id, name, standing } = row.data;
    const words = w(on ? "alter.said_on" : "alter.said_off", { name });
    if (!standing) return this.keep(this.make.id, [[["alterations", id, "on"], on]], words);
    const without = this.make.document.without.filter((one) => one !== name);
    return this.keep(this.make.id, [[["without"], on ? without : [...without, name]]], words);
  }

  options(row, options, what) {
    const { id, name, amount, standing } = row.data;
    const set = standing ? [[["alterations", "+"], { name, amount, options, on: true, note: "" }]]
      : [[["alterations", id, "options"], options]];
    return this.keep(this.make.id, set, w("alter.said_options", { name, what }));
  }

  async remove(row) {
    const next = row.node.nextElementSibling ?? row.node.previousElementSibling;
    await this.keep(this.make.id, [[["alterations", row.data.id], null]], w("alter.said_removed", { name: row.data.name }));
    if (!row.node.isConnected) (next?.querySelector("h3 button") ?? document.querySelector(".add summary")).focus();
  }

  /** A further alteration, or several. */
  async add(list) {
    const rows = list.map(({ name, amount, options }) => [["alterations", "+"], { name, amount, options, on: true, note: "" }]);
    const before = new Set(this.rows.keys());
    await this.keep(this.make.id, rows, w("alter.said_added", { name: list.map((one) => one.name).join(", ") }));
    const last = [...this.rows].filter(([id]) => !before.has(id)).pop()?.[1];
    if (last) { this.choose(last); last.node.scrollIntoView({ block: "nearest" }); last.field.focus({ preventScroll: true }); last.ask(); }
  }

  async promote(row) {
    const { id, name, amount, options, on } = row.data;
    try {
      this.body = await change(this.body.id, this.body.revision,
        [[["alterations", "+"], { name, amount, options, on: true, note: "" }]], w("alter.said_always", { name }));
    } catch (problem) { alarm(problem); return; }
    const { standing, without } = this.make.document;
    // Where this make would not take over what its body always needs, its own row goes on standing for it.
    if (on && standing && !without.includes(name)) await this.keep(this.make.id, [[["alterations", id], null]], w("alter.said_always", { name }));
    else await this.try(true);
  }

  async choices(name) {
    this.known ??= new Map();
    if (!this.known.has(name)) {
      this.known.set(name, await get(`/make/${this.make.id}/alter/choices?name=${encodeURIComponent(name)}`).catch(() => []));
    }
    return this.known.get(name);
  }

  /** Was it saved? What cannot be read is said in its row. */
  async save(id, set, words) {
    try {
      await change(id, this.make.revision, set, words);
      return true;
    } catch (problem) {
      if (problem.kind !== "UnitError") alarm(problem);
      return false;
    } finally { this.saves += 1; }
  }

  /** Save, and show the list as it is kept then. */
  async keep(id, set, words) {
    await this.save(id, set, words);
    await this.try(true);
    await this.settledDown();
  }

  /** Until no question is on its way. */
  async settledDown() { while (this.asking) await new Promise((done) => { setTimeout(done, 10); }); }

  // -- other devices ---------------------------------------------------------------------------------------

  saved(thing) {
    if (thing.id === this.make.id) this.make = thing;
    if (thing.id === this.body.id) this.body = thing;
  }

  async lookRound() {
    if (document.hidden || this.asking || this.held) return;
    try {
      for (const kind of ["make", "body"]) {
        const now = await get(`/things/${this[kind].id}`);
        if (now.revision <= known(now.id, this[kind].revision)) continue;
        known(now.id, now.revision);
        this[kind] = now;
        tell(w("alter.elsewhere"));
        await this.try(true);
      }
    } catch { /* it is said at the next change */ }
  }
}

finding(document.querySelector("details.add"));
await customElements.whenDefined("piece-table");
new Altering();
