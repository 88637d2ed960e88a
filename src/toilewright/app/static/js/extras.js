// Strips, extra pieces and allowances: added once they can be cut so; what cannot stays in the form beside the sentence that says why.
import { known, post, tell } from "./api.js";
import { ticks } from "./cloth-ticks.js";
import { w } from "./words.js";

const page = document.getElementById("extras");
const { make, base } = page.dataset;
known(make, Number(base));

const PARTS = ["extras-list", "allowances-list", "corners-list", "extra-offers", "allowance-places", "corner-which", "uses", "shops", "lay", "widths"];

/** The page as it is now; the forms stay as they are. Where other sections come or go, it is loaded anew. */
async function refresh() {
  const answer = await fetch(location.pathname);
  const fresh = answer.ok && new DOMParser().parseFromString(await answer.text(), "text/html");
  const has = (place, name) => Boolean(place.getElementById(name));
  if (!fresh || ["extras", "lay-title", "cut-from-title"].some((name) => has(fresh, name) !== has(document, name)) || !has(document, "cloth")) {
    location.reload();
    return;
  }
  const changing = [...page.querySelectorAll(".change-extra")];
  const [at, open] = [document.activeElement, [...document.querySelectorAll("#cloth details[id][open]")].map((one) => one.id)];
  for (const name of PARTS) {
    const [old, now] = [document.getElementById(name), fresh.getElementById(name)];
    if (!old || !now) continue;
    const { value } = old;
    old.innerHTML = now.innerHTML;
    if (value) old.value = value;
  }
  for (const id of open) document.getElementById(id)?.setAttribute("open", "");
  for (const form of changing) if (laid(form) && form.contains(at)) at.focus();
  ticks(document.getElementById("cloth"));
}

function slip(name, text = "") {
  const place = document.getElementById(`${name}-slip`);
  if (!place) return;
  place.closest("form")?.querySelector(":scope > .actions")?.before(place);
  place.firstElementChild.textContent = text;
  place.hidden = !text;
}

/** Ask for a change; true when it was kept, else the reason stands beside the form. `done` comes before the page is made new. */
async function keep(address, values, name, button, done = () => {}) {
  slip(name);
  button.disabled = true;
  try {
    const thing = await post(`/make/${make}/extras${address}`, values);
    known(make, thing.revision);
    document.dispatchEvent(new CustomEvent("thing", { detail: thing }));
    tell(w("common.saved"));
    done();
    await refresh();
    return true;
  } catch (problem) {
    if (problem.conflict) await outdone(problem.conflict.thing, name);
    else slip(name, problem.message);
    if (!document.getElementById(`${name}-slip`)) tell(problem.message);
    return false;
  } finally {
    button.disabled = false;
  }
}

/** Somebody else changed the same piece meanwhile: she sees it as it is now beside what she wrote, and may save hers again. */
async function outdone(thing, name) {
  known(make, thing.revision);
  await refresh();
  const form = page.querySelector(`.change-extra[data-row="${name.slice("change-".length)}"]`);
  if (form) form.dataset.base = thing.revision;
  slip(name, w("extras.changed_elsewhere"));
}

const kind = document.getElementById("extra-kind");
const fields = document.getElementById("extra-fields");
const adding = document.getElementById("extra-add");

const wrote = new WeakMap();

/** Puts the fields of the chosen kind into a place, with what she wrote there that holds for both kinds; what she wrote of that kind before comes
    back. The last answer counts, however fast she chooses. */
async function fill(place, choice, row = "") {
  const { kind: was = "" } = place.dataset;
  const chosen = choice.value;
  const before = wrote.get(place) ?? {};
  if (was) before[was] = written(place);
  wrote.set(place, before);
  const answer = await fetch(`/make/${make}/extras/fields?${new URLSearchParams({ kind: chosen, was, row, said: JSON.stringify(before[was] ?? {}) })}`);
  if (!answer.ok) throw new Error(w("common.offline"));
  const text = await answer.text();
  if (choice.value !== chosen) return;
  place.innerHTML = text;
  place.dataset.kind = chosen;
  for (const one of asks(place)) {
    const said = before[chosen]?.[one.dataset.option];
    if (one.value || !said) continue;
    one.value = said;
    one.closest("details")?.setAttribute("open", "");
  }
}

/** The fields of the kind that is chosen to be added. */
async function ask() {
  slip("extra");
  adding.hidden = !kind.value;
  if (!kind.value) {
    fields.replaceChildren();
    delete fields.dataset.kind;
    wrote.delete(fields);
    return;
  }
  try {
    await fill(fields, kind);
  } catch {
    slip("extra", w("common.offline"));
  }
}

kind?.addEventListener("change", ask);

document.getElementById("add-extra")?.addEventListener("submit", async (event) => {
  event.preventDefault();
  if (!(await keep("", { kind: kind.value, options: written(fields) }, "extra", adding.querySelector("button")))) {
    mark(fields, "extra");
    return;
  }
  kind.value = "";
  ask();
  const last = document.querySelector("#extras-list .extras > li:last-child");
  last?.focus({ preventScroll: true });
  last?.scrollIntoView({ block: "nearest" });
});

const asks = (form) => [...form.querySelectorAll("[data-option]")];
const written = (form) => Object.fromEntries(asks(form).map((one) => [one.dataset.option, one.value]));

/** Cursor and sentence go to the field that it is about: the one it names, else the first that was left empty. */
function mark(form, name) {
  const text = document.getElementById(`${name}-slip`).textContent;
  for (const one of form.querySelectorAll("[aria-invalid]")) one.removeAttribute("aria-invalid");
  const all = asks(form);
  const about = all.find((one) => text.includes(`"${one.dataset.option}"`)) ?? all.find((one) => one.value && text.includes(`"${one.value}"`))
    ?? all.find((one) => one.ariaRequired && !one.value);
  if (!about) return;
  about.setAttribute("aria-invalid", "true");
  about.closest(".field").append(document.getElementById(`${name}-slip`));
  about.closest("details")?.setAttribute("open", "");
  about.focus();
}

document.getElementById("add-allowance")?.addEventListener("submit", async (event) => {
  event.preventDefault();
  const form = event.target;
  const { edge, amount } = form.elements;
  if (await keep("/allowance", { edge: edge.value, amount: amount.value }, "allowance", form.querySelector("button"))) {
    form.reset();
    edge.focus();
  }
});

// -- corners and notches -----------------------------------------------------------------------------

const cornering = document.getElementById("add-corner");

/** Which edge comes first is asked only where it matters; the two are those of the corner that is chosen. */
function edgesOfCorner() {
  const { corner, cut, first } = cornering.elements;
  const { before, after } = corner.selectedOptions[0].dataset;
  document.getElementById("corner-first-field").hidden = !before || !cut.value || cut.value === "mitred";
  const said = first.value;
  first.replaceChildren(first.options[0], ...(before ? [before, after] : []).map((edge) => new Option(edge, edge)));
  first.value = [before, after].includes(said) ? said : "";
}

cornering?.addEventListener("change", () => {
  slip("corner");
  edgesOfCorner();
});

cornering?.addEventListener("submit", async (event) => {
  event.preventDefault();
  const { corner, cut, first } = cornering.elements;
  const { piece = "", before, after } = corner.selectedOptions[0].dataset;
  const asked = { piece, at: piece && `${before}/${after}`, cut: cut.value, first: first.value };
  if (await keep("/corner", asked, "corner", cornering.querySelector("button"))) {
    cornering.reset();
    edgesOfCorner();
    corner.focus();
  } else {
    (corner.value ? cut : corner).focus();
  }
});

document.getElementById("set-notches")?.addEventListener("submit", async (event) => {
  event.preventDefault();
  const button = event.target.querySelector("button");
  await keep("/notches", { cut: event.target.elements.notches.value }, "notches", button);
  button.focus();
});

// -- a piece that is there is changed in its place ---------------------------------------------------

/** A form is put to its piece, if that is still there. */
function laid(form) {
  const place = page.querySelector(`#extra-${form.dataset.row} [data-change-place]`);
  place?.replaceChildren(form);
  opener(form.dataset.row)?.setAttribute("aria-expanded", "true");
  return Boolean(place);
}

const opener = (id) => page.querySelector(`[data-change="${id}"]`);

async function open(button) {
  const id = button.dataset.change;
  let form = page.querySelector(`.change-extra[data-row="${id}"]`);
  if (!form) {
    try {
      const answer = await fetch(`/make/${make}/extras/change?row=${encodeURIComponent(id)}`);
      if (!answer.ok) throw new Error(w("common.offline"));
      form = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector(".change-extra");
      laid(form);
    } catch {
      tell(w("common.offline"));
      return;
    }
  }
  asks(form)[0].focus();
}

/** The same piece, of another kind. */
async function become(choice) {
  const form = choice.closest("form");
  const [place, name] = [form.querySelector("[data-kind]"), `change-${form.dataset.row}`];
  slip(name);
  try {
    await fill(place, choice, form.dataset.row);
  } catch {
    choice.value = place.dataset.kind;
    slip(name, w("common.offline"));
  }
}

page.addEventListener("change", (event) => {
  if (event.target.matches("[data-kinds]")) become(event.target);
});

function leave(form) {
  const button = opener(form.dataset.row);
  form.remove();
  button?.setAttribute("aria-expanded", "false");
  button?.focus();
}

page.addEventListener("submit", async (event) => {
  const form = event.target.closest(".change-extra");
  if (!form) return;
  event.preventDefault();
  const { row, base: seen } = form.dataset;
  const name = `change-${row}`;
  const { kind: is } = form.querySelector("[data-kind]").dataset;
  if (await keep("/change", { id: row, base: Number(seen), kind: is, options: written(form) }, name, form.querySelector("button.main"), () => form.remove())) {
    opener(row)?.focus();
  } else {
    mark(form, name);
  }
});

page.addEventListener("click", (event) => {
  const button = event.target.closest("[data-change], [data-change-not]");
  if (button?.dataset.change) open(button);
  else if (button) leave(button.closest(".change-extra"));
});

page.addEventListener("click", async (event) => {
  const button = event.target.closest("[data-take-out], [data-aside]");
  if (!button) return;
  const { takeOut, aside, on, id } = button.dataset;
  const name = `row-${id}`;
  if (aside) {
    if (await keep("/aside", { among: aside, id, on: Boolean(on) }, name, button)) page.querySelector(`[data-aside][data-id="${id}"]`)?.focus();
  } else if (await keep("/out", { among: takeOut, id }, name, button)) {
    (document.getElementById({ extras: "extra-kind", allowances: "allowance-edge", corners: "corner-which" }[takeOut]) ?? page).focus();
  }
});
