// One pattern, looked through: every entry is kept as soon as it is changed, then the file is read again under its names.
import "./piece-table.js";
import { alarm, change, get, known, post } from "./api.js";
import { bringPictures } from "./photographs.js";
import { chart } from "./pattern-chart.js";
import { Reading } from "./pattern-reading.js";
import { choosing } from "./pattern-choosing.js";
import { Since } from "./pattern-since.js";
import { make, set } from "./piece-drawing.js";
import { newSeam } from "./pattern-seams.js";
import { follow } from "./work-progress.js";
import { w } from "./words.js";

const look = document.getElementById("look");
const { thing: id, unit, today } = look.dataset;
const table = document.getElementById("table");
const pieces = choosing(table, document.getElementById("names"));

async function draw() {
  const size = document.getElementById("size").value;
  const picture = await get(`/pattern/${id}/pieces?size=${encodeURIComponent(size)}`);
  table.update(picture);
  pieces.lengths(picture);
  for (const [name, one] of table.drawings) {
    const nest = one.node.querySelector(".nest") ?? make("path", { class: "line nest" });
    one.body.after(nest);
    set(nest, { d: picture.nest[name] ?? "" });
  }
}

const reading = new Reading(id, document.getElementById("quiet"), async () => {
  await draw();
  pieces.again();
  since.look();
});
const since = new Since(id, document.getElementById("since"), Number(look.dataset.base), document.querySelector(".tape")?.dataset.make);

let turn = Promise.resolve();

/** Keep changes of names; those before are kept first. Rejects with the sentence when they cannot be. */
function save(rows, what) {
  const now = turn.then(async () => {
    const { set } = await post(`/pattern/${id}/rows`, { rows });
    if (!set.length) return;
    since.mark(known(id, Number(look.dataset.base)));
    await change(id, Number(look.dataset.base), set, what);
    reading.begin();
  });
  turn = now.catch(() => {});
  return now;
}

const own = (name, value, what) => change(id, Number(look.dataset.base), [[[name], value]], what);

function valueOf(field) {
  if (field.type === "checkbox") return field.checked;
  if (field.type === "number") return Number(field.value);
  if ("number" in field.dataset) {
    if (!field.value.trim()) return null;
    const number = Number(field.value.trim().replace(",", "."));
    if (Number.isNaN(number)) throw new Error(w("pattern.no_number"));
    return number;
  }
  return field.dataset.length ? { length: field.value, unit: field.dataset.length } : field.value;
}

/** What stops a value is said beside its field; it stays there, and nothing else is lost. */
function slip(field, text = "") {
  const box = field.closest("label");
  let say = box.nextElementSibling?.matches(".slip") ? box.nextElementSibling : null;
  if (!text) {
    say?.remove();
    field.removeAttribute("aria-invalid");
    field.removeAttribute("aria-describedby");
    return;
  }
  if (!say) {
    say = Object.assign(document.createElement("p"), { className: "slip", id: `slip-${field.id}` });
    say.setAttribute("role", "alert");
    box.after(say);
  }
  say.textContent = text;
  field.setAttribute("aria-invalid", "true");
  field.setAttribute("aria-describedby", say.id);
}

look.addEventListener("change", async ({ target }) => {
  const { path, own: mine, what } = target.dataset;
  if (!path && !mine) return;
  const shown = target.type === "checkbox" || target.matches("select") ? target.labels[0].innerText.trim() : target.value;
  const words = w("pattern.did", { what, value: shown });
  try {
    if (mine === "name") {
      if (!target.value.trim()) throw new Error(w("pattern.no_name"));
      await own("name", target.value.trim(), words);
      document.getElementById("found-title").textContent = target.value.trim();
    } else if (mine) await own(mine, target.value, words);
    else await save([[path.split("/"), valueOf(target)]], words);
    slip(target);
  } catch (problem) { slip(target, problem.message); }
});

// Enter keeps, and goes on to the next name.
look.addEventListener("keydown", (event) => {
  const { target } = event;
  if (event.key !== "Enter" || !target.matches("input[data-path]")) return;
  event.preventDefault();
  const all = [...look.querySelectorAll("input[data-path], select[data-path]")].filter((one) => one.offsetParent);
  all[all.indexOf(target) + 1]?.focus();
});

look.addEventListener("click", async ({ target }) => {
  const button = target.closest("button");
  if (!button) return;
  try {
    if (button.id === "confirm") {
      await turn;
      const { set } = await post(`/pattern/${id}/rows`, { rows: [] });
      await change(id, Number(look.dataset.base), [...set, [["confirmed"], true]], w("pattern.did_confirm"));
      reading.begin();
    } else if (button.dataset.remove) {
      await save([[button.dataset.remove.split("/"), null]], w("pattern.did_remove", { what: button.dataset.what }));
    }
  } catch (problem) { alarm(problem); }
});

document.getElementById("size").addEventListener("change", () => draw().catch(alarm));
chart(document.getElementById("chart"), unit, save);
newSeam(document.getElementById("seams"), save);

document.getElementById("photo").addEventListener("change", async ({ target }) => {
  try {
    const rows = (await bringPictures(target.files, today)).map((one) => [["pictures", "+"], one]);
    await change(id, Number(look.dataset.base), rows, w("pattern.did_photo"));
    location.reload();
  } catch (problem) { alarm(problem); }
});

document.getElementById("labels-file").addEventListener("change", async ({ target }) => {
  const form = new FormData();
  form.append("file", target.files[0]);
  const place = document.getElementById("labels-work");
  target.value = "";
  try {
    const { job } = await post(`/pattern/${id}/labels`, form);
    since.mark(known(id, Number(look.dataset.base)));
    follow(place, job).addEventListener("done", () => location.reload());
  } catch (problem) {
    place.replaceChildren(Object.assign(document.createElement("p"), { className: "finding stop", textContent: problem.message }));
  }
});

draw().catch(alarm);
