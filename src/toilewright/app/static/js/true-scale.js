// The pieces at true scale: on this screen, or from a projector.
import { alarm, get } from "./api.js";
import { kept } from "./calibration-kept.js";
import { sureness } from "./calibration.js";
import "./piece-table.js";

const page = document.getElementById("true-scale");
const place = document.getElementById("table");
const which = document.getElementById("which");
const unit = document.documentElement.dataset.unit;
const calibration = page.querySelector("screen-calibration");
const details = page.querySelector("details");
let picture;
let table;

const way = () => page.querySelector('input[name="way"]:checked').value;

function sure() {
  const said = page.querySelector(".sure");
  said.textContent = sureness(way(), unit);
  said.classList.toggle("warn", !kept(way()).over);
}

function lay() {
  calibration.setAttribute("which", way());
  table = document.createElement("piece-table");
  table.toggleAttribute("projector", way() === "projector");
  place.replaceChildren(table);
  table.picture = picture;
  table.trueScale(which.value);
  sure();
}

for (const one of page.querySelectorAll('input[name="way"]')) one.addEventListener("change", lay);
which.addEventListener("change", () => table.trueScale(which.value));
document.addEventListener("calibration", () => { sure(); table.trueScale(which.value); });
document.getElementById("full").addEventListener("click", async () => {
  try { await table.requestFullscreen(); } catch (problem) { alarm(problem); }
});
table = null;
try {
  picture = await get(`/make/${page.dataset.make}/pieces`);
  details.open = !kept("screen").over;
  lay();
} catch (problem) { alarm(problem); }
