// The diary: lines with photographs, worn at one press, and the cloth it is of.
import { alarm, change } from "./api.js";
import { bringPictures } from "./photographs.js";
import { w } from "./words.js";

const place = document.getElementById("diary");
const { thing: id, today } = place.dataset;
const save = (rows, words) => change(id, Number(place.dataset.base), rows, words);

const form = document.getElementById("entry");
form.addEventListener("change", (event) => {
  if (event.target.name === "kind") document.getElementById("hint").textContent = event.target.dataset.hint;
});

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const kind = form.kind.value;
  const button = form.querySelector("button");
  if (!form.text.value.trim() && !form.photos.files.length) {
    form.text.setCustomValidity(w("diary.needs_text"));
    form.text.reportValidity();
    return;
  }
  button.disabled = true;
  try {
    const pictures = await bringPictures(form.photos.files, form.date.value);
    const row = { date: form.date.value, kind, text: form.text.value.trim(), pictures };
    await save([[["diary", "+"], row]], w("diary.did_keep", { kind: w(`diary.kind_${kind}`) }));
    form.dataset.kept = "";
    location.reload();
  } catch (problem) {
    button.disabled = false;
    alarm(problem);
  }
});
form.text.addEventListener("input", () => form.text.setCustomValidity(""));

document.getElementById("wear").addEventListener("click", async (event) => {
  event.target.disabled = true;
  try {
    await save([[["diary", "+"], { date: today, kind: "worn" }]], w("diary.did_wear", { date: today }));
    location.reload();
  } catch (problem) {
    event.target.disabled = false;
    alarm(problem);
  }
});

for (const row of place.querySelectorAll("[data-row]")) {
  const path = ["diary", row.dataset.row];
  row.querySelector("[data-take-out]").addEventListener("click", async () => {
    try {
      await save([[path, null]], w("diary.did_take_out"));
      location.reload();
    } catch (problem) { alarm(problem); }
  });
  const rewrite = row.querySelector(".rewrite");
  row.querySelector("[data-rewrite]")?.addEventListener("click", () => {
    rewrite.hidden = !rewrite.hidden;
    if (!rewrite.hidden) rewrite.text.focus();
  });
  rewrite?.addEventListener("submit", async (event) => {
    event.preventDefault();
    try {
      await save([[[...path, "text"], rewrite.text.value.trim()]], w("diary.did_change"));
      location.reload();
    } catch (problem) { alarm(problem); }
  });
}

const cloths = [...place.querySelectorAll('[name="cloth"]')];
for (const box of cloths) {
  box.addEventListener("change", () => {
    const used = cloths.filter((one) => one.checked);
    save([[["cloths"], used.map((one) => one.value)]],
      w("diary.did_cloth", { names: used.map((one) => one.dataset.name).join(", ") || w("diary.no_cloth") })).catch(alarm);
  });
}
