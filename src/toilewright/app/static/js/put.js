// Buttons with data-put="remove|bring-back" data-thing="id": put a thing away or bring it back, then show the page anew.
import { alarm, post } from "./api.js";

for (const button of document.querySelectorAll("[data-put]")) {
  button.addEventListener("click", async () => {
    button.disabled = true;
    try {
      await post(`/things/${button.dataset.thing}/${button.dataset.put}`);
      location.reload();
    } catch (problem) {
      button.disabled = false;
      alarm(problem);
    }
  });
}
