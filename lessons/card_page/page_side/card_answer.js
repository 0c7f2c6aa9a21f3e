// The answer of a job card, and the page to take along.

import { againButton, button, make, put, set } from "../../live/page_side/page.js";

const HEADS = { working: "working…", silent: "No answer", refused: "No answer for these numbers" };
const SILENT = "The program behind this card does not reply. What you typed stays as it is.";
const IN_LAB = " If asking again does not help, reload the page.";
const NOTHING = { rows: [], formula: [], steps: [] };
const SAVING_AFTER = 2000; // ms until the page says that nothing is saved yet

export const list = (tag, lines) => make(tag, {}, ...lines.map((line) => make("li", {}, line)));

// ---- the answer --------------------------------------------------------------------------------------------------

// Shows an answer in state "shown" only: "working" hides it, "silent" and "refused" leave nothing of it.
export function answerBox({ signs, lab }, again) {
  const headline = make("div", { class: "ostrel-headline" });
  const rows = make("table", { class: "ostrel-rows" });
  const says = make("div", { class: "ostrel-says" });
  const root = make("div", { class: "ostrel-answer", role: "status" }, headline, rows, says, againButton(again));
  // The same line at the foot of the screen while the answer itself is out of sight.
  const bar = make("div", { class: "ostrel-bar", "aria-hidden": "true", hidden: "" });
  const watch = new IntersectionObserver(([seen]) => { bar.hidden = seen.isIntersecting; }, { threshold: 0.95 });
  watch.observe(headline);
  const formula = make("div", { class: "ostrel-formula" });
  const steps = make("div", { class: "ostrel-steps" });
  let seen = "";
  const lines = (holder, count, build) => {
    while (holder.children.length > count) holder.lastChild.remove();
    while (holder.children.length < count) holder.append(build());
  };
  const fill = (answer) => {
    lines(rows, answer.rows.length, () => make("tr", {}, make("td"), make("td")));
    answer.rows.forEach((row, k) => row.forEach((words, j) => put(rows.children[k].children[j], words)));
    lines(formula, answer.formula.length, () => make("div"));
    answer.formula.forEach((words, k) => put(formula.children[k], words));
    const now = JSON.stringify(answer.steps);
    const said = answer.steps.length ? [make("h2", {}, "In this order"), list("ol", answer.steps)] : [];
    if (now !== seen) steps.replaceChildren(...said);
    seen = now;
  };
  const show = (state, { answer, problems }) => {
    const good = state === "shown";
    set(root, "class", `ostrel-answer ${good ? answer.tone : state}`);
    put(headline, good ? `${signs[answer.tone]} ${answer.headline}` : HEADS[state]);
    put(bar, headline.textContent);
    set(bar, "class", `ostrel-bar ${good ? answer.tone : state}`);
    const why = problems[""] || "Correct what is marked above.";
    put(says, state === "silent" ? SILENT + (lab ? IN_LAB : "") : state === "refused" ? why : "");
    if (state !== "working") fill(good ? answer : NOTHING);
  };
  return { root, bar, formula, steps, show, stop: () => watch.disconnect() };
}

// ---- the page to take along --------------------------------------------------------------------------------------

const TYPES = { pdf: "application/pdf", html: "text/html", csv: "text/csv" };

export function takeAlong(id, record, save) {
  const tag = make("input", { id: id + "-tag", maxlength: 80, autocomplete: "off" });
  const who = make("input", { id: id + "-who", maxlength: 80, autocomplete: "off" });
  const paper = make("select", { id: id + "-paper" }, make("option", {}, "A4"), make("option", {}, "Letter"));
  const saving = button("Save page", () => {
    clearTimeout(timer);
    timer = setTimeout(() => tell("There is no answer, so nothing has been saved."), SAVING_AFTER);
    tell("Writing the page…");
    current = false;
    save({ seq: ++seq, tag: tag.value, who: who.value, paper: paper.value });
  });
  const said = make("div", { class: "ostrel-saved", role: "status" });
  const named = (words, input) => make("span", {}, make("label", { for: input.id }, words), input);
  const boxes = [named("valve tag or job number", tag), named("name", who), named("paper", paper)];
  const form = make("div", { class: "ostrel-take" }, ...boxes, saving);
  const what = "PDF and a page for the printer" + (record ? ", calibration record as CSV" : "");
  const root = make("section", {}, make("h2", {}, `Take along: ${what}`), form, said);
  let seq = 0, timer = 0, words = "", current = false;
  let urls = []; // of the links on the page; a browser keeps the files behind them until they are revoked
  const revoke = () => { for (const url of urls) URL.revokeObjectURL(url); urls = []; };
  const tell = (sentence, links = []) => said.replaceChildren(make("div", {}, sentence), ...links);
  const show = (message, buffers) => {
    if (message.seq !== seq) return; // of an earlier click
    clearTimeout(timer);
    revoke();
    urls = message.files.map((name, k) => URL.createObjectURL(new Blob([buffers[k]], { type: TYPES[name.split(".").pop()] })));
    const links = message.files.map((name, k) => make("a", { href: urls[k], download: name }, name));
    words = message.said;
    current = links.length > 0;
    tell(words, links);
  };
  const changed = () => { // what was saved has the old numbers
    if (!current) return;
    current = false;
    put(said.firstChild, `${words} The numbers on this card have changed since.`);
  };
  return { root, show, changed, stop() { clearTimeout(timer); revoke(); } };
}
