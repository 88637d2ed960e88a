// The history of a thing: going back to an older state.
import "./put.js";
import { alarm, step } from "./api.js";
import { sentences, touched } from "./before.js";
import { w } from "./words.js";

const button = document.getElementById("go-back");
button?.addEventListener("click", async () => {
  const { thing, base, revision } = button.dataset;
  button.disabled = true;
  try {
    await step(thing, "back", Number(base), Number(revision));
    location.href = `/thing/${thing}/history`;
  } catch (problem) {
    button.disabled = false;
    alarm(problem);
  }
});

// What going back does to settled steps is told with what it changes, before she presses.
if (button) {
  const { thing, revision } = button.dataset;
  const place = document.getElementById("further");
  const makes = await touched({ thing, way: "back", revision: Number(revision) }).catch(() => []);
  if (makes.length) {
    place.hidden = false;
    place.append(Object.assign(document.createElement("p"), { textContent: w("history.further") }), ...sentences(makes, ""));
  }
}
