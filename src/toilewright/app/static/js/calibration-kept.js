// How many px are a millimetre on this screen: kept on this device, for it belongs to this screen.
const KEY = "toilewright.calibration";
const USUAL = 96 / 25.4;

const FIRST = {
  screen: { x: USUAL, y: USUAL, over: 0, ratio: 1 },
  projector: { x: 1, y: 1, over: 0, ratio: 1, mirrored: false, turned: 0, weight: 3, ground: "dark", colour: "white" },
};

/** What is kept of "screen" or "projector": x, y in px per mm, over how many mm it was measured (0: never). */
export function kept(which = "screen") {
  let found = {};
  try { found = JSON.parse(localStorage.getItem(KEY) ?? "{}")[which] ?? {}; } catch { /* a spoilt entry is as none */ }
  const all = { ...FIRST[which], ...found };
  // Zooming the page changes how many px of the page are one of the screen's.
  const zoomed = all.over ? all.ratio / devicePixelRatio : 1;
  return { ...all, x: all.x * zoomed, y: all.y * zoomed };
}

/** Keep some of it. */
export function keep(which, some) {
  let all = {};
  try { all = JSON.parse(localStorage.getItem(KEY) ?? "{}"); } catch { /* start anew */ }
  all[which] = { ...kept(which), ...some, ratio: devicePixelRatio };
  try { localStorage.setItem(KEY, JSON.stringify(all)); } catch { /* a private window: it holds as long as the page */ }
  document.dispatchEvent(new CustomEvent("calibration", { detail: which }));
}

/** px per mm on this screen. */
export const perMm = () => kept("screen").x;
