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
    const practice = await page.ask("practice_to_hand_in()", SLOW);
    keep(practice);
    const saved = await page.save();
    if (!saved) { said.replaceChildren(make("p", { role: "alert" }, "The lesson could not be saved, so nothing was handed in. Wait until the lesson is running again, then try once more.")); return; }
    const [where, unanswered] = [await page.ask("where()", SLOW), page.lesson.orders().filter(({ answered }) => !answered)];
    said.replaceChildren(...openOnes(unanswered), ...goesAlong(practice), ...(where?.exchange ? exchange(where) : file(where?.file)),
      make("div", { class: "ostrel-actions" }, button("Done", () => shown.close(), { class: "ostrel-check" })));
  }
  // The history lies in the notebook itself, so that everything handed in is one file.
  function keep(practice) {
    const model = page.context.model.sharedModel;
    if (practice?.history?.length) model.setMetadata(practice.name, practice.history);
    else if (practice) model.deleteMetadata(practice.name);
  }
  function goesAlong(practice) {
    if (!practice?.history?.length && practice?.goes !== false) return [];
    const words = practice.goes
      ? "What you practised goes along: which questions you tried, whether they were right, when, and how sure you were. It shows your instructor what to explain again. It earns no marks. "
      : "What you practised does not go along. ";
    const line = make("p", { class: "ostrel-practice" }, words, button(practice.goes ? "Leave it out" : "Let it go along", async ({ currentTarget }) => {
      currentTarget.disabled = true;
      const now = await page.ask(`let_practice_go(${practice.goes ? "False" : "True"})`, SLOW);
      if (!now) { currentTarget.disabled = false; return; }
      keep(now);
      await page.save();
      const instead = goesAlong(now);
      line.replaceWith(...instead);
      instead[0]?.querySelector("button").focus(); // else the keyboard would be back at the top of the page
    }));
    return [line];
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
