// Works out a line such as "100 × 50^(0.6 − 1)" or "√(2.5) + log(40)". Gives a number, or a sentence on what is wrong.

const PIECES = /\s*(?:(\d+(?:[.,]\d*)?(?:[eE][-+]?\d+)?|[.,]\d+)|(sqrt|root|log|lg|ln|exp|ans|pi)|([-+−–*×·/÷:^²³√()πe%]))/iy;
const CALLS = { sqrt: Math.sqrt, root: Math.sqrt, "√": Math.sqrt, log: Math.log10, lg: Math.log10, ln: Math.log, exp: Math.exp };
const SAME = { "−": "-", "–": "-", "×": "*", "·": "*", "÷": "/", ":": "/" };

export function reckon(text, answer = 0) {
  try {
    const left = pieces(text);
    const value = sum(left, answer);
    if (left.length) throw new Slip(`“${left[0]}” does not belong there.`);
    return Number.isFinite(value) ? value : "This has no result: a division by zero, or a root or logarithm that does not exist.";
  } catch (slip) {
    if (slip instanceof Slip) return slip.message;
    throw slip;
  }
}

// Six digits, without an exponent where people do without.
export function written(value) {
  const short = Number(value.toPrecision(6));
  return Math.abs(short) >= 1e9 || (short !== 0 && Math.abs(short) < 1e-6) ? short.toExponential() : String(short);
}

class Slip extends Error {}

function pieces(text) {
  const found = [];
  PIECES.lastIndex = 0;
  const whole = text.trimEnd();
  while (PIECES.lastIndex < whole.length) {
    const from = PIECES.lastIndex, match = PIECES.exec(whole);
    if (!match) throw new Slip(`“${whole.slice(from).trim()[0]}” means nothing to the calculator.`);
    found.push(match[1] ? Number(match[1].replace(",", ".")) : (match[2]?.toLowerCase() ?? SAME[match[3]] ?? match[3]));
  }
  return found;
}

function sum(left, answer) {
  let value = product(left, answer);
  while (left[0] === "+" || left[0] === "-") value += left.shift() === "+" ? product(left, answer) : -product(left, answer);
  return value;
}

function product(left, answer) {
  let value = signed(left, answer);
  for (;;) {
    if (left[0] === "*") { left.shift(); value *= signed(left, answer); }
    else if (left[0] === "/") { left.shift(); value /= signed(left, answer); }
    else if (begins(left[0])) value *= power(left, answer); // 2π, 3(4 + 1)
    else return value;
  }
}

function signed(left, answer) {
  if (left[0] === "-") { left.shift(); return -signed(left, answer); }
  if (left[0] === "+") { left.shift(); return signed(left, answer); }
  return power(left, answer);
}

// Binds closer than a sign in front, and from the right: -2^2 is -4, 2^3^2 is 512.
function power(left, answer) {
  let value = single(left, answer);
  for (;;) {
    if (left[0] === "²") { left.shift(); value **= 2; }
    else if (left[0] === "³") { left.shift(); value **= 3; }
    else if (left[0] === "%") { left.shift(); value /= 100; }
    else break;
  }
  if (left[0] !== "^") return value;
  left.shift();
  return value ** signed(left, answer);
}

function single(left, answer) {
  const piece = left.shift();
  if (typeof piece === "number") return piece;
  if (piece === "π" || piece === "pi") return Math.PI;
  if (piece === "e") return Math.E;
  if (piece === "ans") return answer;
  if (piece in CALLS) return CALLS[piece](single(left, answer));
  if (piece !== "(") throw new Slip(piece === undefined ? "Something is missing at the end." : `“${piece}” does not belong there.`);
  const value = sum(left, answer);
  if (left[0] === ")") left.shift(); // one left open at the end is closed
  else if (left.length) throw new Slip(`“${left[0]}” does not belong there.`);
  return value;
}

function begins(piece) {
  return typeof piece === "number" || piece === "(" || piece in CALLS || ["π", "pi", "e", "ans"].includes(piece);
}
