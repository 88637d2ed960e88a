// The chosen piece: on the table, and its names beside it; a row and its edge light up together.
import { showLength } from "./lengths.js";

export function choosing(table, names) {
  let number = names.querySelector("#which").value;
  let part = null;
  const unit = document.getElementById("look").dataset.unit;
  let picture;

  const panels = () => [...names.querySelectorAll(".piece-names")];
  const panel = () => panels().find((one) => one.dataset.number === number);

  /** Which part of the picture a row stands for. */
  function keyOf(row) {
    const [kind, name] = [row.dataset.part.slice(0, row.dataset.part.indexOf(":")), row.dataset.part.slice(row.dataset.part.indexOf(":") + 1)];
    if (kind === "edge") return row.dataset.part;
    const piece = picture?.pieces.find((one) => one.name === panel()?.dataset.piece);
    if (kind === "darts") return `dart:${name}`;
    if (kind === "lines") return `line:${name}`;
    const same = [...row.parentElement.children].filter((one) => one.dataset.part === row.dataset.part);
    const notch = piece?.notches.filter((one) => one.name === name)[same.indexOf(row)];
    return notch ? `notch:${notch.edge}:${name}` : null;
  }

  function mark(scroll) {
    for (const row of names.querySelectorAll("[data-part]")) {
      const yes = part !== null && row.closest(".piece-names").dataset.number === number && keyOf(row) === part;
      row.classList.toggle("chosen", yes);
      if (yes && scroll) {
        const box = row.getBoundingClientRect();
        const frame = names.getBoundingClientRect();
        if (box.top < frame.top || box.bottom > frame.bottom) names.scrollTop += box.top - frame.top - 80;
      }
    }
  }

  function show() {
    for (const one of panels()) one.hidden = one.dataset.number !== number;
    names.querySelector("#which").value = number;
    mark(false);
  }

  table.addEventListener("choose", ({ detail }) => {
    number = panels().find((one) => one.dataset.piece === detail.piece)?.dataset.number ?? "";
    part = detail.part;
    show();
    mark(true);
  });
  function choose() {
    number = names.querySelector("#which").value;
    part = null;
    show();
    const piece = panel()?.dataset.piece ?? null;
    table.selection = { piece, part };
    if (!picture) return;
    if (piece) table.showPiece(piece);
    else table.fit();
  }

  names.addEventListener("change", ({ target }) => { if (target.id === "which") choose(); });
  names.addEventListener("focusin", ({ target }) => {
    const row = target.closest("[data-part]");
    if (!row) return;
    part = keyOf(row);
    mark(false);
    table.selection = { piece: panel().dataset.piece, part };
  });

  choose();
  return {
    /** After the rows were shown anew. */
    again() {
      show();
      table.selection = { piece: panel()?.dataset.piece ?? null, part };
      this.lengths(picture);
    },
    lengths(now) {
      picture = now;
      for (const one of panels()) {
        const piece = picture.pieces.find((p) => p.name === one.dataset.piece);
        const told = new Set();
        for (const place of one.querySelectorAll("[data-edge-length]")) {
          const name = place.dataset.edgeLength;
          const edge = piece?.edges.find((e) => e.name === name);
          place.textContent = edge && !told.has(name) ? showLength(edge.length, unit) : "";
          told.add(name);
        }
      }
    },
  };
}
