// A small calculator to open beside a question. It works out what is typed; nothing typed is run as code.

import { button, make } from "../dom.js";
import { reckon, written } from "./reckon.js";

const KEYS = [
  ["7", "8", "9", "÷", "("], ["4", "5", "6", "×", ")"], ["1", "2", "3", "−", "^"], ["0", ".", "Ans", "+", "√("],
  ["log(", "ln(", "π", "²", "e"],
];
const SPOKEN = { "÷": "divided by", "×": "times", "−": "minus", "+": "plus", "^": "to the power", "√(": "root of", "log(": "logarithm to base 10", "ln(": "natural logarithm", "²": "squared", "π": "pi", Ans: "last result" };

export function calculator(parent) {
  let insert = null, answer = 0, opener = null;
  const line = make("input", { type: "text", autocomplete: "off", spellcheck: false, "aria-label": "Calculation", placeholder: "50^0.1" });
  const result = make("output", { "aria-live": "polite" });
  const put = (text) => {
    const { selectionStart: from, selectionEnd: to, value } = line;
    line.value = value.slice(0, from) + text + value.slice(to);
    line.setSelectionRange(from + text.length, from + text.length);
    line.focus();
    show();
  };
  const show = () => {
    const value = reckon(line.value, answer);
    result.textContent = line.value.trim() ? (typeof value === "number" ? `= ${written(value)}` : value) : "";
    return value;
  };
  const equals = () => {
    const value = show();
    if (typeof value === "number") { answer = value; line.value = written(value); line.select(); }
  };
  const close = () => { node.hidden = true; opener?.focus(); };
  const take = () => {
    const value = show();
    if (typeof value === "number") { insert?.(written(value)); node.hidden = true; }
  };
  const keys = KEYS.flat().map((key) => button(key, () => put(key), SPOKEN[key] ? { "aria-label": SPOKEN[key] } : {}));
  const node = make("section", { class: "ostrel-calculator", "aria-label": "Calculator", hidden: true, onkeydown: keyed },
    make("div", { class: "ostrel-panel-head" }, make("strong", {}, "Calculator"), button("✕", close, { "aria-label": "Close the calculator", class: "ostrel-quiet" })),
    line, result, make("div", { class: "ostrel-keys" }, ...keys),
    make("div", { class: "ostrel-actions" }, button("=", equals, { "aria-label": "equals", class: "ostrel-quiet" }),
      button("C", () => { line.value = ""; show(); line.focus(); }, { "aria-label": "Clear", class: "ostrel-quiet" }),
      button("Use as answer", take, { class: "ostrel-check" })));
  line.addEventListener("input", show);
  function keyed(event) {
    event.stopPropagation();
    if (event.key === "Escape") close();
    if (event.key === "Enter" && event.target === line) { event.preventDefault(); equals(); }
  }
  parent.append(node);
  return {
    // `into` puts a result into the answer it was opened from.
    open(into) {
      opener = document.activeElement;
      insert = into;
      node.hidden = false;
      line.focus();
    },
  };
}
