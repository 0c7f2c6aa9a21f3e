// Words of the glossary explain themselves where they first stand: on hover, on focus and on a tap.

import { make, newId } from "../dom.js";

const NOT_IN = "a, button, h1, h2, h3, code, pre, label, select, option, textarea, .ostrel-word, .ostrel-said, .ostrel-live, svg, .jupyter-widgets";
const LEAVE_AFTER = 250; // ms to get from the word to what explains it

export function explainer(root, goTo) {
  let known = new Map(), pattern = null, timer = 0, shownFor = null;
  const inLesson = new Set();
  const tip = make("div", { class: "ostrel-tip", role: "tooltip", id: newId("tip"), hidden: true,
    onpointerenter: () => clearTimeout(timer), onpointerleave: () => leave() });
  root.append(tip);

  function learn(words) {
    if (!words) return;
    known = new Map(Object.entries(words).map(([term, each]) => [term.toLowerCase(), { term, ...each }]));
    const terms = [...known.keys()].sort((a, b) => b.length - a.length).map((term) => term.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
    pattern = terms.length ? new RegExp(`(?<![\\p{L}\\d-])(${terms.join("|")})(s|es)?(?![\\p{L}\\d-])`, "giu") : null;
  }

  // Marks a word once in `node`; with `oncePerLesson`, once in all nodes marked so.
  function mark(node, oncePerLesson) {
    if (!pattern) return;
    const seen = oncePerLesson ? inLesson : new Set();
    for (const old of node.querySelectorAll(".ostrel-word")) seen.add(old.dataset.term);
    const walker = document.createTreeWalker(node, NodeFilter.SHOW_TEXT);
    const texts = [];
    while (walker.nextNode()) if (!walker.currentNode.parentElement.closest(NOT_IN)) texts.push(walker.currentNode);
    for (const text of texts) markIn(text, seen);
  }

  function markIn(text, seen) {
    const found = [...text.data.matchAll(pattern)].filter((each) => {
      const term = each[1].toLowerCase();
      return !seen.has(term) && seen.add(term);
    });
    for (const each of found.toReversed()) {
      const rest = text.splitText(each.index);
      rest.splitText(each[0].length);
      const word = make("span", { class: "ostrel-word", tabindex: "0", role: "button", "data-term": each[1].toLowerCase(), "aria-describedby": tip.id,
        onpointerenter: ({ pointerType }) => { if (pointerType === "mouse") show(word); }, onpointerleave: () => leave(),
        onfocus: () => show(word), onblur: () => leave(), onclick: () => show(word),
        onkeydown: (event) => { if (event.key === "Escape") hide(); } }, rest.data);
      rest.replaceWith(word);
    }
  }

  function show(word) {
    clearTimeout(timer);
    if (shownFor === word) return;
    shownFor = word;
    const { term, said, lesson, path } = known.get(word.dataset.term);
    tip.replaceChildren(make("strong", {}, term), ` ${said} `,
      make("a", { href: path, onclick: (event) => { event.preventDefault(); hide(); goTo(path); } }, lesson));
    tip.hidden = false;
    place(word);
  }

  function place(word) {
    const [at, room] = [word.getBoundingClientRect(), root.getBoundingClientRect()];
    const { offsetWidth: width, offsetHeight: height } = tip;
    const left = Math.min(Math.max(at.left - room.left, 8), room.width - width - 8);
    const below = at.bottom - room.top + 6;
    tip.style.left = `${left}px`;
    tip.style.top = `${below + height > room.height - 8 ? at.top - room.top - height - 6 : below}px`;
  }

  function leave() {
    clearTimeout(timer);
    timer = setTimeout(hide, LEAVE_AFTER);
  }
  function hide() {
    shownFor = null;
    tip.hidden = true;
  }
  root.addEventListener("scroll", hide, { capture: true, passive: true });
  root.addEventListener("pointerdown", (event) => { if (!event.target.closest(".ostrel-word, .ostrel-tip")) hide(); });
  return { learn, mark };
}
