// The drawings for shops read by a parser of npm: what GDAL makes chords of has its arcs here.
//
//     python -m tests.bench.dxf_readers --pieces 60 --write DIR
//     npm install dxf-parser && node tests/bench/dxf_readers.js DIR
//
// Entities are counted by layer, areas measured with their arcs, contours chained where they are single lines and arcs,
// and the bounds of the outline's corners looked at. Ends with 1 where anything differs from DIR/index.json.
const fs = require("fs");
const path = require("path");
const { createRequire } = require("module");
const loaded = createRequire(path.join(process.cwd(), "x.js"))("dxf-parser");
const DxfParser = loaded.default || loaded;

const NEAR = 1e-4;
const apart = (p, q) => Math.hypot(p.x - q.x, p.y - q.y);

// The area that a closed row of corners encloses, each with the bulge of the edge to the next.
function areaOf(row) {
  let area = 0;
  row.forEach((p, i) => {
    const q = row[(i + 1) % row.length];
    area += (p.x * q.y - q.x * p.y) / 2;
    if (p.bulge) {
      const sweep = 4 * Math.atan(p.bulge);
      const radius = (apart(p, q) * (1 + p.bulge ** 2)) / (4 * Math.abs(p.bulge));
      area += (radius ** 2 / 2) * (sweep - Math.sin(sweep));
    }
  });
  return area;
}

// A line, or an arc, as an edge with its bulge.
function edgeOf(entity) {
  if (entity.type === "LINE") return { a: entity.vertices[0], b: entity.vertices[1], bulge: 0 };
  const turn = 2 * Math.PI;
  const sweep = (((entity.endAngle - entity.startAngle) % turn) + turn) % turn;
  const at = (t) => ({ x: entity.center.x + entity.radius * Math.cos(t), y: entity.center.y + entity.radius * Math.sin(t) });
  return { a: at(entity.startAngle), b: at(entity.endAngle), bulge: Math.tan(sweep / 4) };
}

// Single edges as closed rows; a gap is told.
function chained(edges, tell) {
  const left = edges.slice();
  const rows = [];
  while (left.length) {
    const first = left.shift();
    const row = [{ ...first.a, bulge: first.bulge }];
    let end = first.b;
    while (apart(end, first.a) > NEAR) {
      const next = left.findIndex((one) => Math.min(apart(one.a, end), apart(one.b, end)) < NEAR);
      if (next < 0) {
        tell("a contour has a gap");
        break;
      }
      let [one] = left.splice(next, 1);
      if (apart(one.a, end) > NEAR) one = { a: one.b, b: one.a, bulge: -one.bulge };
      row.push({ ...one.a, bulge: one.bulge });
      end = one.b;
    }
    rows.push(row);
  }
  return rows;
}

function wrongIn(text, held) {
  const found = [];
  const tell = (words) => found.push(words);
  const rows = [];
  const edges = {};
  const count = { outer: 0, inner: 0, holes: 0 };
  let area = 0;
  for (const one of new DxfParser().parseSync(text).entities) {
    if (one.type === "CIRCLE" && one.layer.startsWith("HOLES")) count.holes += 1;
    else if (one.type === "CIRCLE") {
      count.inner += 1;
      area -= Math.PI * one.radius ** 2;
    } else if (one.type === "LINE" || one.type === "ARC") (edges[one.layer] ||= []).push(edgeOf(one));
    else if (one.type === "LWPOLYLINE" || one.type === "POLYLINE") {
      if (!one.shape) tell("a contour is open");
      rows.push([one.layer, one.vertices]);
    } else tell(`a ${one.type} is in it`);
  }
  for (const [layer, own] of Object.entries(edges)) rows.push(...chained(own, tell).map((row) => [layer, row]));
  const corners = [];
  for (const [layer, row] of rows) {
    const outer = layer.startsWith("OUTER");
    count[outer ? "outer" : "inner"] += 1;
    area += (outer ? 1 : -1) * Math.abs(areaOf(row));
    if (outer) corners.push(...row);
  }
  for (const kind of Object.keys(count)) if (count[kind] !== held[kind]) tell(`${count[kind]} ${kind}, not ${held[kind]}`);
  if (Math.abs(area - held.area) > 0.02) tell(`an area of ${area}, not ${held.area}`);
  const bounds = ["x", "y"].map((axis) => corners.map((at) => at[axis]));
  const sizes = [Math.min(...bounds[0]), Math.min(...bounds[1]), Math.max(...bounds[0]), Math.max(...bounds[1])];
  if (sizes.some((mm, i) => Math.abs(mm - held.bounds[i]) > 0.001)) tell(`bounds ${sizes}, not ${held.bounds}`);
  return found;
}

const folder = process.argv[2];
const index = JSON.parse(fs.readFileSync(path.join(folder, "index.json"), "utf8"));
let wrong = 0;
for (const [name, held] of Object.entries(index)) {
  const found = wrongIn(fs.readFileSync(path.join(folder, name), "utf8"), held);
  wrong += found.length;
  for (const words of found) console.log(`${name}: ${words}`);
}
console.log(`dxf-parser: ${Object.keys(index).length} files, ${wrong} wrong`);
process.exit(wrong || !Object.keys(index).length ? 1 : 0);
