// A job card. No formula here: what is typed goes to the kernel, what it answers is shown.

import { answerBox, list, takeAlong } from "./card_answer.js";
import { fieldRow } from "./card_boxes.js";
import { drawing } from "../../live/page_side/drawing.js";
import { button, keepKeys, make, otherUnits, put, set } from "../../live/page_side/page.js";
import { answersAhead, floats, listen, requests, send } from "../../live/page_side/requests.js";

const TELL_AFTER = 120; // ms after the last step of a slider whose answers were there: then Python is told
const HIDE_AFTER = 200; // ms until picture and formula go too; to hide and show them at each key would cost more
const LETTERS = "Keypad with letters", DIGITS = "Keypad of digits"; // for units, fractions and a minus on a touch screen
// Browsers take only so many changes of the address, some 100 in half a minute: a few at once, then one now and then.
const KEEP_AT_ONCE = 20, KEEP_EVERY = 400; // ms
const RESTART_AFTER = 1500; // ms after asking again in vain: then the card is started anew

// In JupyterLab a link opens a tab beside this one; its own address tells where the lessons lie.
function openInLab(link, path) {
  const here = /\/tree\/(.*?)job_cards\//.exec(decodeURIComponent(location.pathname));
  if (!here) return;
  set(link, "data-commandlinker-command", "docmanager:open");
  set(link, "data-commandlinker-args", JSON.stringify({ path: here[1] + path }));
}

function learn({ words, path }) {
  const name = path ? make("a", { href: "../" + path }, words) : make("b", {}, words);
  if (path) name.addEventListener("click", () => openInLab(name, path));
  return [make("p", {}, "Learn it properly: ", name, path ? "." : ", among the lessons (python -m lessons).")];
}

// ---- what stands on the page -------------------------------------------------------------------------------------

function build(el, page, on) {
  const id = "ostrel-" + Math.random().toString(36).slice(2, 10);
  const picture = make("div", { class: "ostrel-picture" });
  const rows = page.fields.map((field, k) => fieldRow(field, `${id}-${k}`, on));
  const units = button("", on.switched);
  const answer = answerBox(page, on.again);
  const keys = button(LETTERS, () => {
    const digits = keys.textContent === LETTERS;
    put(keys, digits ? DIGITS : LETTERS);
    page.fields.forEach((field, k) => {
      if (field.digits) for (const input of rows[k].inputs) set(input, "inputmode", digits ? "text" : "decimal");
    });
  });
  set(keys, "class", "ostrel-keys");
  const take = takeAlong(id, page.record, on.save);
  const lead = make("div", { class: "ostrel-lead" }, page.lead);
  const root = make("article", { class: "ostrel-card" },
    make("div", { class: "ostrel-head" }, make("div", {}, make("h1", {}, page.title), lead), make("div", { class: "ostrel-tools" }, units, keys)),
    make("div", { class: "ostrel-fields" }, ...rows.map((one) => one.row)),
    answer.root, picture,
    make("section", { class: "ostrel-cautions" }, make("h2", {}, "Cautions"), list("ul", page.cautions)),
    answer.steps, make("h2", {}, "How it is worked out"), answer.formula,
    make("h2", {}, "What would change the answer"), list("ul", page.changes),
    make("p", {}, make("b", {}, "Source. "), page.source),
    make("p", {}, make("b", {}, "Numbers to start with: "), page.start + "."),
    ...learn(page.learn), take.root, answer.bar);
  root.addEventListener("keydown", keepKeys);
  el.replaceChildren(root);
  const inputs = rows.flatMap((one) => one.inputs);
  let latest; // what Python answered last
  let late = 0;
  let named = ""; // the unit set in which the boxes have their names
  return {
    texts: () => Object.fromEntries(inputs.map((input) => [input.dataset.key, input.value])),
    write(texts) {
      for (const input of inputs) if (input.value !== texts[input.dataset.key]) input.value = texts[input.dataset.key] ?? "";
    },
    name(wanted) {
      put(units, otherUnits(wanted));
      if (named !== wanted) rows.forEach((one) => one.name(wanted));
      named = wanted;
    },
    show(shown) {
      latest = shown;
      this.name(shown.units);
      rows.forEach((one, k) => {
        one.tell(shown.problems[page.fields[k].name] ?? "");
        one.place(shown.units, shown.places[page.fields[k].name]);
      });
    },
    state(told) { // the answer stands there only as long as it belongs to the boxes
      const state = told === "shown" && !latest.answer ? "refused" : told;
      const mark = () => set(root, "data-state", state);
      if (state === "working") late ||= setTimeout(mark, HIDE_AFTER); else { clearTimeout(late); late = 0; mark(); }
      set(root, "aria-busy", String(state === "working"));
      answer.show(state, latest);
      if (told !== "shown") take.changed();
    },
    draw: drawing(picture, page.svg, page.parts),
    saved: take.show,
    changed: take.changed,
    stop() { take.stop(); answer.stop(); clearTimeout(late); },
  };
}

// ---- when nothing answers ----------------------------------------------------------------------------------------

// What was typed in JupyterLab outlives the page's kernel: the card that is started anew begins with it.
function keptByTab(title) {
  const place = `ostrel-card ${title}`;
  let kept = true; // perhaps, by the card before this one
  const store = (use) => { try { return use(sessionStorage); } catch { return null; } }; // a browser may forbid it
  return {
    told(state, inputs) {
      if (state === "silent") { kept = true; store((all) => all.setItem(place, JSON.stringify(inputs))); }
      if (state === "shown" && kept) { kept = false; store((all) => all.removeItem(place)); }
    },
    take: () => store((all) => JSON.parse(all.getItem(place))),
  };
}

// A served card keeps it in its address: it is there after a reload, after Back, and for whoever gets the link.
function keptInAddress() {
  let timer = 0, latest, written, spare = KEEP_AT_ONCE, counted = performance.now();
  const write = () => {
    timer = 0;
    const words = "#" + new URLSearchParams({ ...latest.texts, units: latest.units });
    if (words === written) return;
    history.replaceState(null, "", words);
    written = words;
    spare -= 1;
  };
  return {
    told(_state, inputs) {
      latest = inputs;
      const now = performance.now();
      spare = Math.min(KEEP_AT_ONCE, spare + (now - counted) / KEEP_EVERY);
      counted = now;
      if (spare >= 1) write(); else timer ||= setTimeout(write, KEEP_EVERY);
    },
    take() {
      const { units, ...texts } = Object.fromEntries(new URLSearchParams(location.hash.slice(1)));
      return ["si", "us"].includes(units) ? { texts, units } : null;
    },
  };
}

// The kernel that knew this card is gone: in JupyterLab its cells run again, a page without code is loaded again.
async function startAnew(el, lab) {
  if (lab) {
    const run = make("a", { "data-commandlinker-command": "notebook:run-all-cells", "data-commandlinker-args": "{}" });
    el.append(run); // within the output of a cell, which JupyterLab trusts
    run.click();
    run.remove();
    return;
  }
  try { await fetch(location.href, { method: "HEAD", cache: "no-store" }); } catch { return; } // no server: stay
  location.reload();
}

// ---- the widget --------------------------------------------------------------------------------------------------

function render({ model, el }) {
  const page = model.get("_page");
  let units = model.get("_shown").units, to = units; // of what stands in the boxes; and those asked for
  let telling = 0, restarting = 0;
  const kept = page.lab ? keptByTab(page.title) : keptInAddress(), ahead = answersAhead(model);
  const inputs = () => ({ texts: view.texts(), units, to });
  const show = (reply, fits, mine) => {
    if (fits) {
      if (!mine || reply.write) view.write(reply.texts);
      units = to = reply.units;
      view.show(reply);
    }
    if (reply.answer) view.draw(floats(model.get("_frame")), reply.words, reply.answer.headline);
  };
  const key = (name) => JSON.stringify([name, units, { ...view.texts(), [name]: null }]);
  const held = (name) => ahead.ask(key(name), { kind: "ahead", field: name, texts: view.texts(), units });
  const view = build(el, page, {
    typed: () => asking.ask(),
    held,
    slid(name) {
      const ready = units === to && !asking.isSilent() && ahead.at(key(name), view.texts()[name]);
      if (!ready) { asking.ask(); held(name); return; }
      view.show(ready.said);
      view.draw(ready.f, ready.said.words, ready.said.answer?.headline);
      view.changed();
      asking.took();
      clearTimeout(telling);
      telling = setTimeout(asking.ask, TELL_AFTER);
    },
    switched() {
      to = to === "us" ? "si" : "us";
      ahead.forget(); // a number keeps its digits through a change of units, its text does not
      asking.ask();
    },
    again() {
      asking.again();
      clearTimeout(restarting);
      restarting = setTimeout(() => startAnew(el, page.lab), RESTART_AFTER);
    },
    save: (about) => send(model, { kind: "save", ...about, texts: view.texts(), units }),
  });
  const start = model.get("_shown");
  view.write(start.texts);
  view.show(start);
  view.draw(floats(model.get("_frame")), start.words, start.answer?.headline);
  const asking = requests(model, inputs, (told) => {
    view.state(told);
    kept.told(told, { texts: view.texts(), units });
    if (told === "shown") clearTimeout(restarting);
  });
  const stop = listen(model, asking, show, {
    ahead: (message, buffers) => ahead.take(message, message.shown, floats(buffers[0])),
    saved: view.saved,
  });
  const before = kept.take();
  view.state("shown");
  if (before) {
    units = to = before.units;
    view.write(before.texts);
    view.name(units);
    asking.ask();
  }
  return () => {
    stop();
    view.stop();
    for (const timer of [telling, restarting]) clearTimeout(timer);
  };
}

export default { render };
