// The toile: she points at a place, chooses the trade's words, measures where it can be measured; readings go into the pattern at one touch.
import { alarm, change, known, post } from "./api.js";
import { w } from "./words.js";

const page = document.getElementById("toile");
const { make, base, unit } = page.dataset;
const save = (rows, words) => change(make, known(make, Number(base)), rows, words);

/** Act, then show the page anew; what she pressed can be pressed again where it failed. */
async function then(button, act) {
  button.disabled = true;
  try {
    await act();
    location.reload();
  } catch (problem) {
    button.disabled = false;
    alarm(problem);
  }
}

const form = document.getElementById("see");
const zones = [...document.querySelectorAll("#figure .zone")];
const LABELS = { distance: "toile.amount_distance", pinch: "toile.amount_pinch", opening: "toile.amount_opening" };

function show() {
  const room = form.room.value;
  for (const one of form.querySelectorAll(".signs")) one.hidden = one.dataset.room !== room;
  for (const one of zones) one.classList.toggle("chosen", one.dataset.room === room);
  document.getElementById("no-place").hidden = Boolean(room);
  const sign = form.querySelector(".signs:not([hidden]) [name=sign]:checked");
  form.querySelector(".measured").hidden = !sign;
  if (!sign) return;
  const { takes, how } = sign.dataset;
  document.getElementById("amount-field").hidden = !takes;
  document.getElementById("how-taken").textContent = takes ? `${how}; ${w("toile.unmeasured")}` : "";
  if (takes) document.getElementById("amount-label").textContent = w(LABELS[takes]);
  document.getElementById("side-field").hidden = !("sided" in sign.dataset);
}

function slip(text = "") {
  const place = form.querySelector(".slip");
  place.textContent = text;
  place.hidden = !text;
}

for (const zone of zones) {
  zone.addEventListener("click", () => {
    form.querySelector(`[name=room][value="${zone.dataset.room}"]`).checked = true;
    show();
  });
}
form.addEventListener("change", () => { slip(); show(); });
form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const sign = form.querySelector(".signs:not([hidden]) [name=sign]:checked");
  if (!sign) { slip(w("toile.no_sign")); return; }
  const button = form.querySelector("button");
  button.disabled = true;
  try {
    await post(`/make/${make}/toile/seen`, { sign: sign.value, amount: sign.dataset.takes ? form.amount.value : "", unit,
      side: "sided" in sign.dataset ? form.side.value : "both", fresh: form.fresh?.checked ?? false });
    location.reload();
  } catch (problem) {
    button.disabled = false;
    slip(problem.message);
  }
});

const box = document.getElementById("print-toile");
box.addEventListener("change", () => save([[["print_toile"], box.checked]], w("toile.did_print")).catch(alarm));

for (const button of page.querySelectorAll("[data-out]")) {
  const [toile, row] = JSON.parse(button.dataset.out);
  button.addEventListener("click", () => then(button, () => save([[["toiles", toile, "seen", row], null]], w("toile.said_out", { what: button.dataset.what }))));
}
for (const button of page.querySelectorAll("[data-take]")) {
  const row = JSON.parse(button.dataset.take);
  button.addEventListener("click", () => then(button, () => save([[["alterations", "+"], row]], w("toile.said_take", { name: row.name }))));
}
for (const button of page.querySelectorAll("[data-always]")) {
  button.addEventListener("click", () => then(button, () => post(`/make/${make}/toile/always`, JSON.parse(button.dataset.always))));
}
const teach = document.getElementById("teach");
teach?.addEventListener("click", () => then(teach, () => post(`/make/${make}/toile/learn`)));
show();
