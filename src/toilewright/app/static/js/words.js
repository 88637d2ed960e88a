// Phrases by key, as on the pages.
import { phrases } from "/catalogue.js";

/** One phrase with its {name} places filled; throws when the catalogue has no such key. */
export function w(key, values = {}) {
  const one = values.n === 1 ? phrases[`${key}_one`] : undefined;
  const text = one ?? phrases[key];
  if (text === undefined) throw new Error(`no phrase "${key}"`);
  return text.replace(/\{(\w+)\}/g, (all, name) => (name in values ? String(values[name]) : all));
}
