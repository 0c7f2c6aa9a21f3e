// One question: its words, its drawing, what it is answered with, and what was said to the answer.

import { button, make, newId, paragraphs } from "../dom.js";
import { certainty } from "./certainty.js";
import { control } from "./controls.js";
import { drawingIn } from "./drawing.js";
import { note, replies } from "./reply.js";

const NOTHING = "There is no answer yet.";
const HELD = "Your answer is kept. It will be checked as soon as the lesson is running.";

// `on` is told what the reader wants: check(), hint(), renew() for new numbers, changed() with each change, calculate(insert).
export function questionCard(id, on) {
  let data = null, answering = null, sure = null, tag = "";
  const said = make("div", { class: "ostrel-said", role: "status" });
  const node = make("section", { class: "ostrel-card", "data-question": id, onkeydown: keyed });
  const check = button("Check", () => on.check(), { class: "ostrel-check" });

  function keyed(event) {
    const inText = event.target.matches("textarea");
    const answers = event.target.matches("input, select") || inText;
    if (event.key !== "Enter" || !answers || (inText && !event.ctrlKey)) return;
    event.preventDefault();
    on.check();
  }
  const tell = (...nodes) => said.replaceChildren(...nodes);
  const mark = (now) => {
    tag = now;
    const done = { right: "✓ right", recorded: data?.graded ? "✎ answered" : "✎ written down" }[now] ?? "";
    node.querySelector(".ostrel-state")?.replaceChildren(done);
  };

  return {
    id, node,
    get data() { return data; },
    get tag() { return tag; },
    text: () => sure?.added(answering.text()) ?? answering?.text() ?? "",
    fill(text) {
      const bare = sure ? sure.taken(text) : text;
      if (answering && bare !== answering.text()) answering.fill(bare);
    },
    missing: () => answering?.missing?.() ?? [],
    focus: () => answering?.focus(),
    show(next, html) {
      const kept = data && sameNumbers(data, next) ? answering.text() : "";
      data = next;
      answering = control(data);
      answering.node.addEventListener("input", () => on.changed());
      sure = data.hints ? certainty(() => on.changed()) : null;
      node.replaceChildren(...body(id, data, html, answering.node, check, said, on, answering, sure));
      if (kept) answering.fill(kept);
      mark("");
    },
    // The kernel has answered: `pieces` are the replies and notes it gave.
    reply(pieces) {
      tell(...replies(pieces));
      mark(pieces.findLast((each) => each.what === "reply" && each.tag !== "hint")?.tag ?? tag);
    },
    number(k) { node.querySelector(".ostrel-count")?.replaceChildren(`Question ${k}`); },
    note: (sentence) => tell(note(sentence)),
    // Stays, whatever is said to answers.
    mended: (sentence) => node.querySelector(".ostrel-mended").replaceChildren(note(sentence)),
    held: () => tell(note(HELD)),
    nothing() {
      const open = answering.missing?.() ?? [];
      tell(note(open.length ? `Choose something for ${open.join(", ")} as well.` : NOTHING));
      answering.focus();
    },
    busy(yes) {
      check.setAttribute("aria-disabled", String(yes));
      check.classList.toggle("ostrel-busy", yes);
    },
  };
}

export function sameNumbers(one, other) {
  return JSON.stringify(one.variant) === JSON.stringify(other.variant) && one.text === other.text;
}

function body(id, data, html, answering, check, said, on, controlled, sure) {
  const words = newId("question");
  const drawing = drawingIn(html);
  const text = make("div", { class: "ostrel-text", id: words }, ...paragraphs(data.text));
  answering.setAttribute("aria-describedby", words);
  const actions = make("div", { class: "ostrel-actions" }, check, sure?.node ?? "",
    data.hints ? button("Hint", () => on.hint()) : "",
    data.kind === "number" ? button("Calculator", () => on.calculate(controlled.insert), { class: "ostrel-quiet" }) : "",
    data.renewable ? button("New numbers", () => on.renew(), { class: "ostrel-quiet" }) : "");
  const side = make("div", { class: "ostrel-side" }, text, answering, actions, make("div", { class: "ostrel-mended" }), said);
  return [
    make("header", {}, make("span", { class: "ostrel-count" }), make("span", {}, headingOf(id, data)), make("span", { class: "ostrel-state" }),
      data.badge ? make("span", { class: "ostrel-badge" }, `badge ${data.badge}`) : ""),
    drawing ? make("div", { class: "ostrel-beside" }, drawing, side) : side,
  ];
}

function headingOf(id, { heading }) {
  return /\.again\d+$/.test(id) ? "Comes back from an earlier lesson" : heading;
}
