// The envelope's chart: a row is kept as soon as every size has its number.
import { w } from "./words.js";

export function chart(place, unit, save) {
  const say = (text, stop = false) => {
    const slip = document.getElementById("chart-slip");
    slip.textContent = text;
    slip.hidden = !text;
    slip.classList.toggle("warn", stop);
  };

  function value(field, angle) {
    if (!angle) return { length: field.value, unit };
    const number = Number(field.value.replace(",", "."));
    if (Number.isNaN(number)) throw new Error(w("pattern.no_number"));
    return number;
  }

  place.addEventListener("change", async ({ target }) => {
    const row = target.closest("tr[data-measure]");
    if (!row) return;
    const name = row.dataset.measure;
    const fields = [...row.querySelectorAll("input")];
    row.classList.add("begun");
    const missing = fields.filter((one) => !one.value.trim()).length;
    if (missing) { say(w("pattern.chart_missing", { measure: name, n: missing })); return; }
    try {
      await save([[["chart", name], fields.map((one) => value(one, "angle" in row.dataset))]], w("pattern.did_chart", { measure: name }));
      for (const one of fields) one.removeAttribute("aria-invalid");
      row.classList.remove("begun");
      say(w("pattern.chart_kept", { measure: name }));
    } catch (problem) {
      target.setAttribute("aria-invalid", "true");
      say(problem.message, true);
    }
  });

  place.addEventListener("click", async ({ target }) => {
    const out = target.closest("[data-chart-out]");
    if (out) {
      try { await save([[["chart", out.dataset.chartOut], null]], w("pattern.did_chart_out", { measure: out.dataset.chartOut })); }
      catch (problem) { say(problem.message, true); }
    } else if (target.id === "chart-add") add();
  });

  /** An empty row for one more measure. */
  function add() {
    const choice = document.getElementById("chart-more");
    const name = choice.value;
    const old = place.querySelector("tbody tr:not([data-angle])");
    if (!name || !old || place.querySelector(`tr[data-measure="${CSS.escape(name)}"]`)) return;
    const row = old.cloneNode(true);
    const from = old.dataset.measure;
    row.dataset.measure = name;
    row.classList.add("begun");
    if (name === "shoulder slope") row.dataset.angle = "";
    row.querySelector("th").textContent = name;
    row.querySelector("button")?.remove();
    for (const field of row.querySelectorAll("input")) {
      field.value = "";
      field.id = field.id.replace(from.replaceAll(" ", "_"), name.replaceAll(" ", "_"));
      field.setAttribute("aria-label", field.getAttribute("aria-label").replace(from, name));
    }
    place.querySelector("tbody").append(row);
    row.querySelector("input").focus();
  }
}
