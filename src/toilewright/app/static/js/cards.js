// Cards: ticks kept on this device, and large type with one card at a time for whoever stands at the table.
import { kept, tickOff } from "./ticks.js";
import { w } from "./words.js";

const place = document.getElementById("cards");
const cards = [...place.querySelectorAll(".card")];
const turn = place.querySelector(".turn");
const big = document.getElementById("big");

for (const card of cards) {
  tickOff(card, `ticks ${place.dataset.make} ${card.dataset.card}`,
    (done, all) => done === all ? `✓ ${w("cards.done_all")}` : w("cards.done_of", { done, all }),
    (finished) => card.classList.toggle("finished", finished));
}

let at = Math.max(0, cards.findIndex((card) => !card.classList.contains("finished")));

function lay(one) {
  document.body.classList.toggle("big-cards", one);
  big.setAttribute("aria-pressed", String(one));
  big.textContent = w(one ? "cards.small" : "cards.big");
  turn.hidden = !one || cards.length < 2;
  cards.forEach((card, i) => { card.hidden = one && i !== at; });
  document.getElementById("previous").disabled = at === 0;
  document.getElementById("next").disabled = at === cards.length - 1;
}

function go(by) {
  at = Math.min(Math.max(at + by, 0), cards.length - 1);
  lay(true);
  cards[at].focus({ preventScroll: true });
  cards[at].scrollIntoView({ block: "start" });
}

if (big) {
  big.addEventListener("click", () => {
    const one = big.getAttribute("aria-pressed") !== "true";
    kept.set("big cards", one ? "yes" : "");
    lay(one);
  });
  document.getElementById("previous").addEventListener("click", () => go(-1));
  document.getElementById("next").addEventListener("click", () => go(1));
  document.addEventListener("keydown", (event) => {
    if (turn.hidden || event.altKey || event.ctrlKey || event.metaKey) return;
    if (event.key === "PageDown" || event.key === "ArrowRight") { event.preventDefault(); go(1); }
    if (event.key === "PageUp" || event.key === "ArrowLeft") { event.preventDefault(); go(-1); }
  });
  lay(kept.get("big cards") === "yes");
}
