// One optional click: how sure the reader is. It goes with the answer as its last line, as it may be typed there.

import { button, make } from "../dom.js";

const ENDS = /\s*[\s,;(](not sure|sure)[).!]*$/i;

export function certainty(changed) {
  let said = "";
  const choices = ["sure", "not sure"].map((words) => button(words, () => { set(said === words ? "" : words); changed(); }, { "aria-pressed": "false" }));
  const set = (words) => {
    said = words;
    for (const each of choices) each.setAttribute("aria-pressed", String(each.textContent === words));
  };
  return {
    node: make("span", { class: "ostrel-sure", role: "group", "aria-label": "How sure are you? You need not say." }, ...choices),
    added: (text) => (text && said ? `${text}\n${said}` : text),
    // Takes the words off an answer and returns what is left.
    taken(text) {
      const found = ENDS.exec(text);
      set(found ? found[1].toLowerCase() : "");
      return found ? text.slice(0, found.index) : text;
    },
  };
}
