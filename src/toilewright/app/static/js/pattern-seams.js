// A seam between edges that she chooses.
import { w } from "./words.js";

/** The edges of one side, in their order. */
function side(form, name) {
  const backs = [...form.querySelectorAll(`input[name="${name}-back"]`)];
  return [...form.querySelectorAll(`select[name="${name}"]`)].flatMap((choice, at) => {
    if (!choice.value) return [];
    const [piece, edge] = JSON.parse(choice.value);
    return [{ piece, edge, reverse: backs[at].checked, times: 1 }];
  });
}

export function newSeam(place, save) {
  place.addEventListener("submit", async (event) => {
    event.preventDefault();
    const form = event.target;
    const slip = form.querySelector(".slip");
    const [a, b] = [side(form, "a"), side(form, "b")];
    try {
      if (!a.length || !b.length) throw new Error(w("pattern.seam_needs"));
      const name = form.elements.seam.value.trim() || `${a[0].edge}, ${a[0].piece}`;
      const seam = { name, a, b, ease: [0, 0], ratio: null };
      await save([[["seams", "+"], { seam, confirmed: true }]], w("pattern.did_seam", { name }));
      form.reset();
      slip.hidden = true;
    } catch (problem) {
      slip.textContent = problem.message;
      slip.hidden = false;
    }
  });
}
