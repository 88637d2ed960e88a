// The cloth step: what it is cut from is kept as it is chosen; the lay and the widths are looked for while she watches.
import { alarm, change, known, post, tell } from "./api.js";
import { ticks } from "./cloth-ticks.js";
import { follow } from "./work-progress.js";
import { w } from "./words.js";

const page = document.getElementById("cloth");
const { make, base } = page.dataset;

/** The page as the program says it now: parts are put in the place of what stands there, and the cursor stays. */
async function refresh(...names) {
  const answer = await fetch(location.pathname);
  if (!answer.ok) return;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  const open = new Set([...page.querySelectorAll("details[id][open]")].map((one) => one.id));
  const at = document.activeElement?.id;
  for (const name of names) {
    const [old, now] = [document.getElementById(name), fresh.getElementById(name)];
    if (!old || !now) continue;
    const half = new Map([...old.querySelectorAll("input")].filter(halfTyped).map((one) => [key(one), one.value]));
    old.innerHTML = now.innerHTML;
    for (const one of old.querySelectorAll("input")) if (half.has(key(one))) one.value = half.get(key(one));
  }
  for (const one of page.querySelectorAll("details[id]")) one.open ||= open.has(one.id);
  if (at) document.getElementById(at)?.focus();
  page.dataset.cloths = fresh.getElementById("cloth").dataset.cloths;
  ticks(page);
}

const key = (input) => input.id || `${input.form?.dataset.use} ${input.name}`;
const halfTyped = (input) => input.value !== input.defaultValue && (input === document.activeElement || input.form?.matches(".shop"));

const PARTS = ["uses", "shops", "lay", "widths"];

let turn = Promise.resolve();

/** One after the other, however fast she chooses: a row that the change before has made is known to the next. */
function save(rows, words, field) {
  turn = turn.then(() => keep(rows, words, field));
  return turn;
}

/** Keep rows, then show what they make of the page; what cannot be kept stays in its field, marked. */
async function keep(rows, words, field) {
  try {
    await change(make, known(make, Number(base)), rows.flatMap((one) => (typeof one === "function" ? one() : [one])), words);
    field?.removeAttribute("aria-invalid");
    await refresh(...PARTS);
  } catch (problem) {
    field?.setAttribute("aria-invalid", "true");
    alarm(problem);
  }
}

const rowOf = (use) => page.querySelector(`.use[data-use="${CSS.escape(use)}"]`)?.dataset.row;

/** Rows that set entries of one cloth of the make, which may not be kept yet: settled when their turn comes. */
function entries(place, values) {
  const { use, row } = place.dataset;
  return [() => {
    const id = rowOf(use) ?? row;
    return id ? Object.entries(values).map(([name, value]) => [["lays", id, name], value])
      : [[["lays", "+"], { use, ...Object.fromEntries(Object.entries(values).filter(([, value]) => value !== null)) }]];
  }];
}

const length = (field) => (field.value.trim() ? { length: field.value, unit: field.dataset.unit } : null);
const said = (field) => w("cloth.said_cloth", { use: field.closest("[data-use]").dataset.use, what: field.closest("label").innerText.split("\n")[0] });

page.addEventListener("change", (event) => {
  const field = event.target;
  const use = field.closest(".use");
  if (field.dataset.set === "cloth") {
    const rows = entries(use, { cloth: field.value });
    const cloths = JSON.parse(page.dataset.cloths);
    if (field.value && !cloths.includes(field.value)) rows.push([["cloths"], [...cloths, field.value]]);
    save(rows, said(field), field);
  } else if (field.dataset.set) {
    save(entries(use, { [field.dataset.set]: field.dataset.unit ? length(field) : field.value }), said(field), field);
  } else if ("matchAdd" in field.dataset && field.value) {
    save(entries(use, { match: [...JSON.parse(field.dataset.match), field.value] }), said(field), field);
  } else if (field.dataset.piece) {
    move(use, field);
  } else if (field.dataset.with) {
    const along = [...page.querySelectorAll("[data-with]:checked")];
    save([[["lay_with"], along.map((one) => one.dataset.with)]],
      along.length ? w("cloth.said_with", { titles: along.map((one) => one.dataset.title).join(", ") }) : w("cloth.said_alone"), field);
  } else if ("gap" in field.dataset) {
    save([[["lay_gap"], length(field)]], w("cloth.said_gap", { what: field.value }), field);
  }
});

/** A piece is cut from this cloth, or from the one the pattern says again; never from two. */
function move(use, field) {
  const pieces = (place) => [...place.querySelectorAll("[data-piece]:checked:not(:disabled)")].map((one) => one.dataset.piece);
  const rows = entries(use, { pieces: pieces(use) });
  if (field.checked) {
    for (const other of page.querySelectorAll(".use")) {
      if (other === use || !other.dataset.row) continue;
      const left = pieces(other).filter((name) => name !== field.dataset.piece);
      if (left.length < pieces(other).length) rows.push(...entries(other, { pieces: left }));
    }
  }
  save(rows, said(field), field);
}

page.addEventListener("click", (event) => {
  const button = event.target.closest("button");
  if (!button) return;
  const { matchOut, shopOut, takeWidth, use, row } = button.dataset;
  if ("joinPieces" in button.dataset) {
    join(button);
  } else if (matchOut) {
    const place = button.closest(".use");
    const match = JSON.parse(place.querySelector("[data-match]").dataset.match);
    save(entries(place, { match: match.filter((one) => one !== matchOut) }), w("cloth.said_cloth", { use: place.dataset.use, what: w("cloth.match") }));
  } else if ("rowOut" in button.dataset) {
    const place = button.closest(".use");
    save([[["lays", place.dataset.row], null]], w("cloth.said_out", { use: place.dataset.use }));
  } else if (shopOut) {
    shop(button, { use, row, key: shopOut });
  } else if (takeWidth) {
    save(entries(button, { width: Number(takeWidth) }), w("cloth.said_cloth", { use, what: w("cloth.width") }));
  }
});

/** Something that the program works out before it keeps it. */
async function send(what, values) {
  const thing = await post(`/make/${make}/cloth/${what}`, values);
  known(make, thing.revision);
  document.dispatchEvent(new CustomEvent("thing", { detail: thing }));
  tell(w("common.saved"));
}

/** The pieces that the cloth is too narrow for are divided; the list of extra pieces has the joins then. */
async function join(button) {
  await turn;
  button.disabled = true;
  try {
    await send("joins", {});
    await refresh("extras-list", "extra-offers", ...PARTS);
    document.getElementById("lay-out").focus();
  } catch (problem) {
    alarm(problem);
    button.disabled = false;
  }
}

/** What envelope and shop say of one width: read by the program, which knows how she writes lengths. */
async function shop(place, values) {
  await turn;
  try {
    await send("shop", values);
    if (place.matches("form")) place.reset();
    await refresh(...PARTS);
    return true;
  } catch (problem) {
    alarm(problem);
    return false;
  }
}

page.addEventListener("submit", async (event) => {
  const form = event.target;
  event.preventDefault();
  if (form.matches(".shop")) {
    const { use, row } = form.dataset;
    const at = form.elements.width.id;
    if (await shop(form, { use, row, width: form.elements.width.value, envelope: form.elements.envelope.value, price: form.elements.price.value })) {
      document.getElementById(at)?.focus();
    }
  } else if (form.id === "another-cloth") {
    const use = form.elements.use.value.trim();
    await save([[["lays", "+"], { use }]], w("cloth.said_new", { use }));
    form.reset();
  } else if (form.id === "search") {
    look("lay", "lay", { seconds: Number(form.elements.seconds.value) }, document.getElementById("lay-out"));
  }
});

/** Longer work: begun, watched, and what it found put on the page; stopped, what it had found until then. */
async function look(what, part, asked, button) {
  button.disabled = true;
  try {
    const { job } = await post(`/make/${make}/cloth/${part}`, asked);
    watch(what, part, job, button);
  } catch (problem) {
    button.disabled = false;
    alarm(problem);
  }
}

function watch(what, part, job, button) {
  button.disabled = true;
  const progress = follow(document.getElementById(`${what}-progress`), job);
  progress.addEventListener("done", async () => {
    await refresh(part);
    progress.remove();
    button.textContent = w(what === "lay" ? "cloth.lay_again" : "cloth.buy_again");
    button.disabled = false;
    document.getElementById(`${what}-title`).scrollIntoView({ block: "start" });
  });
  for (const end of ["failed", "stopped"]) progress.addEventListener(end, () => { button.disabled = false; });
}

const compare = document.getElementById("compare");
compare?.addEventListener("click", () => look("buy", "widths", { seconds: 3 }, compare));
if (page.dataset.jobLay && compare) watch("lay", "lay", page.dataset.jobLay, document.getElementById("lay-out"));
if (page.dataset.jobBuy && compare) watch("buy", "widths", page.dataset.jobBuy, compare);
ticks(page);
