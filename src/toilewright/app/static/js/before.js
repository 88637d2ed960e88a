// What a change does to settled steps further on, shown beside the entry before it is done.
import { told } from "./ahead.js";
import { post } from "./api.js";
import { w } from "./words.js";

let numbers = 0;

const element = (tag, more = {}) => Object.assign(document.createElement(tag), more);

/** The makes in whose settled steps something becomes another: {id, title, steps, differences, remark, stuck}. */
export async function touched(asked, signal) {
  return (await post("/ahead", asked, signal)).makes;
}

/** Their sentences; a make other than the present one is named. */
export function sentences(makes, here) {
  return makes.flatMap((make) => [
    ...(make.id === here ? [] : [element("h3", { textContent: w("parts.would_in", { title: make.title }) })]),
    ...told(make),
    element("p", { className: "small quiet", textContent: w("parts.would_again", { steps: make.steps.join(" · ") }) })]);
}

/** A panel with the sentences and two buttons; Escape in it leaves. Which words they bear can be said. */
export function panel(makes, here, { take, leave, title = "parts.would", yes = "parts.take", no = "parts.leave" }) {
  numbers += 1;
  const box = element("section", { className: "before" });
  const head = element("h2", { textContent: w(title), id: `before-${numbers}` });
  box.setAttribute("aria-labelledby", head.id);
  const button = (key, className, act) => {
    const one = element("button", { type: "button", className, textContent: w(key) });
    one.addEventListener("click", act);
    return one;
  };
  const actions = element("p", { className: "actions" });
  actions.append(button(yes, "main take", take), button(no, "leave", leave));
  box.append(head, ...sentences(makes, here), actions);
  box.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    event.preventDefault();
    leave();
  });
  return box;
}

/**
 * Ask before a change is done, right after a part of the page. Resolves to true when nothing settled becomes another, or when she takes it.
 * What cannot be told stops nothing: the change itself says what is wrong with it.
 */
export async function weigh(place, asked, here = "") {
  const makes = await touched(asked).catch(() => []);
  if (place.nextElementSibling?.matches(".before")) place.nextElementSibling.querySelector(".leave").click();
  if (!makes.length) return true;
  const from = document.activeElement;
  return new Promise((resolve) => {
    const end = (answer) => {
      box.remove();
      if (from?.isConnected) from.focus();
      resolve(answer);
    };
    const box = panel(makes, here, { take: () => end(true), leave: () => end(false) });
    place.after(box);
    box.scrollIntoView({ block: "nearest" });
    box.querySelector(".take").focus();
  });
}
