// The shelf: every entry is kept as soon as it is changed.
import "./put.js";
import { add, alarm, change } from "./api.js";
import { bringPictures } from "./photographs.js";
import { w } from "./words.js";

const shelf = document.getElementById("shelf");
const { grams, today } = shelf.dataset;

/** Grams per square metre from the number in the field, which is in her unit. */
function weight(text) {
  if (!text.trim()) return null;
  const number = Number(text.trim().replace(",", "."));
  if (!(number > 0)) throw new Error(w("shelf.no_number", { example: "120" }));
  return number * Number(grams);
}

function value(field) {
  if (field.type === "checkbox") return field.checked;
  if (field.dataset.unit) return field.value.trim() ? { length: field.value, unit: field.dataset.unit } : null;
  return "weight" in field.dataset ? weight(field.value) : field.value.trim();
}

for (const row of shelf.querySelectorAll(".cloth")) {
  const { thing, base, name } = row.dataset;
  const save = (rows, what) => change(thing, Number(base), rows, w("shelf.did", { name, what }));
  for (const field of row.querySelectorAll("[data-field]")) {
    field.addEventListener("change", async () => {
      try {
        await save([[[field.dataset.field], value(field)]], field.closest("label").innerText.split("\n")[0]);
        field.removeAttribute("aria-invalid");
        await refresh(row);
      } catch (problem) {
        field.setAttribute("aria-invalid", "true");
        alarm(problem);
      }
    });
  }
  row.querySelector("[data-photo]").addEventListener("change", async (event) => {
    try {
      const rows = (await bringPictures(event.target.files, today)).map((one) => [["pictures", "+"], one]);
      await save(rows, w("shelf.photo"));
      event.target.value = "";
      await refresh(row);
    } catch (problem) { alarm(problem); }
  });
}

/** What stands above the fields, as the program says it now; the fields keep the cursor. */
async function refresh(row) {
  const answer = await fetch("/shelf");
  if (!answer.ok) return;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector(`[data-thing="${row.dataset.thing}"].cloth`);
  for (const part of [".swatch", ".about"]) row.querySelector(part).replaceWith(fresh.querySelector(part));
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
