// Tissue out of an envelope: a new pattern that goes by the tape.
import { add, alarm, post } from "./api.js";
import { weigh } from "./before.js";
import { w } from "./words.js";

const form = document.getElementById("new-tissue");
form?.addEventListener("submit", async (event) => {
  event.preventDefault();
  const { make } = form.dataset;
  const garment = form.elements.garment.value;
  const name = form.elements.name.value.trim() || w("tissue.my", { garment });
  const { unit } = document.documentElement.dataset;
  try {
    const { id } = await add("pattern", { name, tissue: { garment, unit } }, w("tissue.did_new", { name }));
    if (make) {
      const wanted = await weigh(document.getElementById("tissue-ahead"), { thing: make, set: [[["pattern"], id]] }, make);
      if (wanted) await post(`/make/${make}/pattern/${id}`);
    }
    location.href = make ? `/make/${make}/pattern` : `/pattern/${id}`;
  } catch (problem) { alarm(problem); }
});
