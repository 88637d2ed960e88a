// The shelf: every entry is kept as soon as it is changed.
import "./put.js";
import { add, alarm, change, get } from "./api.js";
import { bringPictures } from "./photographs.js";
import { w } from "./words.js";

const shelf = document.getElementById("shelf");
const { grams, metres, today, unit } = shelf.dataset;

/** The number in a field, times what makes it ours: grams and metres from her unit, parts from per cent. */
function number(text, times, example) {
  if (!text.trim()) return null;
  const found = Number(text.trim().replace(",", "."));
  if (!(found >= 0)) throw new Error(w("shelf.no_number", { example }));
  return found * times;
}

function value(field) {
  const { dataset } = field;
  if (field.type === "checkbox") return field.checked !== ("turned" in dataset);
  if (dataset.unit) return field.value.trim() ? { length: field.value, unit: dataset.unit } : null;
  if ("weight" in dataset) return number(field.value, Number(grams), "120") || null;
  if ("price" in dataset) return number(field.value, 1 / Number(metres), "12.50");
  if ("part" in dataset) return number(field.value, 0.01, "20");
  return field.value.trim();
}

for (const row of shelf.querySelectorAll(".cloth")) {
  const { thing, base, name } = row.dataset;
  const save = (rows, what) => change(thing, Number(base), rows, w("shelf.did", { name, what }));
  for (const field of row.querySelectorAll("[data-field]")) {
    field.addEventListener("change", async () => {
      try {
        await save([[field.dataset.field.split("/"), value(field)]], field.closest("label").innerText.split("\n")[0]);
        field.removeAttribute("aria-invalid");
        await refresh(row);
      } catch (problem) {
        field.setAttribute("aria-invalid", "true");
        alarm(problem);
      }
    });
  }
  onIt(row, save);
  row.querySelector("[data-photo]").addEventListener("change", async (event) => {
    try {
      const rows = (await bringPictures(event.target.files, today)).map((one) => [["pictures", "+"], one]);
      await save(rows, w("shelf.photo"));
      event.target.value = "";
      await refresh(row);
    } catch (problem) { alarm(problem); }
  });
}

/** Flaws, and the corners of a remnant: noted one by one, taken out one by one. */
function onIt(row, save) {
  const length = (field) => ({ length: field.value, unit });
  const act = async (rows, what, form) => {
    try {
      await save(rows, what);
      form?.reset();
      await refresh(row);
      (form?.querySelector("input") ?? row.querySelector("details[open] details[open] summary"))?.focus();
    } catch (problem) { alarm(problem); }
  };
  const filled = (form, text) => {
    const missing = [...form.querySelectorAll("input")].find((one) => !one.value.trim());
    missing?.focus();
    if (missing) alarm(new Error(text));
    return !missing;
  };
  const corners = async () => (await get(`/things/${row.dataset.thing}`)).document.outline;
  const flaw = row.querySelector("[data-flaw]");
  flaw.addEventListener("submit", (event) => {
    event.preventDefault();
    if (!filled(flaw, w("shelf.flaw_missing"))) return;
    const names = ["x", "y", "along", "across"];
    act([[["flaws", "+"], Object.fromEntries(names.map((name) => [name, length(flaw.elements[name])]))]], w("shelf.flaw_add"), flaw);
  });
  const corner = row.querySelector("[data-corner]");
  corner.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (!filled(corner, w("shelf.corner_missing"))) return;
    act([[["outline"], [...await corners(), [length(corner.elements.x), length(corner.elements.y)]]]], w("shelf.corner_add"), corner);
  });
  row.addEventListener("click", async (event) => {
    const { flawOut, cornerOut } = event.target.closest("button")?.dataset ?? {};
    if (flawOut) act([[["flaws", flawOut], null]], w("shelf.take_out"));
    if (cornerOut) act([[["outline"], (await corners()).filter((one, n) => n !== Number(cornerOut))]], w("shelf.take_out"));
  });
}

/** What stands above the fields, as the program says it now; the fields keep the cursor. */
async function refresh(row) {
  const answer = await fetch("/shelf");
  if (!answer.ok) return;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector(`[data-thing="${row.dataset.thing}"].cloth`);
  for (const part of [".swatch", ".about", "[data-told]", "[data-flaws]", "[data-corners]"]) row.querySelector(part).replaceWith(fresh.querySelector(part));
}

const form = document.getElementById("new-cloth");
form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const name = form.elements.name.value.trim();
  try {
    const thing = await add("cloth", { name, fibre: form.fibre.value.trim() }, w("shelf.did_new", { name }));
    location.hash = thing.id;
    location.reload();
  } catch (problem) { alarm(problem); }
});

// A cloth that has just come onto the shelf lies open.
if (location.hash) {
  const open = shelf.querySelector(`[data-thing="${CSS.escape(location.hash.slice(1))}"] > details`);
  if (open) {
    open.open = true;
    open.querySelector('[data-field="width"]').focus();
  }
}
