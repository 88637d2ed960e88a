// Pattern files brought in and read; one of them chosen for a make.
import "./put.js";
import { alarm, get, post } from "./api.js";
import { weigh } from "./before.js";
import { follow } from "./work-progress.js";
import { w } from "./words.js";

/** Pictures come one after the other, once the page stands. */
async function pictures() {
  for (const place of document.querySelectorAll("[data-picture]")) {
    const answer = await fetch(place.dataset.picture);
    const drawing = answer.ok ? await answer.text() : "";
    if (drawing) place.innerHTML = drawing;
  }
}

/** Show how far a job is; what stops it stays on the page. Resolves when it is done. */
function watch(place, job) {
  const progress = follow(place, job);
  return new Promise((resolve) => {
    progress.addEventListener("done", () => resolve());
    progress.addEventListener("failed", ({ detail }) => refuse(place, detail.text, true));
  });
}

function refuse(place, text, kept = false) {
  const row = Object.assign(document.createElement("p"), { className: "finding stop" });
  row.append(Object.assign(document.createElement("span"), { textContent: kept ? w("pattern.refused", { text }) : text }));
  place.replaceChildren(row);
}

const drop = document.getElementById("drop");
const file = document.getElementById("drop-file");
const work = document.getElementById("drop-work");

async function bring(one) {
  if (!one) return;
  const most = Number(drop.dataset.most);
  if (one.size > most) { refuse(work, w("work.too_large", { name: one.name, n: Math.round(most / 1e6) })); return; }
  work.replaceChildren(Object.assign(document.createElement("p"), { textContent: w("pattern.bringing", { name: one.name }) }));
  const form = new FormData();
  form.append("file", one);
  const { make } = drop.dataset;
  try {
    // A make that has a pattern already keeps it until the new one is read, and it can be told what would become another.
    const another = make && (await get(`/things/${make}`)).document.pattern;
    if (make && !another) form.append("make", make);
    const { pattern, job } = await post("/patterns/new", form);
    if (job) await watch(work, job);
    if (another) {
      work.replaceChildren();
      if (!(await choose(work, make, pattern))) { location.reload(); return; }
    }
    location.href = make ? `/make/${make}/pattern` : `/pattern/${pattern}`;
  } catch (problem) { refuse(work, problem.message); }
}

/** Only where a file can be dropped; a step that waits for its pattern has no place for one. */
function takeFiles() {
  file.addEventListener("change", () => { bring(file.files[0]); file.value = ""; });
  for (const kind of ["dragenter", "dragover"]) {
    document.addEventListener(kind, (event) => { event.preventDefault(); drop.classList.add("over"); });
  }
  document.addEventListener("dragleave", (event) => { if (!event.relatedTarget) drop.classList.remove("over"); });
  document.addEventListener("drop", (event) => {
    event.preventDefault();
    drop.classList.remove("over");
    bring(event.dataTransfer.files[0]);
  });
}
if (drop) takeFiles();

/** Lay a pattern under a make, once it was told what that does to settled steps; false when she leaves it. */
async function choose(place, make, pattern) {
  const wanted = await weigh(place, { thing: make, set: [[["pattern"], pattern]] }, make);
  if (wanted) await post(`/make/${make}/pattern/${pattern}`);
  return wanted;
}

for (const button of document.querySelectorAll("[data-choose]")) {
  button.addEventListener("click", async () => {
    try {
      if (await choose(button.closest(".actions"), drop.dataset.make, button.dataset.choose)) location.href = button.dataset.next;
    } catch (problem) { alarm(problem); }
  });
}

const waits = document.getElementById("waits");
if (waits) {
  const place = document.getElementById("reading");
  try {
    const { job } = await post(`/pattern/${waits.dataset.thing}/read`);
    if (job) await watch(place, job);
    location.reload();
  } catch (problem) { refuse(place, problem.message); }
}
pictures();
