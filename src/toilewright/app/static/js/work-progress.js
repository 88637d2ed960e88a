// <work-progress job="id">: how far a longer job is, with a button to stop it. Fires "done" (detail: the answer),
// "failed" (detail: {kind, text}) and "stopped".
import { alarm, post } from "./api.js";
import { w } from "./words.js";

class WorkProgress extends HTMLElement {
  static observedAttributes = ["job"];
  #source;

  attributeChangedCallback() { if (this.isConnected) this.#watch(); }
  connectedCallback() { this.#watch(); }
  disconnectedCallback() { this.#source?.close(); }

  #watch() {
    this.#source?.close();
    const job = this.getAttribute("job");
    if (!job) return;
    this.#build(job);
    const source = new EventSource(`/jobs/${encodeURIComponent(job)}/events`);
    this.#source = source;
    for (const state of ["running", "done", "failed", "stopped"]) {
      source.addEventListener(state, (event) => this.#take(state, JSON.parse(event.data)));
    }
    source.addEventListener("error", () => {
      if (source.readyState === EventSource.CLOSED) this.#end("failed", { kind: "lost", text: w("work.unknown") });
      else this.#say(w("work.lost"));
    });
  }

  #build(job) {
    const make = (tag, values) => Object.assign(document.createElement(tag), values);
    const words = make("p", { className: "work-words", id: `work-${job}` });
    words.setAttribute("role", "status");
    const bar = make("progress", { className: "work-bar" });
    bar.setAttribute("aria-labelledby", words.id);
    const stop = make("button", { type: "button", className: "work-stop", textContent: w("work.stop") });
    stop.addEventListener("click", async () => {
      stop.disabled = true;
      stop.textContent = w("work.stopping");
      try { await post(`/jobs/${encodeURIComponent(job)}/stop`); } catch (problem) { alarm(problem); }
    });
    this.replaceChildren(words, bar, stop);
  }

  #take(state, job) {
    if (state === "running") {
      const bar = this.querySelector("progress");
      if (job.of) {
        bar.max = job.of;
        bar.value = job.done;
      } else {
        bar.removeAttribute("value");
      }
      const { words, done, of } = job;
      this.#say(of > 1 ? w("work.progress", { words, done, of }) : words || job.title);
    } else if (state === "done") this.#end("done", job.answer, w("work.done"));
    else if (state === "stopped") this.#end("stopped", null, w("work.stopped"));
    else this.#end("failed", job.error, job.error.text);
  }

  #end(name, detail, words = detail?.text) {
    this.#source?.close();
    this.querySelector("progress")?.remove();
    this.querySelector("button")?.remove();
    this.#say(words);
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true }));
  }

  #say(text) {
    const words = this.querySelector("p");
    if (words.textContent !== text) words.textContent = text;
  }
}

customElements.define("work-progress", WorkProgress);

/** Show in a place how far a job is; the element that fires its end. */
export function follow(place, job) {
  const progress = document.createElement("work-progress");
  progress.setAttribute("job", job);
  place.replaceChildren(progress);
  return progress;
}
