// The tape between two places: straight, and along the edge where both lie on one.
import { make, set } from "./piece-drawing.js";
import { showLength } from "./lengths.js";
import { w } from "./words.js";

const NEAR = 14; // px within which a place is taken for the corner, point or edge beside it
const ON = 0.15; // mm

const apart = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** The place on an SVG path that is nearest to a point: {s, at, away}. */
export function nearest(path, point) {
  const length = path.getTotalLength();
  const spot = (s) => { const p = path.getPointAtLength(s); return { s, at: [p.x, p.y], away: apart([p.x, p.y], point) }; };
  const steps = Math.max(Math.min(Math.ceil(length / 5), 200), 16);
  let best = spot(0);
  for (let i = 1; i <= steps; i += 1) {
    const one = spot((length * i) / steps);
    if (one.away < best.away) best = one;
  }
  for (let reach = length / steps; reach > 0.01; reach /= 2) {
    for (const s of [best.s - reach, best.s + reach]) {
      const one = spot(Math.min(Math.max(s, 0), length));
      if (one.away < best.away) best = one;
    }
  }
  return best;
}

/** How far it is along an edge between two places once the darts between are closed. */
export function along(edge, s0, s1) {
  const [low, high] = s0 < s1 ? [s0, s1] : [s1, s0];
  const shut = edge.mouths.reduce((sum, [a, b]) => sum + Math.max(Math.min(b, high) - Math.max(a, low), 0), 0);
  return high - low - shut;
}

export class Tape {
  constructor(world, view, unit) {
    this.view = view;
    this.unit = unit;
    this.node = make("g", { class: "laid-tape" }, world);
    this.under = make("path", { class: "tape-under" }, this.node);
    this.line = make("path", { class: "tape-line" }, this.node);
    this.ends = make("path", { class: "tape-ends" }, this.node);
    this.places = [];
  }

  clear() {
    this.places = [];
    this.draw();
  }

  /** A place near a point of the table, on a piece if there is one. */
  find(drawing, point) {
    if (!drawing) return { at: point, table: point, edges: [] };
    const [ox, oy] = drawing.piece.at;
    const own = [point[0] - ox, point[1] - oy];
    const edges = drawing.parts.filter((p) => p.kind === "edge")
      .map((p) => ({ edge: p.edge, path: drawing.nodes.get(p.key), ...nearest(drawing.nodes.get(p.key), own) }));
    const corners = edges.map(({ path }) => { const p = path.getPointAtLength(0); return [p.x, p.y]; });
    const marks = [...drawing.piece.points.map((p) => p.at), ...drawing.piece.notches.map((n) => n.at),
      ...drawing.piece.darts.flatMap((d) => d.feet), ...corners];
    const reach = NEAR / this.view.k;
    const closest = (list) => list.reduce((best, at) => (apart(at, own) < apart(best, own) ? at : best), [Infinity, Infinity]);
    let at = closest(marks);
    if (apart(at, own) > reach) at = closest(edges.map((e) => e.at));
    if (apart(at, own) > reach) at = own;
    return { drawing, at, table: [at[0] + ox, at[1] + oy],
      edges: edges.map((e) => ({ edge: e.edge, ...nearest(e.path, at) })).filter((e) => e.away < ON) };
  }

  /** Lay one end of the tape; returns what to say. */
  lay(place) {
    this.places = this.places.length === 1 ? [this.places[0], place] : [place];
    this.draw();
    return this.words();
  }

  words() {
    const [a, b] = this.places;
    if (!a) return w("pieces.tape_first");
    if (!b) return w("pieces.tape_second");
    const said = [w("pieces.straight", { by: showLength(apart(a.table, b.table), this.unit) })];
    for (const one of a.drawing === b.drawing ? a.edges : []) {
      const other = b.edges.find((e) => e.edge === one.edge);
      if (other) said.push(w("pieces.along", { edge: one.edge.name, by: showLength(along(one.edge, one.s, other.s), this.unit) }));
    }
    return said.join(" · ");
  }

  draw() {
    const [a, b] = this.places.map((p) => p.table);
    const d = b ? `M${a[0]} ${a[1]}L${b[0]} ${b[1]}` : "";
    set(this.under, { d });
    set(this.line, { d });
    set(this.ends, { d: this.places.map(({ table: [x, y] }) => `M${x} ${y}h.01`).join("") });
  }
}
