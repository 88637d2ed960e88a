// Ticks of the cutting, kept on this device for the lay that they were made on.
import { w } from "./words.js";

/** A device that keeps nothing still shows the list. */
const kept = {
  get(key) { try { return localStorage.getItem(key); } catch { return null; } },
  set(key, value) { try { localStorage.setItem(key, value); } catch { /* nothing is kept then */ } },
};

/** Bring every list of cuts inside a place to life, once. */
export function ticks(place) {
  for (const list of place.querySelectorAll(".cuts:not([data-alive])")) {
    list.dataset.alive = "";
    const key = `cuts ${place.dataset.make} ${list.dataset.cuts}`;
    const boxes = [...list.querySelectorAll("[data-tick]")];
    const again = list.querySelector(".again");
    const ticked = new Set(JSON.parse(kept.get(key) ?? "[]"));
    const show = () => {
      const done = boxes.filter((box) => box.checked).length;
      list.querySelector(".done").textContent = done === 0 ? "" : done === boxes.length ? `✓ ${w("cloth.done_all")}`
        : w("cloth.done_of", { done, all: boxes.length });
      again.hidden = done === 0;
    };
    const keep = () => {
      kept.set(key, JSON.stringify(boxes.filter((box) => box.checked).map((box) => box.dataset.tick)));
      show();
    };
    for (const box of boxes) {
      box.checked = ticked.has(box.dataset.tick);
      box.addEventListener("change", keep);
    }
    again.addEventListener("click", () => {
      for (const box of boxes) box.checked = false;
      keep();
      boxes[0].focus();
    });
    show();
  }
}
