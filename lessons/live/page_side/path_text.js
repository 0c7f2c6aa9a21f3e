// The text of a path, written as bytes: many times faster than a number after another by toFixed, which is most of
// what a frame of a long curve takes.

const ASCII = new TextDecoder();
const MOST = 1e7; // far off any page; what is larger still is drawn there
const [M, L, Z, SPACE, DOT, MINUS, ZERO] = [..."MLZ .-0"].map((letter) => letter.charCodeAt(0));
let ink = new Uint8Array(4096), end = 0;

function number(value) { // two digits after the dot
  let left = Math.round(Math.max(-MOST, Math.min(MOST, value)) * 100);
  if (left < 0) { ink[end++] = MINUS; left = -left; }
  let digits = 3;
  for (let bound = 1000; bound <= left; bound *= 10) digits++;
  for (let k = digits; k >= 0; k--) {
    if (k === digits - 2) { ink[end + k] = DOT; continue; }
    ink[end + k] = ZERO + (left % 10);
    left = Math.floor(left / 10);
  }
  end += digits + 1;
}

function point(f, at) {
  number(f[at]);
  ink[end++] = SPACE;
  number(f[at + 1]);
}

// What `write` writes, with room for so many points.
function written(points, write) {
  if (ink.length < 28 * points + 28) ink = new Uint8Array(56 * points + 56);
  end = 0;
  write();
  return ASCII.decode(ink.subarray(0, end));
}

const gone = (f, at) => Number.isNaN(f[at]) || Number.isNaN(f[at + 1]);

function straight(f, from, to, closed) {
  let pen = false;
  for (let at = from; at < to; at += 2) {
    const gap = gone(f, at);
    if (gap && pen && closed) ink[end++] = Z;
    if (!gap) {
      ink[end++] = pen ? L : M;
      point(f, at);
    }
    pen = !gap;
  }
  if (pen && closed) ink[end++] = Z;
}

// `codes` has one letter a vertex; "-" continues a curve.
function curved(f, from, codes) {
  for (let k = 0; k < codes.length; k++) {
    const letter = codes.charCodeAt(k);
    if (letter === Z) { ink[end++] = Z; continue; }
    if (gone(f, from + 2 * k)) { end = 0; return; }
    ink[end++] = letter === MINUS ? SPACE : letter;
    point(f, from + 2 * k);
  }
}

// The coordinates of `f` between two places as the `d` of a path; nan makes a gap.
export function pathText(f, from, to, { codes, closed }) {
  const points = (to - from) / 2;
  if (codes && codes.length === points) return written(points, () => curved(f, from, codes));
  return written(points, () => straight(f, from, to, closed));
}
