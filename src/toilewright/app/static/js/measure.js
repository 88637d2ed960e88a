// Measuring: each number is saved when she leaves its field, and a doubt about it is said at once.
import { Refused, alarm, change, get } from "./api.js";
import { panel, touched, weigh } from "./before.js";
import { w } from "./words.js";

const page = document.getElementById("measuring");
const { body, sheet, make, today } = page.dataset;
const unit = document.documentElement.dataset.unit;
const rows = [...page.querySelectorAll(".measure")];
const rowOf = new Map(rows.map((row) => [row.dataset.measure, row]));
const inputs = [...page.querySelectorAll(".measure input[data-side]")];
let current = rows[0];
let saving = Promise.resolve();
const waiting = new Map(); // by field, a number that is not saved before she has seen what it changes
const sending = new Map(); // by field, a number that is on its way
let doubtful; // the measure about which a question has just come up

const save = (changes, words) => change(body, Number(page.dataset.base), changes, words);
const onSheet = (...path) => ["sheets", sheet, ...path];

// -- where the tape goes -----------------------------------------------------------------------------

/** The measure she is at: its picture is shown, and alone where she goes one by one. */
function at(row) {
  doubtful = undefined;
  current = row;
  for (const one of rows) one.classList.toggle("here", one === row);
  for (const figure of page.querySelectorAll(".where figure")) figure.hidden = figure.dataset.for !== row.dataset.measure;
  for (const group of page.querySelectorAll(".group")) group.classList.toggle("has-here", group.contains(row));
  document.getElementById("at").textContent = w("measure.at", { n: rows.indexOf(row) + 1, all: rows.length });
  document.getElementById("previous").disabled = row === rows[0];
  document.getElementById("next").disabled = row === rows.at(-1);
}

/** On to another measure; where she goes one by one, a doubt that has just come up is shown before she goes on. */
async function go(steps) {
  await saving;
  if (waits(current)) return;
  if (doubtful === current && page.classList.contains("one")) {
    doubtful = undefined;
    return;
  }
  const row = rows[rows.indexOf(current) + steps];
  if (!row) return;
  at(row);
  row.querySelector("input").focus();
}

for (const row of rows) row.addEventListener("focusin", () => { if (row !== current) at(row); });
document.getElementById("previous").addEventListener("click", () => go(-1));
document.getElementById("next").addEventListener("click", () => go(1));

const singly = document.getElementById("singly");

function mode(one) {
  page.classList.toggle("one", one);
  singly.setAttribute("aria-pressed", String(one));
  page.querySelector(".turn").hidden = !one;
}

const remembered = localStorage.getItem("measure-singly");
mode(remembered === null ? matchMedia("(max-width: 40rem)").matches : remembered === "yes");
singly.addEventListener("click", () => {
  const one = !page.classList.contains("one");
  localStorage.setItem("measure-singly", one ? "yes" : "no");
  mode(one);
});

// -- numbers -----------------------------------------------------------------------------------------

const sidePath = (input) => onSheet(input.dataset.side || "measures", input.name);
const isAngle = (name) => rowOf.get(name).hasAttribute("data-angle");

const degrees = (text) => Number(text.replace(/°|degrees?/, "").replace(",", ".").trim() || "-");

async function keep(input, value, words) {
  const { sent } = input.dataset;
  sending.set(input, sent);
  const mark = input.parentElement.querySelector(".kept");
  mark.hidden = true;
  try {
    await save([[sidePath(input), value]], words);
    arrived(input, sent);
    mark.hidden = false;
    await refresh(input.name);
  } catch (problem) {
    if (problem instanceof Refused && problem.kind !== "offline") refuse(input, problem.message);
    else {
      delete input.dataset.sent;
      alarm(problem);
    }
  } finally { arrived(input, sent); }
}

const arrived = (input, text) => { if (sending.get(input) === text) sending.delete(input); };

async function enter(input) {
  const text = input.value.trim();
  if (text === input.dataset.sent) return;
  input.dataset.sent = text;
  withdraw(input);
  input.removeAttribute("aria-invalid");
  if (text === input.dataset.was) return;
  sending.set(input, text);
  const value = isAngle(input.name) ? degrees(text) : { length: text, unit };
  if (!text) await offer(input, null, w("measure.did_clear", { name: input.name }));
  else if (Number.isNaN(value)) refuse(input, w("measure.no_angle"));
  else await offer(input, value, w("measure.did_measure", { name: input.name, value: text }));
}

/** Save a number; where settled steps rest on it and become others, that is shown first, and she takes or leaves it. */
async function offer(input, value, words) {
  const text = input.dataset.sent;
  const place = livePlace(rowOf.get(input.name));
  const makes = await touched({ thing: body, set: [[sidePath(input), value]] }).catch(() => []);
  if (input.dataset.sent !== text) return;
  if (!makes.length) {
    await keep(input, value, words);
    return;
  }
  arrived(input, text);
  const box = panel(makes, make, { title: "measure.waits", take: () => decide(input, true).then(() => go(1)), leave: () => decide(input, false) });
  waiting.set(input, { box, act: () => keep(input, value, words) });
  place.append(box);
  box.scrollIntoView({ block: "nearest" });
  // A keyboard on the screen would lie over it.
  if (matchMedia("(pointer: coarse)").matches) box.querySelector(".take").focus();
  hold();
}

/** Where it is read out: there before anything is in it. */
function livePlace(row) {
  const after = row.querySelector(".asked");
  if (!after.nextElementSibling?.matches(".ahead-here")) {
    const place = Object.assign(document.createElement("div"), { className: "ahead-here" });
    place.setAttribute("aria-live", "polite");
    after.after(place);
  }
  return after.nextElementSibling;
}

function decide(input, yes) {
  const { act } = waiting.get(input);
  withdraw(input);
  if (!yes) input.value = input.dataset.sent = input.dataset.was;
  input.focus();
  saving = Promise.all([saving, yes ? act() : null]);
  return saving;
}

function withdraw(input) {
  waiting.get(input)?.box.remove();
  waiting.delete(input);
  hold();
}

/** While a number waits, the step cannot be settled. */
function hold() {
  const settle = document.querySelector("[data-settle]");
  if (settle) settle.disabled = waiting.size > 0;
}

function waits(row) {
  const found = [...waiting].find(([input]) => rowOf.get(input.name) === row);
  found?.[1].box.scrollIntoView({ block: "nearest" });
  return Boolean(found);
}

window.addEventListener("beforeunload", (event) => { if (waiting.size) event.preventDefault(); });

/** It cannot be read as a number: what she wrote stays in the field, unsaved, with the sentence under it. */
function refuse(input, sentence) {
  arrived(input, input.dataset.sent);
  input.setAttribute("aria-invalid", "true");
  const line = document.createElement("p");
  line.className = "finding stop";
  line.textContent = sentence;
  const place = rowOf.get(input.name).querySelector(".asked");
  delete place.dataset.keys;
  place.replaceChildren(line);
  doubt(rowOf.get(input.name));
}

/** A question came up about what she has just entered; she sees it, also where little fits on the screen. */
function doubt(row) {
  doubtful = row;
  if (page.classList.contains("one")) row.querySelector(".asked").scrollIntoView({ block: "nearest" });
}

for (const input of inputs) {
  input.dataset.sent = input.dataset.was = input.defaultValue;
  input.addEventListener("change", () => { saving = enter(input); });
  input.addEventListener("keydown", async (event) => {
    if (event.key === "Escape" && waiting.has(input)) decide(input, false);
    if (event.key !== "Enter") return;
    event.preventDefault();
    if (waiting.has(input) && input.value.trim() === input.dataset.sent) decide(input, true);
    else saving = Promise.all([saving, enter(input)]);
    await saving;
    if (waiting.has(input)) return;
    const side = inputs.slice(inputs.indexOf(input) + 1).find((one) => rowOf.get(one.name) === current && !one.closest("details:not([open])"));
    if (side) side.focus();
    else go(1);
  });
  input.addEventListener("focus", () => input.select());
}

const stood = (choices) => [...choices].find((one) => one.defaultChecked || one.defaultSelected);

for (const choice of page.querySelectorAll('[name="waist-place"]')) {
  choice.addEventListener("change", async () => {
    const rows = [[onSheet("waist_place"), choice.value]];
    const all = page.querySelectorAll('[name="waist-place"]');
    try {
      if (await weigh(choice.closest("fieldset"), { thing: body, set: rows }, make)) {
        await save(rows, w("measure.did_waist"));
        for (const one of all) one.defaultChecked = one === choice;
        await refresh("waist girth");
      } else {
        for (const one of all) one.checked = one.defaultChecked;
        (stood(all) ?? choice).focus();
      }
    } catch (problem) { alarm(problem); }
  });
}

// -- questions ---------------------------------------------------------------------------------------

async function refresh(entered) {
  const asked = new URLSearchParams({ sheet, ...(make ? { make } : {}) });
  show(await get(`/body/${body}/state?${asked}`), entered);
}

function show(state, entered) {
  for (const [name, said] of Object.entries(state.rows)) {
    const row = rowOf.get(name);
    for (const input of row.querySelectorAll("input[data-side]")) {
      input.dataset.was = said.values[input.dataset.side];
      // What she is writing, or wrote before this script ran, stays; what was sent shows what is kept, which may be theirs.
      const writing = input.value.trim() !== input.dataset.sent;
      if (writing || sending.has(input) || input.getAttribute("aria-invalid") || waiting.has(input)) continue;
      input.dataset.sent = input.dataset.was;
      if (input.value !== input.dataset.was) input.value = input.dataset.was;
    }
    const difference = row.querySelector(".difference");
    if (difference) difference.textContent = said.difference;
  }
  for (const [key, words] of Object.entries(state.counts)) {
    page.querySelector(`[data-count="${key}"]`).textContent = words;
  }
  for (const [name, row] of rowOf) {
    const guess = row.querySelector(".guess");
    guess.textContent = state.guesses[name] ?? "";
    guess.hidden = !guess.textContent;
  }
  const next = document.getElementById("take-next");
  next.hidden = !state.next;
  if (state.next) Object.assign(next.querySelector("a"), { textContent: state.next, href: `#${rowOf.get(state.next).id}` });
  document.getElementById("sheet-now").textContent = state.sheet;
  ask(state.questions, entered);
}

function ask(questions, entered) {
  const places = new Map(rows.map((row) => [row.querySelector(".asked"), []]));
  const whole = document.getElementById("about-sheet");
  places.set(whole, []);
  for (const question of questions) {
    const name = question.measures.includes(entered) ? entered : question.measures[0];
    places.get(name ? rowOf.get(name).querySelector(".asked") : whole).push(question);
  }
  for (const [place, own] of places) {
    const row = place.closest(".measure");
    const same = own.map((question) => question.key).join("|");
    if (row?.querySelector("[aria-invalid]")) continue;
    if (place.dataset.keys !== same) place.replaceChildren(...own.map(asQuestion));
    place.dataset.keys = same;
    if (own.length && row?.dataset.measure === entered) doubt(row);
  }
}

function asQuestion(question) {
  const box = document.createElement("div");
  box.className = "finding look";
  const inner = document.createElement("div");
  const text = document.createElement("p");
  text.textContent = question.text;
  const answers = document.createElement("p");
  answers.className = "actions";
  for (const answer of question.answers) answers.append(button(answer.words, () => take(answer)));
  if (question.code === "old-sheet") {
    answers.append(button(w("measure.new_sheet"), async () => document.getElementById("new-sheet").click()));
  }
  if (question.code !== "which-waist") answers.append(button(w("measure.right_as_it_is"), () => sure(question)));
  inner.append(text, answers);
  box.append(inner);
  return box;
}

function button(words, act) {
  const one = document.createElement("button");
  one.type = "button";
  one.textContent = words;
  one.addEventListener("click", () => act().catch(alarm));
  return one;
}

async function take(answer) {
  const rows = [[onSheet(answer.side || "measures", answer.measure), answer.value]];
  if (!(await weigh(rowOf.get(answer.measure).querySelector(".asked"), { thing: body, set: rows }, make))) return;
  await save(rows, w("measure.did_measure", { name: answer.measure, value: answer.words }));
  await refresh(answer.measure);
  focusOn(answer.measure);
}

async function sure(question) {
  await save([[onSheet("sure", question.key), today]], w("measure.did_sure", { name: question.measures[0] ?? sheet }));
  await refresh(question.measures[0]);
  focusOn(question.measures[0]);
}

/** The button she pressed is gone; she goes on from the number it was about. */
function focusOn(name) {
  (name ? rowOf.get(name) : page).querySelector("input, select").focus();
}

// -- the sheet, and what she always needs ------------------------------------------------------------

const newest = () => document.querySelector("#sheets option").value;

/** On to another sheet; a make uses from now on what she looks at. False when she leaves it as it is. */
async function use(id, ofMake) {
  if (make) {
    const rows = Object.entries(ofMake).map(([key, value]) => [[key], value]);
    if (!(await weigh(page.querySelector(".about .actions"), { thing: make, set: rows }, make))) return false;
    const { revision } = await get(`/things/${make}`);
    await change(make, revision, rows, w("measure.did_which"));
  }
  location.href = make ? location.pathname : `${location.pathname}?sheet=${id}`;
  return true;
}

async function choose(select, id, ofMake) {
  if (!(await use(id, ofMake))) select.value = stood(select.options).value;
}

const reacts = (id, kind, act) => document.getElementById(id)?.addEventListener(kind, (event) => act(event.currentTarget).catch(alarm));

reacts("sheets", "change", (select) => choose(select, select.value, { sheet: select.value === newest() ? "" : select.value }));
reacts("whose", "change", (select) => choose(select, "", { body: select.value, sheet: "" }));
reacts("new-sheet", "click", async ({ dataset }) => {
  const fresh = JSON.parse(dataset.fresh);
  const thing = await save([[["sheets", "+"], fresh]], w("measure.did_sheet", { date: fresh.date }));
  if (!(await use(thing.document.sheets.at(-1).id, { sheet: "" }))) location.reload();
});
reacts("date", "change", async ({ value }) => {
  if (value) await save([[onSheet("date"), value]], w("measure.did_date", { date: value }));
});
reacts("name", "change", async ({ value }) => {
  if (value.trim()) await save([[["name"], value.trim()]], w("measure.did_name"));
});

reacts("posture", "change", ({ value }) => {
  const notes = value.split("\n").map((line) => line.trim()).filter(Boolean);
  return save([[["posture"], notes]], w("measure.did_posture"));
});

reacts("add-wish", "click", async (button) => {
  const name = document.getElementById("wish").value;
  const rows = [[["alterations", "+"], { name }]];
  if (!(await weigh(button.closest(".actions"), { thing: body, set: rows }, make))) return;
  await save(rows, w("measure.did_wish", { name }));
  location.reload();
});

for (const row of page.querySelectorAll("[data-wish]")) {
  const path = ["alterations", row.dataset.wish];
  const { name } = row.dataset;
  row.querySelector(".away").addEventListener("click", async () => {
    try {
      if (!(await weigh(row.querySelector(".needs"), { thing: body, set: [[path, null]] }, make))) return;
      await save([[path, null]], w("measure.did_no_wish", { name }));
      location.reload();
    } catch (problem) { alarm(problem); }
  });
  row.querySelector("input").addEventListener("change", async ({ target }) => {
    const text = target.value.trim();
    const rows = [[[...path, "amount"], text ? { length: text, unit } : null]];
    try {
      if (await weigh(row.querySelector(".needs"), { thing: body, set: rows }, make)) {
        await save(rows, w("measure.did_amount", { name }));
        target.defaultValue = text;
      } else target.value = target.defaultValue;
    } catch (problem) { alarm(problem); }
  });
}

// The first that is still wanted; what nobody has asked for can wait.
at(rows.find((row) => row.hasAttribute("data-wanted") && !row.querySelector("input").value) ?? rows[0]);
show(JSON.parse(document.getElementById("state").textContent));

// -- a link to one measure ---------------------------------------------------------------------------

function linked() {
  const row = rows.find((one) => one.id && `#${one.id}` === location.hash);
  if (!row) return;
  for (let one = row.closest("details"); one; one = one.parentElement.closest("details")) one.open = true;
  at(row);
  row.scrollIntoView({ block: "center" });
  row.querySelector("input").focus();
}

window.addEventListener("hashchange", linked);
linked();
