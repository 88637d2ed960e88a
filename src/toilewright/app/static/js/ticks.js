// Lists to tick off: what is done is kept on this device, under a key of the list.

/** A device that keeps nothing still shows the list. */
export const kept = {
  get(key) { try { return localStorage.getItem(key); } catch { return null; } },
  set(key, value) { try { localStorage.setItem(key, value); } catch { /* nothing is kept then */ } },
};

/** Bring the ticks of a list to life; `said` gives the words for (ticked, all), `shown` is told whether all are. */
export function tickOff(list, key, said, shown = () => {}) {
  const boxes = [...list.querySelectorAll("[data-tick]")];
  const again = list.querySelector(".again");
  const ticked = new Set(JSON.parse(kept.get(key) ?? "[]"));
  const show = () => {
    const done = boxes.filter((box) => box.checked).length;
    list.querySelector(".done").textContent = done === 0 ? "" : said(done, boxes.length);
    again.hidden = done === 0;
    shown(done === boxes.length);
  };
  const keep = () => {
    kept.set(key, JSON.stringify(boxes.filter((box) => box.checked).map((box) => box.dataset.tick)));
    show();
  };
  for (const box of boxes) {
    box.checked ||= ticked.has(box.dataset.tick);
    box.addEventListener("change", keep);
  }
  again.addEventListener("click", () => {
    for (const box of boxes) box.checked = false;
    keep();
    boxes[0].focus();
  });
  show();
}
