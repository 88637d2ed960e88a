// Printing: papers kept as they are chosen, sheets counted, files made while she watches.
import { alarm, change, post, tell } from "./api.js";
import { follow } from "./work-progress.js";
import { w } from "./words.js";

const place = document.getElementById("printing");
const { make } = place.dataset;
const boxes = [...place.querySelectorAll('[name="paper"]')];
const files = document.getElementById("files");

async function refresh() {
  const answer = await fetch(`/make/${make}/print/files`);
  if (answer.ok) files.innerHTML = await answer.text();
}

for (const box of boxes) {
  box.addEventListener("change", async () => {
    const papers = boxes.filter((b) => b.checked).map((b) => b.value);
    try {
      await change(make, Number(place.dataset.base), [[["papers"], papers]],
        w("print.did_papers", { papers: papers.join(", ") || w("print.no_papers") }));
      await refresh();
    } catch (problem) { alarm(problem); }
  });
}

/** One paper after the other, the chosen ones first: counting takes a moment each. */
async function count() {
  for (const box of [...boxes].sort((a, b) => b.checked - a.checked)) {
    const words = place.querySelector(`[data-count="${box.value}"]`);
    const answer = await fetch(`/make/${make}/print/plan/${box.value}`);
    if (!answer.ok) {
      words.textContent = w("print.no_plan");
      continue;
    }
    const part = document.createElement("template");
    part.innerHTML = await answer.text();
    words.textContent = part.content.querySelector(".words").textContent;
    const picture = part.content.querySelector("svg");
    if (picture) place.querySelector(`[data-map="${box.value}"]`).replaceChildren(picture);
  }
}

const start = document.getElementById("make-files");
start?.addEventListener("click", async () => {
  start.disabled = true;
  try {
    const { job } = await post(`/make/${make}/print`);
    const progress = follow(document.getElementById("progress"), job);
    progress.addEventListener("done", async () => {
      await refresh();
      progress.remove();
      tell(w("print.ready"));
      start.textContent = w("print.again");
      start.disabled = false;
    });
    for (const end of ["failed", "stopped"]) progress.addEventListener(end, () => { start.disabled = false; });
  } catch (problem) {
    start.disabled = false;
    alarm(problem);
  }
});

count().catch(() => {});
