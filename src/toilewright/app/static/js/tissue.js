// Tissue: each length is saved when she leaves its field, and what does not fit the others is asked about at once.
import { alarm, change, get } from "./api.js";
import { weigh } from "./before.js";
import { chart } from "./pattern-chart.js";
import { w } from "./words.js";

const page = document.getElementById("taking");
const { thing, make, today } = page.dataset;
const unit = document.documentElement.dataset.unit;
const rows = [...page.querySelectorAll(".taking")];
const rowOf = new Map(rows.map((row) => [row.dataset.taking, row]));
const whole = document.getElementById("asked-whole");

/** Save; where settled steps rest on it, she is shown what becomes another, and may leave it. */
async function save(set, words, place) {
  if (make && !(await weigh(place, { thing, set }, make))) return false;
  await change(thing, Number(page.dataset.base), set, words);
  return true;
}

// -- where the tape runs -----------------------------------------------------------------------------

function at(row) {
  for (const one of rows) one.classList.toggle("here", one === row);
  for (const figure of page.querySelectorAll(".where figure")) figure.hidden = figure.dataset.for !== row.dataset.taking;
}

// -- lengths -----------------------------------------------------------------------------------------

function value(input) {
  const text = input.value.trim();
  if (!text) return null;
  if (!rowOf.get(input.name).hasAttribute("data-angle")) return { length: text, unit };
  const number = Number(text.replace(/°|degrees?/, "").replace(",", "."));
  if (Number.isNaN(number)) throw new Error(w("tissue.no_degrees"));
  return number;
}

async function enter(input) {
  const row = rowOf.get(input.name);
  const text = input.value.trim();
  if (text === input.dataset.sent) return;
  input.dataset.sent = text;
  input.removeAttribute("aria-invalid");
  try {
    const words = text ? w("tissue.did_length", { name: input.name, value: text }) : w("tissue.did_out", { name: input.name });
    const kept = await save([[["tissue", "lengths", input.name], value(input)]], words, row.querySelector(".asked"));
    if (!kept) input.value = input.dataset.sent = input.dataset.was;
    await refresh();
  } catch (problem) {
    if (problem.kind === "offline") { delete input.dataset.sent; alarm(problem); return; }
    input.setAttribute("aria-invalid", "true");
    row.querySelector(".asked").replaceChildren(finding("stop", problem.message));
  }
}

for (const row of rows) {
  const input = row.querySelector("input");
  input.dataset.sent = input.dataset.was = input.defaultValue;
  row.addEventListener("focusin", () => at(row));
  input.addEventListener("change", () => enter(input));
  input.addEventListener("focus", () => input.select());
  input.addEventListener("keydown", async (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    await enter(input);
    if (!row.querySelector(".asked").childElementCount && !row.querySelector(".before")) rows[rows.indexOf(row) + 1]?.querySelector("input").focus();
  });
}

for (const button of page.querySelectorAll("[data-leave-out]")) {
  button.addEventListener("click", () => leaveOut(button.dataset.leaveOut, button).then((done) => done && location.reload()).catch(alarm));
}

const leaveOut = (name, place) => save([[["tissue", "lengths", name], null]], w("tissue.did_out", { name }), place);

// -- what the whole is of ----------------------------------------------------------------------------

const slip = document.getElementById("head-slip");

for (const field of page.querySelectorAll("[data-path]")) {
  field.addEventListener("change", async () => {
    const path = field.dataset.path.split("/");
    const text = field.value.trim();
    slip.hidden = true;
    field.removeAttribute("aria-invalid");
    try {
      const kept = field.hasAttribute("data-length") ? (text ? { length: text, unit } : null) : text;
      const done = await save([[path, kept]], w("tissue.did_field", { what: field.dataset.what, value: text }), slip);
      if (!done || path.at(-1) === "garment") location.reload();
      else await refresh();
    } catch (problem) {
      field.setAttribute("aria-invalid", "true");
      slip.textContent = problem.message;
      slip.hidden = false;
    }
  });
}

document.getElementById("sizes").addEventListener("change", async ({ target }) => {
  const sizes = target.value.split(/[,;]/).map((one) => one.trim()).filter(Boolean);
  try {
    await save([[["tissue", "sizes"], sizes]], w("tissue.did_sizes", { value: sizes.join(", ") }), target.closest("label"));
    location.reload();
  } catch (problem) { alarm(problem); }
});

const place = document.getElementById("chart");
if (document.getElementById("chart-details")) {
  chart(place, unit, async (set, words) => {
    await save(set.map(([path, kept]) => [["tissue", ...path], kept]), words, document.getElementById("chart-slip"));
    if (set.some(([, kept]) => kept === null)) location.reload();
    else await refresh();
  });
}

// -- questions ---------------------------------------------------------------------------------------

async function refresh() {
  show(await get(`/pattern/${thing}/tissue?${new URLSearchParams({ make })}`));
}

function show(state) {
  for (const row of rows) {
    const input = row.querySelector("input");
    input.dataset.was = state.rows[row.dataset.taking] ?? "";
    if (input.value.trim() !== input.dataset.sent || input.getAttribute("aria-invalid")) continue;
    input.value = input.dataset.sent = input.dataset.was;
  }
  const standing = document.getElementById("standing");
  if (standing.dataset.html !== state.html) {
    const open = standing.querySelector("details")?.open;
    standing.innerHTML = standing.dataset.html = state.html;
    if (open && standing.querySelector("details")) standing.querySelector("details").open = true;
  }
  const settle = document.querySelector("[data-settle]");
  if (settle) settle.disabled = !state.ready;
  for (const box of page.querySelectorAll(".taking .asked")) {
    if (!box.closest(".taking").querySelector("[aria-invalid]")) box.replaceChildren();
  }
  whole.replaceChildren();
  for (const one of state.asked) {
    const row = rowOf.get(one.about);
    if (row?.querySelector("[aria-invalid]")) continue;
    (row ? row.querySelector(".asked") : whole).append(question(one, row));
  }
}

function finding(kind, text) {
  const box = Object.assign(document.createElement("div"), { className: `finding ${kind}` });
  const inner = document.createElement("div");
  inner.append(Object.assign(document.createElement("p"), { textContent: text }));
  box.append(inner);
  return box;
}

function question(one, row) {
  const box = finding(one.kind, one.text);
  if (!row) return box;
  const name = one.about;
  const answers = Object.assign(document.createElement("p"), { className: "actions" });
  if (one.kind === "look") {
    answers.append(button(w("tissue.right_as_it_is"), () => save([[["tissue", "sure", one.key], today]], w("tissue.did_sure", { name }), row.querySelector(".asked")), row));
  }
  answers.append(button(w("tissue.leave_out"), () => leaveOut(name, row.querySelector(".asked")), row));
  box.firstElementChild.append(answers);
  return box;
}

function button(words, act, row) {
  const one = Object.assign(document.createElement("button"), { type: "button", textContent: words });
  one.addEventListener("click", async () => {
    try {
      await act();
      await refresh();
      row.querySelector("input").focus();
    } catch (problem) { alarm(problem); }
  });
  return one;
}

at(rows.find((row) => !row.querySelector("input").value) ?? rows[0]);
document.getElementById("standing").dataset.html = "";
show(JSON.parse(document.getElementById("state").textContent));
