// Steps to put in order: by buttons, by the arrow keys on a step, or by dragging it with the mouse, or with a finger on its number.

import { button, make } from "../dom.js";
import { lettersOf } from "./letters.js";

export function ordering({ options: given }) {
  const list = make("ol", { class: "ostrel-steps", "aria-label": "Steps, first at the top" });
  const changed = () => {
    [...list.children].forEach((step, k, all) => {
      step.firstChild.textContent = `${k + 1}`;
      const [up, down] = step.querySelectorAll("button");
      up.disabled = k === 0;
      down.disabled = k === all.length - 1;
    });
  };
  const move = (step, by) => {
    const place = [...list.children].indexOf(step) + by;
    if (place < 0 || place >= list.children.length) return;
    list.insertBefore(step, by > 0 ? list.children[place].nextSibling : list.children[place]);
    told();
  };
  const told = () => {
    changed();
    list.dispatchEvent(new Event("input", { bubbles: true }));
  };
  const steps = new Map(given.map(([letter, words]) => [letter, stepOf(letter, words, move, told)]));
  list.append(...steps.values());
  changed();
  return {
    node: make("div", {},
      make("p", { class: "ostrel-how" }, "Put the steps in order: drag a step by its number, or use the arrows."), list),
    text: () => [...list.children].map((step) => step.dataset.letter).join(" "),
    fill(text) {
      const letters = lettersOf(text, given);
      if (letters.length !== given.length) return;
      list.append(...letters.map((letter) => steps.get(letter)));
      changed();
    },
    focus: () => list.firstChild.focus(),
  };
}

function stepOf(letter, words, move, told) {
  const by = (distance) => (event) => {
    move(step, distance);
    const pressed = event.currentTarget;
    (pressed.disabled ? step : pressed).focus();
  };
  const step = make("li", { class: "ostrel-step", tabindex: "0", "data-letter": letter, onkeydown: keyed },
    make("span", { class: "ostrel-place ostrel-grip" }),
    make("span", { class: "ostrel-words" }, make("b", {}, `${letter}`), ` ${words}`),
    button("▲", by(-1), { "aria-label": `Move up: ${words}` }),
    button("▼", by(1), { "aria-label": `Move down: ${words}` }));
  function keyed(event) {
    const distance = { ArrowUp: -1, ArrowDown: 1 }[event.key];
    if (!distance || event.target !== step) return;
    event.preventDefault();
    move(step, distance);
    step.focus();
  }
  step.addEventListener("pointerdown", (event) => {
    if (event.target.closest("button") || event.button) return;
    if (event.pointerType === "touch" && !event.target.closest(".ostrel-grip")) return; // it scrolls the page
    drag(step, event, told);
  });
  return step;
}

// The step follows the pointer from one place to the next. The list hears the pointer, since a step that moves loses it.
function drag(step, { pointerId }, told) {
  const list = step.parentNode;
  list.setPointerCapture(pointerId);
  step.classList.add("ostrel-held");
  const follow = ({ clientY }) => {
    let moved = false;
    for (let before = step.previousElementSibling; before && clientY < middle(before); before = step.previousElementSibling) {
      list.insertBefore(step, before);
      moved = true;
    }
    for (let after = step.nextElementSibling; after && clientY > middle(after); after = step.nextElementSibling) {
      list.insertBefore(after, step);
      moved = true;
    }
    if (moved) told();
  };
  const drop = () => {
    step.classList.remove("ostrel-held");
    list.removeEventListener("pointermove", follow);
  };
  list.addEventListener("pointermove", follow);
  list.addEventListener("lostpointercapture", drop, { once: true });
}

function middle(node) {
  const { top, height } = node.getBoundingClientRect();
  return top + height / 2;
}
