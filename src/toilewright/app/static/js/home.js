// The first page: pictures of the makes, new titles, a new make with what was to be changed next time; the first start.
import "./put.js";
import { alarm, change, post } from "./api.js";
import { follow } from "./work-progress.js";
import { w } from "./words.js";

/** Pictures come one after the other, once the page stands. */
async function pictures() {
  for (const place of document.querySelectorAll("[data-picture]")) {
    const answer = await fetch(place.dataset.picture);
    const drawing = answer.ok ? await answer.text() : "";
    if (drawing) place.innerHTML = drawing;
    place.dataset.shown = drawing ? "pieces" : "none";
  }
}

for (const row of document.querySelectorAll(".make")) {
  const form = row.querySelector(".rename");
  const head = row.querySelector("h2");
  const show = (open) => { form.hidden = !open; head.hidden = open; };
  row.querySelector("[data-rename]").addEventListener("click", () => {
    show(true);
    form.title.focus();
    form.title.select();
  });
  form.addEventListener("keydown", (event) => { if (event.key === "Escape") show(false); });
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const title = form.title.value.trim();
    if (!title) return;
    try {
      const thing = await change(row.dataset.make, Number(row.dataset.base), [[["title"], title]], w("home.did_rename", { title }));
      head.querySelector("a").textContent = thing.document.title;
      show(false);
      row.querySelector("summary").focus();
    } catch (problem) { alarm(problem); }
  });
}

async function begin(values) {
  try {
    const { id } = await post("/makes", values);
    location.href = `/make/${id}`;
  } catch (problem) { alarm(problem); }
}

const form = document.getElementById("new-make");
if (form) {
  const notes = JSON.parse(document.getElementById("notes").textContent);
  const place = document.getElementById("next-time");
  const named = document.getElementById("new-name");

  /** What she wanted to change, of the same body, the same pattern, or the make she starts from. */
  const remind = () => {
    const { body, pattern, started_from: from } = form;
    const wanted = notes.filter((n) => (body.value && n.body === body.value) || (pattern.value && n.pattern === pattern.value)
      || (from?.value && n.make === from.value));
    place.querySelector("ul").replaceChildren(...wanted.map((n) => Object.assign(document.createElement("li"),
      { textContent: w("home.next_time_row", { title: n.title, text: n.text }) })));
    place.hidden = wanted.length === 0;
  };

  form.addEventListener("change", (event) => {
    const isNew = form.body.value === "new";
    named.hidden = !isNew;
    form.new_body.required = isNew;
    if (isNew && event.target === form.body) form.new_body.focus();
    if (form.started_from) {
      if (event.target === form.started_from && form.started_from.value && !form.body.value) {
        form.body.value = form.started_from.selectedOptions[0].dataset.body;
      }
      // The make of another body is no start for this one.
      for (const option of form.started_from.options) {
        option.hidden = option.disabled = Boolean(option.value && form.body.value && option.dataset.body !== form.body.value);
        if (option.disabled && option.selected) form.started_from.value = "";
      }
    }
    remind();
  });

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const isNew = form.body.value === "new";
    begin({ title: form.title.value, body: isNew ? "" : form.body.value, new_body: isNew ? form.new_body.value : "",
      pattern: form.pattern.value, started_from: form.started_from?.value ?? "" });
  });
}

const first = document.getElementById("first-make");
first?.addEventListener("click", () => begin({ title: first.dataset.title }));

const demo = document.getElementById("lay-out-demo");
demo?.addEventListener("click", async () => {
  demo.disabled = true;
  try {
    const { job } = await post("/demo");
    const progress = follow(document.getElementById("demo-progress"), job);
    progress.addEventListener("done", () => location.reload());
    for (const end of ["failed", "stopped"]) progress.addEventListener(end, () => { demo.disabled = false; });
  } catch (problem) {
    demo.disabled = false;
    alarm(problem);
  }
});

pictures().catch(() => {});
