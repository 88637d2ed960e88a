// What every page has: unit and theme at one touch, undo and redo of what lies on the page, the tape scrolled into view.
import { alarm, get, post, step, tell } from "./api.js";
import { weigh } from "./before.js";
import { w } from "./words.js";

const THEMES = ["auto", "light", "dark"];

for (const button of document.querySelectorAll("[data-look]")) {
  button.addEventListener("click", async () => {
    const name = button.dataset.look;
    const root = document.documentElement;
    try {
      if (name === "theme") {
        const dark = root.dataset.theme === "dark"
          || (root.dataset.theme === "auto" && matchMedia("(prefers-color-scheme: dark)").matches);
        const next = THEMES[dark ? 1 : 2];
        await post("/look", { theme: next });
        root.dataset.theme = next;
      } else {
        await post("/look", { unit: button.dataset.value });
        location.reload();
      }
    } catch (problem) { alarm(problem); }
  });
}

document.querySelector(".tape [aria-current]")?.scrollIntoView({ block: "nearest", inline: "center" });

/** What she has typed into a form with data-draft stays while the page is shown anew; who has kept it forgets it. */
for (const form of document.querySelectorAll("form[data-draft]")) {
  const key = `draft ${location.pathname} ${form.id}`;
  const fields = () => [...form.elements].filter((one) => one.matches("textarea, select, input:not([type=file], [type=date])"));
  const draft = JSON.parse(sessionStorage.getItem(key) ?? "{}");
  const begun = (one) => (one.type === "radio" ? fields().some((other) => other.name === one.name && other.checked !== other.defaultChecked)
    : one.matches("textarea, input") && one.value !== one.defaultValue);
  // The page's own script, which comes after this one, may follow what is chosen.
  addEventListener("DOMContentLoaded", () => {
    for (const one of fields()) {
      const was = draft[one.name];
      if (was === undefined || begun(one)) continue;
      if (one.type !== "radio") one.value = was;
      else if (one.value === was) one.click();
    }
  });
  addEventListener("pagehide", () => {
    if ("kept" in form.dataset) return sessionStorage.removeItem(key);
    const written = fields().filter((one) => one.type !== "radio" || one.checked).map((one) => [one.name, one.value]);
    return sessionStorage.setItem(key, JSON.stringify(Object.fromEntries(written)));
  });
}

/** The tape stays true while she changes things, and she is told which settled steps want another look by that. */
const tape = document.querySelector(".tape");
let asking = Promise.resolve();

async function retell() {
  const marks = await get(`/make/${tape.dataset.make}/tape`);
  const turned = [];
  for (const { key, state, name, words } of marks) {
    const row = tape.querySelector(`[data-step-key="${key}"]`);
    if (state === "again" && !row.classList.contains("again")) turned.push(name);
    row.className = state;
    row.querySelector(".state").textContent = words;
  }
  if (turned.length) tell(w("common.look_again", { steps: turned.join(" · ") }), 6000);
}

if (tape) document.addEventListener("thing", () => { asking = asking.then(retell).catch(() => {}); });

// The page is shown anew after an undo; what it took back may lie on another page, so it is told.
if (sessionStorage.getItem("said")) {
  tell(sessionStorage.getItem("said"), 6000);
  sessionStorage.removeItem("said");
}

/** Buttons with data-step="undo|redo" data-thing="id" data-base="revision" go a step back or forward, then show the page anew. */
for (const button of document.querySelectorAll("[data-step]")) {
  const { thing: id, base } = button.dataset;
  const say = (thing) => {
    const what = thing[button.dataset.step];
    button.disabled = !what;
    button.dataset.what = what ?? "";
    button.title = what ? w(button.dataset.step === "undo" ? "common.undo_what" : "common.redo_what", { what }) : "";
  };
  document.addEventListener("thing", (event) => { if (event.detail.id === id) say(event.detail); });
  button.addEventListener("click", async () => {
    try {
      if (!(await weigh(button.closest(".actions"), { thing: id, way: button.dataset.step }, tape?.dataset.make))) return;
      const said = w(button.dataset.step === "undo" ? "common.undone" : "common.redone", { what: button.dataset.what });
      await step(id, button.dataset.step, Number(base));
      sessionStorage.setItem("said", said);
      location.reload();
    } catch (problem) { alarm(problem); }
  });
}

/** Buttons with data-settle="step" data-thing data-base data-next: this step is settled; on to the next one. */
for (const button of document.querySelectorAll("[data-settle]")) {
  button.addEventListener("click", async () => {
    try {
      await post(`/make/${button.dataset.thing}/settle/${button.dataset.settle}`);
      location.href = button.dataset.next;
    } catch (problem) { alarm(problem); }
  });
}
