// A box to type a word in, and what it finds in lessons, glossary and cards.

import { make } from "../dom.js";

const AFTER = 200; // ms without a key before it is looked for
const NAMES = { lessons: "Lessons", "words explained": "Words explained", "job cards": "Job cards" };

// `instead` is what stands there while nothing is looked for.
export function finder(page, instead) {
  let timer = 0, asked = 0;
  const box = make("input", { type: "search", placeholder: "Search: leak, stem …", "aria-label": "Search lessons, glossary and job cards", oninput: typed });
  const shown = make("div", { class: "ostrel-found", role: "status" });

  function typed() {
    clearTimeout(timer);
    timer = setTimeout(look, box.value.trim() ? AFTER : 0);
  }
  async function look() {
    const text = box.value.trim(), mine = asked += 1;
    instead.hidden = Boolean(text);
    if (!text) { shown.replaceChildren(); return; }
    const found = await page.ask(`find(${JSON.stringify(text)})`);
    if (mine !== asked) return; // something else has been typed meanwhile
    shown.replaceChildren(...(found === null ? [make("p", {}, "Searching works as soon as the lesson is running.")]
      : found.length ? found.flatMap(group)
      : [make("p", {}, `Nothing was found for “${text}”. Try one plain word, such as leak, stem or noise.`)]));
  }
  const group = ({ kind, found }) => [make("h2", {}, NAMES[kind] ?? kind), make("ul", {}, ...found.map(line))];
  const line = ({ title, line: said, path }) => {
    const link = make("a", { href: path, onclick: (event) => { event.preventDefault(); page.panelBeside.gone(); page.travel.to(path); } }, title);
    if (said) link.append(make("small", {}, said));
    return make("li", {}, link);
  };
  return {
    node: make("div", { class: "ostrel-finder" }, box, shown),
    focus: () => box.focus(),
    // Tells whether there was anything to clear.
    clear() {
      if (!box.value) return false;
      box.value = "";
      look();
      return true;
    },
  };
}
