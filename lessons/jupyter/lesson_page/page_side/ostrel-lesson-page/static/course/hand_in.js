// Handing in: the lesson is saved, and the reader is told where its file is, or that the instructor has it.

import { button, counted, make } from "../dom.js";
import { dialog } from "./dialog.js";

const SLOW = 90_000; // ms; an exchange may lie on a slow disk

export function handingIn(page) {
  const said = make("div", { class: "ostrel-hand-in" });
  const shown = dialog(page.panel.node, "Hand in", said);

  async function open() {
    said.replaceChildren(make("p", { role: "status" }, "Saving …"));
    shown.open();
    const saved = await page.save();
    if (!saved) { said.replaceChildren(make("p", { role: "alert" }, "The lesson could not be saved, so nothing was handed in. Wait until the lesson is running again, then try once more.")); return; }
    const [where, unanswered] = [await page.ask("where()", SLOW), page.lesson.orders().filter(({ answered }) => !answered)];
    said.replaceChildren(...openOnes(unanswered), ...(where?.exchange ? exchange(where) : file(where?.file)),
      make("div", { class: "ostrel-actions" }, button("Done", () => shown.close(), { class: "ostrel-check" })));
  }
  const openOnes = (left) => (left.length
    ? [make("p", { class: "ostrel-warn" }, `No answer yet to ${counted(left.length, "work order question")}: `,
      ...left.flatMap((each, k) => [k ? ", " : "", link(each)]), ". You may hand in anyway, and again later.")]
    : [make("p", {}, "All work order questions have an answer.")]);
  const link = ({ id, words }) => make("a", { href: "#", onclick: (event) => { event.preventDefault(); shown.close(); page.lesson.goTo(id); } }, words);
  const file = (path) => [
    make("p", {}, "Your answers are saved in this file. Give it to your instructor:"),
    make("p", { class: "ostrel-file" }, path || page.context.path),
    make("p", {}, make("a", { href: page.download(), download: page.context.path.split("/").at(-1) }, "Save a copy, for example to attach it to a mail")),
  ];
  const exchange = ({ exchange: course }) => [
    make("p", {}, `Your instructor collects hand-ins of the course “${course}” from here.`),
    button("Send it to the instructor", async ({ currentTarget }) => {
      currentTarget.disabled = true;
      const told = await page.ask("hand_in_lesson()", SLOW);
      currentTarget.replaceWith(make("p", { role: "status" }, told?.sent ? `Handed in at ${told.sent}. You may hand in again; the last one counts.` : `It could not be handed in: ${told?.wrong ?? "the lesson is not running."}`));
    }, { class: "ostrel-check" }),
  ];
  return { open };
}
