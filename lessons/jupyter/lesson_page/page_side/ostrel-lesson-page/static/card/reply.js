// What is said to an answer: a sign and words, so that nothing is told by colour alone.

import { make } from "../dom.js";

const SIGNS = { right: "✓", recorded: "✎", unreadable: "?", note: "i", hint: "→" };

// `said` is what the kernel put below the answer's box, piece by piece: replies, and sentences about them.
export function replies(said) {
  return said.map((each) => (each.what === "reply" ? reply(each) : note(each.text)));
}

export function note(text) {
  return framed("note", make("div", {}, text));
}

function reply({ tag, read, means, next }) {
  const strong = !["other", "unreadable", "hint"].includes(tag);
  return framed(tag,
    read ? make("div", { class: "ostrel-read" }, read) : "",
    means ? make(strong ? "strong" : "div", {}, means) : "",
    next ? make("div", {}, next) : "");
}

function framed(tag, ...lines) {
  const look = SIGNS[tag] ? tag : "wrong";
  return make("div", { class: `ostrel-reply ostrel-${look}` },
    make("span", { class: "ostrel-sign", "aria-hidden": "true" }, SIGNS[tag] ?? "✗"), make("div", {}, ...lines));
}
