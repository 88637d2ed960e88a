// The history of a thing: going back to an older state.
import "./put.js";
import { alarm, step } from "./api.js";

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
