// What changed names have done to settled steps: known only after the file was read again, so it is shown then, with the way back beside it.
import { alarm, known, step } from "./api.js";
import { panel, touched } from "./before.js";

export class Since {
  #key;

  /** `place` is where it is shown, `base` the revision on the page, `make` the make in whose pages it lies, if any. */
  constructor(id, place, base, make) {
    Object.assign(this, { id, place, base, make });
    this.#key = `since-${id}`;
    this.look(); // a page loaded anew still tells
  }

  /** A change follows; the revision before the first that she has not heard about yet is where the way back leads. */
  mark(revision) {
    if (!sessionStorage.getItem(this.#key)) sessionStorage.setItem(this.#key, String(revision));
  }

  #end() {
    sessionStorage.removeItem(this.#key);
    this.place.replaceChildren();
  }

  async look() {
    const revision = Number(sessionStorage.getItem(this.#key));
    if (!revision) return;
    try {
      const makes = await touched({ thing: this.id, way: "since", revision });
      if (!makes.length) {
        this.#end();
        return;
      }
      this.place.replaceChildren(panel(makes, this.make, {
        title: "pattern.since", yes: "pattern.since_keep", no: "pattern.since_undo",
        take: () => this.#end(),
        leave: () => this.#back(revision).catch(alarm) }));
    } catch (problem) { alarm(problem); }
  }

  async #back(revision) {
    await step(this.id, "back", known(this.id, this.base), revision);
    this.#end();
    location.reload();
  }
}
