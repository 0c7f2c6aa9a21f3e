// What a question is answered with. Each control gives the answer as the text that is kept in the lesson's file, the same
// that can be typed there by hand, and can be filled from such a text.

import { counted, make, newId } from "../dom.js";
import { lettersOf } from "./letters.js";
import { matching } from "./match.js";
import { ordering } from "./order.js";

const BARE_NUMBER = /^[-+−]?[\d.,' ]*\d[.,]?([eE][-+−]?\d+)?$/;

function number({ unit, units, digits }) {
  const box = make("input", {
    type: "text", inputmode: "decimal", autocomplete: "off", spellcheck: false, class: "ostrel-number",
    "aria-label": unit ? `Answer in ${unit}` : "Answer, a number",
  });
  const choice = units.length > 1
    ? make("select", { class: "ostrel-unit", "aria-label": "Unit" }, ...units.map((each) => make("option", {}, each)))
    : make("span", { class: "ostrel-unit" }, unit);
  const enough = digits ? make("span", { class: "ostrel-enough" }, `${counted(digits, "digit")} will do`) : "";
  const picked = () => (units.length > 1 ? choice.value : unit);
  return {
    node: make("div", { class: "ostrel-numbers" }, box, choice, enough),
    text() {
      const typed = box.value.trim();
      return BARE_NUMBER.test(typed) && picked() ? `${typed} ${picked()}` : typed;
    },
    fill(text) {
      const [bare, found] = withoutUnit(text, units);
      box.value = bare;
      if (found && units.length > 1) choice.value = found;
    },
    focus: () => box.focus(),
    insert(value) {
      box.value = value;
      box.dispatchEvent(new Event("input", { bubbles: true }));
      box.focus();
    },
  };
}

// The unit stands behind a number; only a flow coefficient is written "Kv 40".
function withoutUnit(text, units) {
  for (const unit of [...units].sort((a, b) => b.length - a.length)) {
    for (const bare of [text.endsWith(unit) && text.slice(0, -unit.length), text.startsWith(`${unit} `) && text.slice(unit.length)]) {
      if (bare && BARE_NUMBER.test(bare.trim())) return [bare.trim(), unit];
    }
  }
  return [text, ""];
}

// Options to tap: one of them, or as many as fit.
function options({ options: given }, many) {
  const name = newId("options");
  const boxes = given.map(([letter]) => make("input", { type: many ? "checkbox" : "radio", name, value: letter }));
  const rows = given.map(([letter, words], k) =>
    make("label", { class: "ostrel-option" }, boxes[k], make("b", {}, letter), make("span", {}, words)));
  const role = many ? "group" : "radiogroup";
  return {
    node: make("div", { class: "ostrel-options", role, "aria-label": many ? "Tick all that fit" : "Pick one" },
      many ? make("p", { class: "ostrel-how" }, "Tick all that fit.") : "", ...rows),
    text: () => boxes.filter((box) => box.checked).map((box) => box.value).join(" "),
    fill(text) {
      const letters = lettersOf(text, given);
      for (const box of boxes) box.checked = letters.includes(box.value);
    },
    focus: () => (boxes.find((box) => box.checked) ?? boxes[0])?.focus(),
  };
}

function written() {
  const box = make("textarea", { rows: 7, class: "ostrel-written", "aria-label": "Your answer in sentences" });
  return {
    node: box,
    text: () => box.value.trim(),
    fill: (text) => { box.value = text; },
    focus: () => box.focus(),
  };
}

const KINDS = {
  number,
  choice: (data) => options(data, false),
  predict: (data) => options(data, false),
  several: (data) => options(data, true),
  order: ordering,
  match: matching,
  written,
};

export function control(data) {
  return KINDS[data.kind](data);
}
