// People: a new one, putting away and bringing back, and choosing one for a make.
import { alarm, change, post } from "./api.js";
import { w } from "./words.js";

const make = document.getElementById("whose-make");

async function choose(person) {
  if (make) {
    await change(make.dataset.make, Number(make.dataset.base), [[["body"], person], [["sheet"], ""]], w("measure.did_whose"));
    location.reload();
  } else location.href = `/body/${person}`;
}

document.getElementById("new-body").addEventListener("submit", async (event) => {
  event.preventDefault();
  try {
    await choose((await post("/bodies", { name: document.getElementById("name").value })).id);
  } catch (problem) { alarm(problem); }
});

for (const button of document.querySelectorAll("[data-person]")) {
  button.addEventListener("click", () => choose(button.dataset.person).catch(alarm));
}

for (const button of document.querySelectorAll("[data-put]")) {
  button.addEventListener("click", async () => {
    try {
      await post(`/things/${button.dataset.thing}/${button.dataset.put}`);
      location.reload();
    } catch (problem) { alarm(problem); }
  });
}
