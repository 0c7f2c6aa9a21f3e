// A choice for each number in a drawing, or for each thing in a list.

import { make } from "../dom.js";

export function matching({ places, options }) {
  const choices = places.map(([number, words]) => {
    const none = make("option", { value: "" }, "choose …");
    const offered = options.map(([letter, said]) => make("option", { value: letter }, `${letter}) ${said}`));
    return make("select", { "aria-label": `${number} ${words}`.trim(), onchange: used }, none, ...offered);
  });
  const rows = places.map(([number, words], k) =>
    make("label", { class: "ostrel-pair" }, make("b", { class: "ostrel-place" }, number),
      words ? make("span", { class: "ostrel-words" }, words) : "", choices[k]));
  // What is chosen elsewhere is marked, and can still be chosen.
  function used() {
    const taken = new Map(choices.filter((each) => each.value).map((each) => [each.value, each]));
    for (const choice of choices) {
      for (const offered of choice.options) {
        const other = taken.get(offered.value);
        offered.classList.toggle("ostrel-used", Boolean(other) && other !== choice);
      }
    }
  }
  return {
    node: make("div", { class: "ostrel-pairs" }, ...rows),
    text: () => places.map(([number], k) => (choices[k].value ? number + choices[k].value : "")).filter(Boolean).join(" "),
    fill(text) {
      const pairs = new Map([...text.toLowerCase().matchAll(/(\d+)\W*([a-z])/g)].map(([, number, letter]) => [number, letter]));
      places.forEach(([number], k) => { choices[k].value = pairs.get(number) ?? ""; });
      used();
    },
    missing: () => places.filter((_, k) => !choices[k].value).map(([number]) => number),
    focus: () => choices[0].focus(),
  };
}
