// Speaking with the program: every change is sent with what it was based on, and is saved when the promise is kept.
import { w } from "./words.js";

const csrf = document.querySelector('meta[name="csrf"]')?.content ?? "";

/** What went wrong, as one sentence. */
export class Refused extends Error {
  constructor(kind, text, conflict) {
    super(text);
    this.kind = kind;
    this.conflict = conflict;
  }
}

async function ask(address, options = {}) {
  let answer;
  try {
    answer = await fetch(address, {
      ...options,
      headers: { accept: "application/json", "x-toilewright": csrf, ...options.headers },
    });
  } catch (problem) {
    if (problem.name === "AbortError") throw problem;
    throw new Refused("offline", w("common.offline"));
  }
  let data;
  try { data = await answer.json(); } catch { data = {}; }
  if (!answer.ok) throw new Refused(data.error?.kind ?? "http", data.error?.text ?? w("common.offline"), data.conflict);
  return data;
}

/** Fetch plain values. */
export const get = (address, signal) => ask(address, { signal });

const OUTLIVES = 30000; // characters; browsers let no more than 64 KB arrive after the page was left

/** Send plain values, or a form with files. What is on its way arrives even when she leaves the page. */
export function post(address, body = {}, signal) {
  if (body instanceof FormData) return ask(address, { method: "POST", body, signal });
  const text = JSON.stringify(body);
  return ask(address, { method: "POST", body: text, signal, keepalive: !signal && text.length < OUTLIVES,
    headers: { "content-type": "application/json" } });
}

// Changes of one thing wait for each other, each based on the revision that the one before it left.
const queues = new Map();
const revisions = new Map();

/** The newest revision of a thing that this page knows of. */
export function known(id, revision) {
  if (revision > (revisions.get(id) ?? 0)) revisions.set(id, revision);
  return revisions.get(id) ?? revision;
}

function inTurn(id, act) {
  const before = queues.get(id) ?? Promise.resolve();
  const now = before.catch(() => {}).then(act);
  queues.set(id, now);
  return now;
}

/**
 * Change a thing: rows [[path, value], ...] and what was done, in her words.
 * Resolves to the thing as saved. Where somebody else changed the same entry meanwhile, she is asked.
 */
export function change(id, base, rows, words) {
  return inTurn(id, async () => {
    tell(w("common.saving"));
    let from = known(id, base);
    for (;;) {
      try {
        return saved(await post(`/things/${id}/change`, { base: from, set: rows, words }));
      } catch (problem) {
        if (!problem.conflict) {
          hush();
          throw problem;
        }
        hush();
        const { mine, theirs, thing } = problem.conflict;
        revisions.set(id, thing.revision);
        from = thing.revision;
        if (!(await takeMine(problem.message, mine, theirs))) return shown(thing);
      }
    }
  });
}

/** Undo, redo, or go back to a revision. */
export function step(id, way, base, revision = 0) {
  return inTurn(id, async () => saved(await post(`/things/${id}/${way}`, { base: known(id, base), revision })));
}

/** A new thing. */
export async function add(kind, document, words) {
  return saved(await post("/things", { kind, document, words }));
}

function saved(thing) {
  tell(w("common.saved"));
  return shown(thing);
}

function shown(thing) {
  revisions.set(thing.id, Math.max(thing.revision, revisions.get(thing.id) ?? 0));
  document.dispatchEvent(new CustomEvent("thing", { detail: thing }));
  return thing;
}

/** Ask which of two values shall stand. */
function takeMine(sentence, mine, theirs) {
  const box = document.createElement("dialog");
  box.className = "sheet question";
  const title = Object.assign(document.createElement("h2"), { textContent: w("common.conflict_title"), id: "conflict-title" });
  box.setAttribute("aria-labelledby", title.id);
  const text = Object.assign(document.createElement("p"), { textContent: sentence });
  const row = Object.assign(document.createElement("p"), { className: "actions" });
  const answer = (words, value) => Object.assign(document.createElement("button"), { type: "button", textContent: words, value });
  const own = answer(w("common.conflict_mine", { value: mine }), "mine");
  const other = answer(w("common.conflict_theirs", { value: theirs }), "theirs");
  row.append(other, own);
  box.append(title, text, row);
  document.body.append(box);
  return new Promise((resolve) => {
    for (const button of [own, other]) button.addEventListener("click", () => box.close(button.value));
    box.addEventListener("close", () => { box.remove(); resolve(box.returnValue === "mine"); });
    box.showModal();
  });
}

let quiet;

/** A quiet word at the foot of the page. */
export function tell(words, stays = 2500) {
  const place = document.getElementById("notices");
  place.textContent = words;
  place.classList.add("there");
  clearTimeout(quiet);
  quiet = setTimeout(() => place.classList.remove("there"), stays);
}

/** Nothing is being saved any more. */
function hush() {
  clearTimeout(quiet);
  document.getElementById("notices").classList.remove("there");
}

/** A sentence about something that did not work; stays until she closes it. */
export function alarm(problem) {
  const place = document.getElementById("alarms");
  const row = document.createElement("p");
  row.className = "alarm";
  row.append(Object.assign(document.createElement("span"), { textContent: problem.message ?? String(problem) }));
  const close = Object.assign(document.createElement("button"), { type: "button", className: "plain", textContent: "×" });
  close.setAttribute("aria-label", w("common.close"));
  close.addEventListener("click", () => row.remove());
  row.append(close);
  place.replaceChildren(row);
}
