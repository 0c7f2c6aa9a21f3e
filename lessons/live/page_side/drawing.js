// The drawing of a live picture: puts coordinates that Python computed into an SVG that matplotlib drew.
// No formula and no plotting here.

import { set } from "./page.js";
import { pathText } from "./path_text.js";

const SVG = "http://www.w3.org/2000/svg";
const OF_AXIS = /^[xy]_(tick|label|grid)/; // numbers and names along an axis stand still while a slider moves
let views = 0;

function placeMarkers(group, holder, f, from, to) {
  const uses = group.getElementsByTagNameNS(SVG, "use");
  const count = (to - from) / 2;
  while (uses.length < count) holder.append(uses.length ? uses[0].cloneNode() : firstMarker(group));
  for (let k = 0; k < uses.length; k++) {
    const x = f[from + 2 * k], y = f[from + 2 * k + 1];
    const shown = k < count && !Number.isNaN(x) && !Number.isNaN(y);
    set(uses[k], "visibility", shown ? "inherit" : "hidden");
    if (shown) { set(uses[k], "x", x.toFixed(2)); set(uses[k], "y", y.toFixed(2)); }
  }
}

function firstMarker(group) { // none was on the picture when it was drawn
  const shape = group.querySelector("defs path");
  const use = document.createElementNS(SVG, "use");
  use.setAttribute("href", "#" + shape.id);
  const stroke = shape.style.stroke;
  use.setAttribute("style", `fill: ${stroke}; stroke: ${stroke}`);
  return use;
}

function mover(group, spec) {
  if (spec.kind === "text") {
    return (f, from) => {
      const gone = Number.isNaN(f[from]);
      set(group, "visibility", gone ? "hidden" : "inherit");
      if (gone) return;
      const dx = (f[from] - spec.drawn[0]).toFixed(2), dy = (f[from + 1] - spec.drawn[1]).toFixed(2);
      set(group, "transform", `translate(${dx} ${dy})`);
    };
  }
  const outline = spec.outline && group.querySelector(":scope path");
  const holder = spec.marker && [...group.querySelectorAll(":scope > g")].pop();
  return (f, from, to) => {
    if (outline) outline.setAttribute("d", pathText(f, from, to, spec));
    if (holder) placeMarkers(group, holder, f, from, to);
  };
}

function same(f, from, to, was) {
  if (was?.length !== to - from) return false;
  for (let i = from; i < to; i++) {
    if (f[i] !== was[i - from] && !(Number.isNaN(f[i]) && Number.isNaN(was[i - from]))) return false;
  }
  return true;
}

// matplotlib wraps all it draws in groups of groups. Each is walked through when a frame is painted, so those that hold
// something still are taken away, unless they do more than have a name.
function unwrap(svg) {
  for (const group of svg.querySelectorAll("g")) {
    const plain = group.getAttributeNames().every((name) => name === "id");
    if (plain && !group.closest("[data-part]")) group.replaceWith(...group.childNodes);
  }
}

// The box of a picture has its size without a look at what is in it: what moves there is laid out alone, not the whole
// page with it. A page may say how high a picture is at most.
function keepSize(holder, svg) {
  const [width, height] = svg.getAttribute("viewBox").split(" ").slice(2); // in points, as matplotlib draws
  const maxHeight = `min(${height}pt, var(--ostrel-most-high, ${height}pt))`;
  Object.assign(holder.style, { contain: "strict", aspectRatio: `${width} / ${height}`, maxHeight });
  Object.assign(svg.style, { width: "100%", height: "100%" });
}

export function drawing(holder, svg, specs) {
  const suffix = "-v" + ++views; // ids are global on a page, and a picture may stand on it twice
  holder.innerHTML = svg
    .replace(/(<[^>]*? id=")([^"]+)"/g, `$1$2${suffix}"`)
    .replace(/url\(#([^)]+)\)/g, `url(#$1${suffix})`)
    .replace(/href="#([^"]+)"/g, `href="#$1${suffix}"`);
  const parts = specs.map((spec) => {
    const group = holder.querySelector(`[id="${CSS.escape(spec.name + suffix)}"]`);
    group.setAttribute("data-part", spec.name);
    return { spec, move: mover(group, spec), text: spec.words && group.querySelector("text").firstChild };
  });
  const moving = parts.filter((part) => part.spec.points);
  const speaking = parts.filter((part) => part.spec.words);
  const shown = holder.querySelector("svg"), whatItIs = (shown.getAttribute("aria-label") ?? "").replace(/\.$/, "");
  unwrap(shown);
  keepSize(holder, shown);
  const told = speaking.map((part, k) => k).filter((k) => !OF_AXIS.test(speaking[k].spec.name));
  // `now` says in words what the picture is drawn for; whoever does not see it hears that, and what is written in it.
  return (f, words, now = "") => {
    let at = 0;
    for (const part of moving) {
      const end = at + 1 + 2 * f[at];
      if (!same(f, at, end, part.was)) part.move(f, at + 1, end);
      part.was = f.subarray(at, end);
      at = end;
    }
    speaking.forEach((part, k) => {
      const said = words[k] || "\u00a0";
      if (part.text.data !== said) part.text.data = said;
    });
    const written = told.map((k) => words[k]?.trim()).filter(Boolean);
    set(shown, "aria-label", [whatItIs, now, written.join(", ")].filter(Boolean).join(". "));
  };
}
