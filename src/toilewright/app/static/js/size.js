// Size and ease: looking at another size moves the cloth at once; what else it changes is told before she takes it.
import { change, post } from "./api.js";
import { ahead } from "./ahead.js";
import { w } from "./words.js";

const page = document.getElementById("sizing");
const { make, base } = page.dataset;
const unit = document.documentElement.dataset.unit;
const saved = JSON.parse(document.getElementById("saved").textContent);
let choices = JSON.parse(document.getElementById("choices").textContent);

const BLENDED = ["bust", "waist", "hip"];
const FOLLOWS = { "upper arm": "bust" };
const picked = (name) => page.querySelector(`input[name="${name}"]:checked`)?.value;
const strips = [...page.querySelectorAll(".strip")];
const eases = [...page.querySelectorAll("[data-ease]")];
const settle = document.querySelector("[data-settle]");
const sheet = document.getElementById("sheet");

// -- what she looks at, and what of it differs from what is saved ----------------------------------------

function cut() {
  const way = picked("way");
  if (way === "auto") return saved.advised;
  if (way === "one") return Object.fromEntries(BLENDED.map((place) => [place, picked("size-all")]));
  return Object.fromEntries(BLENDED.map((place) => [place, picked(`size-${place}`) ?? saved.cut[place]]));
}

function rows() {
  const way = picked("way");
  const now = cut();
  const wanted = [];
  const none = Object.keys(saved.sizes).map((place) => [["sizes", place], null]);
  if (way === "auto" && saved.way !== "auto") wanted.push([["size"], "auto"], ...none);
  if (way === "one" && (saved.way !== "one" || now.bust !== saved.size)) wanted.push([["size"], now.bust], ...none);
  if (way === "blend" && (saved.way !== "blend" || BLENDED.some((place) => now[place] !== saved.cut[place]))) {
    wanted.push([["size"], ""], ...BLENDED.map((place) => [["sizes", place], now[place]]));
  }
  for (const field of eases) {
    const text = field.value.trim();
    if (text !== field.defaultValue) wanted.push([["ease", field.dataset.ease], text ? { length: text, unit } : null]);
  }
  if (sheet && sheet.value !== saved.sheet) wanted.push([["sheet"], sheet.value]);
  return wanted;
}

function said(changes) {
  const names = changes.map(([path]) => path[0]);
  if (names.includes("ease")) return w("size.did_ease", { place: changes.find(([path]) => path[0] === "ease")[0][1] });
  if (names.includes("sheet")) return w("size.did_sheet");
  if (picked("way") === "one") return w("size.did_straight", { size: cut().bust });
  return picked("way") === "auto" ? w("size.did_auto") : w("size.did_blend");
}

// -- the cloth moves -------------------------------------------------------------------------------------

function move() {
  const now = cut();
  for (const strip of strips) {
    const { place } = strip.dataset;
    const size = now[FOLLOWS[place] ?? place];
    const choice = choices[place]?.[size];
    const drawn = strip.querySelector(".drawn");
    if (!choice || !drawn.querySelector(".cloth")) continue;
    drawn.querySelector(".cloth").setAttribute("width", `${choice.end}%`);
    drawn.querySelector(".hem").setAttribute("x", `${choice.end}%`);
    const gap = drawn.querySelector(".gap");
    gap.setAttribute("x", `${choice.from}%`);
    gap.setAttribute("width", `${choice.gap}%`);
    for (const line of drawn.querySelectorAll(".size")) line.classList.toggle("chosen", line.dataset.size === size);
    drawn.className = `drawn state-${choice.state}`;
    drawn.dataset.state = choice.state;
    drawn.toggleAttribute("data-lacking", choice.lacking);
    for (const part of drawn.querySelectorAll("[data-say]")) part.textContent = choice[part.dataset.say];
  }
}

function show(seen) {
  choices = seen.choices;
  for (const strip of strips) {
    if (seen.strips[strip.dataset.place]) strip.querySelector("[data-drawing]").innerHTML = seen.strips[strip.dataset.place];
  }
}

// -- looking ahead ---------------------------------------------------------------------------------------

const preview = ahead(document.getElementById("ahead"), {
  ask: (changes, signal) => post(`/make/${make}/size/look`, { set: changes }, signal),
  shown: show,
  async take(changes) {
    await change(make, Number(base), changes, said(changes));
    location.reload();
  },
  leave() {
    page.querySelector(`input[name="way"][value="${saved.way}"]`).checked = true;
    pick("all", saved.size);
    for (const place of BLENDED) pick(place, saved.cut[place]);
    for (const field of eases) field.value = field.defaultValue;
    if (sheet) sheet.value = saved.sheet;
    look();
    page.querySelector('input[name="way"]:checked').focus();
  },
});

function look() {
  const way = picked("way");
  page.querySelector('[data-nest="all"]').hidden = way === "blend";
  document.getElementById("blend").hidden = way !== "blend";
  if (way === "auto") pick("all", saved.advised.bust);
  move();
  const wanted = rows();
  // What is only looked at is taken or left before the step is settled.
  settle.disabled = wanted.length > 0;
  preview.look(wanted);
}

function pick(name, size) {
  const field = [...page.querySelectorAll(`input[name="size-${name}"]`)].find((one) => one.value === size);
  if (field) field.checked = true;
}

for (const field of page.querySelectorAll('input[name="way"]')) field.addEventListener("change", look);
for (const field of page.querySelectorAll('.nest input')) {
  field.addEventListener("change", () => {
    if (field.name === "size-all") page.querySelector('input[name="way"][value="one"]').checked = true;
    look();
  });
}
for (const field of eases) {
  field.addEventListener("change", look);
  field.addEventListener("keydown", (event) => { if (event.key === "Enter") look(); });
}
sheet?.addEventListener("change", look);

// A touch on a strip takes the nearest size there: of that place in a blend, else of all.
for (const strip of strips) {
  strip.addEventListener("click", (event) => {
    const picture = event.target.closest(".strip-picture");
    const place = FOLLOWS[strip.dataset.place] ?? strip.dataset.place;
    if (!picture) return;
    const box = picture.getBoundingClientRect();
    const at = ((event.clientX - box.left) / box.width) * 100;
    const near = Object.entries(choices[strip.dataset.place])
      .reduce((best, one) => (Math.abs(one[1].end - at) < Math.abs(best[1].end - at) ? one : best));
    if (picked("way") === "blend") pick(place, near[0]);
    else {
      page.querySelector('input[name="way"][value="one"]').checked = true;
      pick("all", near[0]);
    }
    look();
  });
}
