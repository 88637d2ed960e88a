// Looking ahead: what a change would do further on, told before it is taken.
import { alarm } from "./api.js";
import { w } from "./words.js";

const FEW = 4;
// Ease comes last: where it matters it is worse, and on the page it is drawn.
const ORDER = ["size", "alteration", "seam", "pieces", "ease"];

/**
 * A panel with "differences", "take" and "leave" in it.
 * ask(changes, signal) resolves to {differences, remark, stuck, ...}; shown(answer) puts the rest of it on the page.
 * The returned look(changes) asks anew; no changes close the panel.
 */
export function ahead(panel, { ask, shown, take, leave }) {
  const list = panel.querySelector("#differences");
  const [yes, no] = [panel.querySelector("#take"), panel.querySelector("#leave")];
  let asking;
  let changes = [];

  async function look(wanted) {
    changes = wanted;
    asking?.abort();
    asking = new AbortController();
    const { signal } = asking;
    if (!panel.hidden || wanted.length) panel.hidden = !wanted.length;
    yes.disabled = true;
    panel.setAttribute("aria-busy", "true");
    try {
      const answer = await ask(wanted, signal);
      if (signal.aborted) return;
      shown?.(answer);
      list.replaceChildren(...told(answer));
      yes.disabled = false;
    } catch (problem) {
      if (problem.name === "AbortError" || signal.aborted) return;
      list.replaceChildren(finding("stop", problem.message));
    }
    panel.removeAttribute("aria-busy");
  }

  let going = false;
  yes.addEventListener("click", () => {
    going = true;
    take(changes).catch((problem) => { going = false; alarm(problem); });
  });
  // What is only looked at is neither taken nor left yet.
  window.addEventListener("beforeunload", (event) => { if (!panel.hidden && !going) event.preventDefault(); });
  no.addEventListener("click", () => leave());
  return { look };
}

/** The answer as a list: what asks for attention first, the rest of a long one folded away. */
export function told({ differences, remark, stuck }) {
  const parts = remark ? [finding(stuck ? "stop" : "look", remark)] : [];
  const rank = (d) => (d.worse ? 0 : ORDER.indexOf(d.kind) + 1);
  const sorted = [...differences].sort((a, b) => rank(a) - rank(b));
  if (!sorted.length && !remark) parts.push(Object.assign(document.createElement("p"), { textContent: w("parts.would_nothing") }));
  if (sorted.length) parts.push(listed(sorted.slice(0, FEW)));
  if (sorted.length > FEW) {
    const more = document.createElement("details");
    more.append(Object.assign(document.createElement("summary"), { textContent: w("parts.would_more", { n: sorted.length - FEW }) }),
      listed(sorted.slice(FEW)));
    parts.push(more);
  }
  return parts;
}

function listed(differences) {
  const list = document.createElement("ul");
  list.append(...differences.map((d) => Object.assign(document.createElement("li"), {
    className: d.worse ? "worse" : "", textContent: d.text })));
  return list;
}

function finding(kind, text) {
  const line = Object.assign(document.createElement("p"), { className: `finding ${kind}` });
  line.append(Object.assign(document.createElement("span"), { textContent: text }));
  return line;
}
