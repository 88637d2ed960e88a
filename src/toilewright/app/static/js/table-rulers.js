// Rulers along the top and the left side, in her unit, that go with the table.
import { make, set } from "./piece-drawing.js";
import { marks } from "./lengths.js";

const THICK = 26;

class Ruler {
  constructor(parent, upright) {
    this.upright = upright;
    this.node = make("svg", { class: upright ? "ruler upright" : "ruler level", "aria-hidden": "true" });
    parent.append(this.node);
    this.line = make("path", {}, this.node);
    this.numbers = [];
  }

  show(k, from, size, unit) {
    const { step, parts, name } = marks(unit, k);
    const words = [];
    const lines = [];
    const first = Math.floor(-from / k / step);
    const last = Math.ceil((size - from) / k / step);
    for (let n = first * parts; n <= last * parts; n += 1) {
      const at = Math.round((n * step * k) / parts + from) + 0.5;
      const long = n % parts === 0;
      const foot = long ? 10 : n % 2 === 0 && parts % 2 === 0 ? 17 : 20;
      lines.push(this.upright ? `M${foot} ${at}H${THICK}` : `M${at} ${foot}V${THICK}`);
      if (long) words.push([at, name(n / parts)]);
    }
    set(this.line, { d: lines.join("") });
    while (this.numbers.length < words.length) this.numbers.push(make("text", {}, this.node));
    this.numbers.forEach((node, i) => {
      const [at, text] = words[i] ?? [-100, ""];
      set(node, { transform: this.upright ? `translate(9 ${at + 3}) rotate(-90)` : `translate(${at + 3} 11)` });
      if (node.textContent !== text) node.textContent = text;
    });
  }
}

/** Both rulers of a table. */
export class Rulers {
  constructor(parent) {
    this.level = new Ruler(parent, false);
    this.upright = new Ruler(parent, true);
  }

  show(view, unit) {
    this.level.show(view.k, view.x, view.stage.clientWidth, unit);
    this.upright.show(view.k, view.y, view.stage.clientHeight, unit);
  }
}
