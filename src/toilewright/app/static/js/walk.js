// The walk: a seam is taken up and its two edges moved along each other.
import "./seam-walk.js";
import { w } from "./words.js";

const { make } = document.getElementById("walking").dataset;

for (const button of document.querySelectorAll("[data-walk]")) {
  const place = document.getElementById(button.getAttribute("aria-controls"));
  button.addEventListener("click", () => {
    const open = place.hidden;
    place.hidden = !open;
    place.closest(".seam").classList.toggle("walked", open);
    button.setAttribute("aria-expanded", String(open));
    const what = open ? w("walk.close_it") : w("walk.walk_it");
    button.textContent = what;
    button.setAttribute("aria-label", w("walk.of_seam", { what, name: button.dataset.walk }));
    if (open && !place.firstChild) {
      const walk = document.createElement("seam-walk");
      walk.setAttribute("make", make);
      walk.setAttribute("seam", button.dataset.walk);
      place.append(walk);
    }
    if (open) place.scrollIntoView({ block: "nearest" });
  });
}
