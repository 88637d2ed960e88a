// Ticks of the cutting, kept on this device for the lay that they were made on.
import { tickOff } from "./ticks.js";
import { w } from "./words.js";

/** Bring every list of cuts inside a place to life, once. */
export function ticks(place) {
  for (const list of place.querySelectorAll(".cuts:not([data-alive])")) {
    list.dataset.alive = "";
    tickOff(list, `cuts ${place.dataset.make} ${list.dataset.cuts}`,
      (done, all) => done === all ? `✓ ${w("cloth.done_all")}` : w("cloth.done_of", { done, all }));
  }
}
