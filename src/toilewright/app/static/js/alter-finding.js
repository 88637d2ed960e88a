// Finding an alteration among many: by words of what she sees, of its name, or of the trade.
import { w } from "./words.js";

/** Every word that she wrote begins one there. */
function holds(words, wanted) {
  return wanted.every((one) => words.some((word) => word.startsWith(one)));
}

export function finding(place) {
  const field = place.querySelector("#find");
  const told = place.querySelector("#found");
  const hint = told.textContent;
  const offers = [...place.querySelectorAll(".offer")].map((node) => ({ node, words: node.dataset.words.split(/[^\p{L}\d]+/u) }));

  function look() {
    const wanted = field.value.toLowerCase().split(/[^\p{L}\d]+/u).filter(Boolean);
    let found = 0;
    for (const { node, words } of offers) {
      node.hidden = !holds(words, wanted);
      if (!node.hidden && !node.matches(".away")) found += 1;
    }
    for (const room of place.querySelectorAll("details")) {
      room.hidden = !room.querySelector(".offer:not([hidden])");
      room.open = wanted.length > 0 && !room.hidden;
    }
    told.textContent = wanted.length ? w("alter.found", { n: found }) : hint;
  }

  field.addEventListener("input", look);
  if (field.value) look();
}
