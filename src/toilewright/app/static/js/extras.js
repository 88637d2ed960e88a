// Strips, extra pieces and allowances: added once they can be cut so; what cannot stays in the form beside the sentence that says why.
import { known, post, tell } from "./api.js";
import { ticks } from "./cloth-ticks.js";
import { w } from "./words.js";

const page = document.getElementById("extras");
const { make, base } = page.dataset;
known(make, Number(base));

const PARTS = ["extras-list", "allowances-list", "extra-offers", "allowance-places", "uses", "shops", "lay", "widths"];

/** The page as it is now; the forms stay as they are. Where other sections come or go, it is loaded anew. */
async function refresh() {
  const answer = await fetch(location.pathname);
  const fresh = answer.ok && new DOMParser().parseFromString(await answer.text(), "text/html");
  const has = (place, name) => Boolean(place.getElementById(name));
  if (!fresh || ["extras", "lay-title", "cut-from-title"].some((name) => has(fresh, name) !== has(document, name)) || !has(document, "cloth")) {
    location.reload();
    return;
  }
  const open = [...document.querySelectorAll("#cloth details[id][open]")].map((one) => one.id);
  for (const name of PARTS) {
    const [old, now] = [document.getElementById(name), fresh.getElementById(name)];
    if (old && now) old.innerHTML = now.innerHTML;
  }
  for (const id of open) document.getElementById(id)?.setAttribute("open", "");
  ticks(document.getElementById("cloth"));
}

function slip(name, text = "") {
  const place = document.getElementById(`${name}-slip`);
  if (!place) return;
  place.firstElementChild.textContent = text;
  place.hidden = !text;
}

/** Ask for a change; true when it was kept, else the reason stands beside the form. */
async function keep(address, values, name, button) {
  slip(name);
  button.disabled = true;
  try {
    const thing = await post(`/make/${make}/extras${address}`, values);
    known(make, thing.revision);
    document.dispatchEvent(new CustomEvent("thing", { detail: thing }));
    tell(w("common.saved"));
    await refresh();
    return true;
  } catch (problem) {
    slip(name, problem.message);
    if (!document.getElementById(`${name}-slip`)) tell(problem.message);
    return false;
  } finally {
    button.disabled = false;
  }
}

const kind = document.getElementById("extra-kind");
const fields = document.getElementById("extra-fields");
const adding = document.getElementById("extra-add");

/** The fields of the kind that is chosen; the last answer counts, however fast she chooses. */
async function ask() {
  slip("extra");
  const chosen = kind.value;
  adding.hidden = !chosen;
  if (!chosen) { fields.replaceChildren(); return; }
  try {
    const answer = await fetch(`/make/${make}/extras/fields?kind=${encodeURIComponent(chosen)}`);
    if (!answer.ok) throw new Error(w("common.offline"));
    const text = await answer.text();
    if (kind.value === chosen) fields.innerHTML = text;
  } catch {
    slip("extra", w("common.offline"));
  }
}

kind?.addEventListener("change", ask);

document.getElementById("add-extra")?.addEventListener("submit", async (event) => {
  event.preventDefault();
  const options = Object.fromEntries([...fields.querySelectorAll("[data-option]")].map((one) => [one.dataset.option, one.value]));
  if (!(await keep("", { kind: kind.value, options }, "extra", adding.querySelector("button")))) {
    mark();
    return;
  }
  kind.value = "";
  ask();
  const last = document.querySelector("#extras-list .extras > li:last-child");
  last?.focus({ preventScroll: true });
  last?.scrollIntoView({ block: "nearest" });
});

/** The cursor goes to the field that the sentence is about: the one it names, else the first that was left empty. */
function mark() {
  const text = document.getElementById("extra-slip").textContent;
  for (const one of fields.querySelectorAll("[aria-invalid]")) one.removeAttribute("aria-invalid");
  const all = [...fields.querySelectorAll("[data-option]")];
  const about = all.find((one) => text.includes(`"${one.dataset.option}"`)) ?? all.find((one) => one.value && text.includes(`"${one.value}"`))
    ?? all.find((one) => one.ariaRequired && !one.value);
  if (!about) return;
  about.setAttribute("aria-invalid", "true");
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

page.addEventListener("click", async (event) => {
  const button = event.target.closest("[data-take-out]");
  if (!button) return;
  const { takeOut, id } = button.dataset;
  const name = takeOut === "extras" ? "extra" : "allowance";
  if (await keep("/out", { among: takeOut, id }, name, button)) {
    (document.getElementById(name === "extra" ? "extra-kind" : "allowance-edge") ?? page).focus();
  }
});
