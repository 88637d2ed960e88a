// Every measure of the pieces as a table, for those who would rather read than point.
import { told } from "./piece-drawing.js";
import { w } from "./words.js";

function row(cells, name) {
  const tr = document.createElement("tr");
  cells.forEach((text, i) => {
    const cell = document.createElement(i === 0 && name === "td" ? "th" : name);
    if (cell.tagName === "TH") cell.scope = name === "th" ? "col" : "row";
    cell.textContent = text;
    tr.append(cell);
  });
  return tr;
}

/** One table for each piece. */
export function measuresOf(drawings, unit) {
  const box = document.createElement("div");
  box.className = "measure-tables";
  for (const one of drawings) {
    const table = document.createElement("table");
    const title = Object.assign(document.createElement("caption"), { textContent: one.says(one.piece) });
    const parts = one.parts.filter((p) => p.length !== undefined);
    const altered = parts.some((p) => told(p, unit).was);
    const heads = ["pieces.col_part", "pieces.col_now", ...(altered ? ["pieces.col_was", "pieces.col_change"] : [])];
    const head = document.createElement("thead");
    head.append(row(heads.map((key) => w(key)), "th"));
    const body = document.createElement("tbody");
    for (const part of parts) {
      const { name, now, was, change } = told(part, unit);
      body.append(row([name, now, ...(altered ? [was, change] : [])], "td"));
    }
    table.append(title, head, body);
    box.append(table);
  }
  return box;
}
