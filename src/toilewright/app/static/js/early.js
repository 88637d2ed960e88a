// What she does before the page's own scripts have run is not lost: it waits, and is done once when they stand.
// This one is no module: it runs before there is anything to touch.
(() => {
  const held = [];
  const kinds = ["change", "click", "submit"];

  const ours = {
    change: (event) => event.target,
    // A press that sends a form is held as that.
    click: (event) => { const one = event.target.closest("button"); return one?.form && one.type === "submit" ? null : one; },
    submit: (event) => (event.target.hasAttribute("action") ? null : event.target),
  };

  function hold(event) {
    const target = ours[event.type](event);
    if (!target) return;
    event.stopImmediatePropagation();
    if (event.type !== "change") event.preventDefault();
    // Pressed again because nothing happened yet, it is meant once.
    const same = held.findIndex((one) => one.target === target && one.kind === event.type);
    if (same >= 0) held.splice(same, 1);
    held.push({ target, kind: event.type });
  }

  const again = {
    change: (target) => target.dispatchEvent(new Event("change", { bubbles: true })),
    click: (target) => target.click(),
    submit: (target) => target.requestSubmit(),
  };

  for (const kind of kinds) document.addEventListener(kind, hold, true);
  document.addEventListener("DOMContentLoaded", () => {
    for (const kind of kinds) document.removeEventListener(kind, hold, true);
    // The scripts' own last words at this event come first.
    setTimeout(() => { for (const { target, kind } of held) if (target.isConnected) again[kind](target); });
  });
})();
