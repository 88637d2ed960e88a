// The file is read again after names were changed; meanwhile the page stays usable. Then what follows from the names is shown anew.
import { follow } from "./work-progress.js";
import { post } from "./api.js";
import { w } from "./words.js";

const PATIENCE = 500; // ms; several changes in a row are read once

export class Reading {
  #timer;
  #busy = false;
  #again = false;

  /** `shown` is called when the page shows the new reading. */
  constructor(id, place, shown) {
    this.id = id;
    this.place = place;
    this.shown = shown;
  }

  begin() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#read(), PATIENCE);
  }

  async #read() {
    if (this.#busy) { this.#again = true; return; }
    this.#busy = true;
    try {
      const { job } = await post(`/pattern/${this.id}/read`);
      if (job) await this.#watch(job);
      this.place.replaceChildren();
      if (!this.#again) await this.#show();
    } catch (problem) {
      const row = Object.assign(document.createElement("p"), { className: "finding stop" });
      row.append(Object.assign(document.createElement("span"), { textContent: w("pattern.not_read", { text: problem.message }) }));
      this.place.replaceChildren(row);
    } finally {
      this.#busy = false;
      if (this.#again) { this.#again = false; this.begin(); }
    }
  }

  #watch(job) {
    const progress = follow(this.place, job);
    return new Promise((resolve, reject) => {
      progress.addEventListener("done", resolve);
      progress.addEventListener("stopped", () => reject(new Error(w("work.stopped"))));
      progress.addEventListener("failed", ({ detail }) => reject(new Error(detail.text)));
    });
  }

  /** Parts that follow from the names, as the program says them now; what she is writing stays as it is. */
  async #show() {
    const answer = await fetch(location.href);
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (!fresh.getElementById("look")) { location.reload(); return; }
    const at = document.activeElement;
    const kept = [...document.querySelectorAll("[data-fresh] input[aria-invalid], [data-fresh] details[open], [data-fresh] :focus")];
    const begun = [...document.querySelectorAll("#new-seam input, #new-seam select")];
    for (const part of document.querySelectorAll("[data-fresh]")) {
      if (part.querySelector("tr.begun")) continue;
      const next = fresh.getElementById(part.id);
      if (next.innerHTML !== part.dataset.was) {
        part.dataset.was = next.innerHTML;
        part.replaceChildren(...next.childNodes);
      }
    }
    for (const one of kept) {
      const now = one.id && document.getElementById(one.id);
      if (!now || now === one) continue;
      if (one.matches("details")) now.open = true;
      else if (one.matches("input[aria-invalid], input:not([type=checkbox])")) this.#carry(one, now);
    }
    for (const one of begun) {
      const now = document.getElementById(one.id);
      now.value = one.value;
      now.checked = one.checked;
    }
    await this.shown();
    if (at?.id && document.activeElement !== at) document.getElementById(at.id)?.focus({ preventScroll: true });
  }

  #carry(one, now) {
    if (one.getAttribute("aria-invalid") || one.value !== one.defaultValue) now.value = one.value;
    const say = one.closest("label")?.nextElementSibling;
    if (!one.getAttribute("aria-invalid") || !say?.matches(".slip")) return;
    now.setAttribute("aria-invalid", "true");
    now.setAttribute("aria-describedby", say.id);
    now.closest("label").after(say);
  }
}
