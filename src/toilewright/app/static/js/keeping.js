// Keeping: back-ups, a file out and a file in.
import "./put.js";
import { alarm, post } from "./api.js";
import { w } from "./words.js";

/** One thing after the other; the page then shows what is there, and the sentence stays. */
async function then(button, act) {
  button.disabled = true;
  try {
    const { text } = await act();
    sessionStorage.setItem("said", text);
    location.reload();
  } catch (problem) {
    button.disabled = false;
    alarm(problem);
  }
}

const said = sessionStorage.getItem("said");
if (said) {
  sessionStorage.removeItem("said");
  const row = Object.assign(document.createElement("p"), { className: "finding", textContent: said });
  row.setAttribute("role", "status");
  document.querySelector("#keeping h1").after(row);
}

document.getElementById("back-up")?.addEventListener("click", (event) => then(event.target, () => post("/keeping/back-up")));

const dialog = document.getElementById("restore");
for (const button of document.querySelectorAll("[data-restore]")) {
  button.addEventListener("click", () => {
    dialog.querySelector("h2").textContent = w("keeping.restore_title", { date: button.dataset.date });
    dialog.returnValue = "";
    dialog.addEventListener("close", () => {
      if (dialog.returnValue === "yes") then(button, () => post("/keeping/restore", { name: button.dataset.restore }));
    }, { once: true });
    dialog.showModal();
  });
}
for (const button of dialog.querySelectorAll("button")) button.addEventListener("click", () => dialog.close(button.value));

document.getElementById("export-one")?.addEventListener("submit", (event) => {
  event.preventDefault();
  location.href = `/keeping/export/${event.target.make.value}`;
});

const form = document.getElementById("import-file");
const places = { make: "/make/", body: "/body/", pattern: "/pattern/" };
form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const button = form.querySelector("button");
  const report = document.getElementById("report");
  button.disabled = true;
  report.textContent = w("keeping.working");
  try {
    const data = new FormData();
    data.append("file", form.file.files[0]);
    const { things } = await post("/keeping/import", data);
    const list = document.createElement("ul");
    list.className = "plain-list";
    for (const one of things) {
      const row = document.createElement("li");
      const link = Object.assign(document.createElement("a"), { textContent: one.name,
        href: one.kind === "cloth" ? `/thing/${one.id}/history` : places[one.kind] + one.id });
      row.append(link, ` – ${w(`keeping.how_${one.how}`)}`);
      list.append(row);
    }
    const head = Object.assign(document.createElement("h3"), { textContent: w(things.length ? "keeping.import_report" : "keeping.nothing_in") });
    report.replaceChildren(head, list);
    form.reset();
  } catch (problem) {
    report.textContent = "";
    alarm(problem);
  }
  button.disabled = false;
});
