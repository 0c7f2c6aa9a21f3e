// The controls of a live picture, as a widget (default export) and on pages without a kernel (`still`).

import { drawing } from "./drawing.js";
import { againButton, button, keepKeys, make, otherUnits, put, set } from "./page.js";
import { answersAhead, floats, listen, requests } from "./requests.js";

const LOCKED = "Predict first: answer the question above, then the sliders unlock.";
const WORKING = "working…";
const WORKING_AFTER = 250; // ms without a frame; while a slider is dragged the picture is a frame behind
const NO_ANSWER =
  "No answer: the picture no longer follows the sliders. Ask again. If that does not help, reload the page.";
const SYNC_AFTER = 120; // ms after a release; a key held down releases at each repeat

// ---- the controls ------------------------------------------------------------------------------------------------

function control(slider, id, on) {
  const input = make("input", { type: "range", id, min: 0, max: slider.count - 1, step: 1 });
  const value = make("span", { class: "ostrel-value" });
  const room = make("span", { class: "ostrel-readout" }, value);
  const widest = Object.fromEntries(Object.entries(slider.readouts).map(([units, said]) => [units, longest(said)]));
  const label = make("label", { for: id }, slider.label);
  input.addEventListener("input", () => on.moved(Number(input.value)));
  input.addEventListener("change", () => on.released());
  for (const event of ["pointerenter", "pointerdown", "focus"]) input.addEventListener(event, () => on.held());
  const show = (position, units) => {
    if (Number(input.value) !== position) input.value = position;
    const said = slider.readouts[units][position];
    put(value, said);
    set(room, "data-longest", widest[units]);
    set(input, "aria-valuetext", said);
  };
  const row = make("div", { class: "ostrel-row" }, make("div", {}, label, " ", room), make("div", {}, input));
  return { input, show, row };
}

const longest = (words) => words.reduce((one, other) => (other.length > one.length ? other : one), "");

// Builds picture and controls in `el`. `state` is {positions, units, locked}; `on` is told what the reader does.
function build(el, { svg, parts, sliders, twoUnitSets }, state, on) {
  const picture = make("div", { class: "ostrel-picture" });
  const note = make("div", { class: "ostrel-note", role: "status" });
  const id = "ostrel-" + Math.random().toString(36).slice(2, 10) + "-";
  const controls = sliders.map((slider, k) => control(slider, id + k, {
    moved: (position) => { state.positions[k] = position; readOut(); on.moved(k); },
    released: () => on.released(k),
    held: () => on.held(k),
  }));
  const change = () => { state.units = state.units === "us" ? "si" : "us"; readOut(); on.units(); };
  const unit = button("", change, { class: "ostrel-units" });
  const readOut = () => {
    controls.forEach((c, k) => c.show(state.positions[k], state.units));
    put(unit, otherUnits(state.units));
  };
  const tell = (words) => put(note, words);
  // Says whether the picture belongs to the sliders: `words` if not, "" if it does.
  const behind = (words, canAsk = false) => {
    set(root, "class", words ? "ostrel-live behind" : "ostrel-live");
    if (again.hidden === canAsk) again.hidden = !canAsk;
    tell(words || (state.locked ? LOCKED : ""));
  };
  const lock = () => {
    for (const c of controls) c.input.disabled = state.locked;
    if (!root.classList.contains("behind")) behind("");
  };
  const again = againButton(() => on.again());
  again.hidden = true;
  const root = make("div", { class: "ostrel-live" }, picture, ...controls.map((c) => c.row), note, again);
  if (twoUnitSets) root.append(unit);
  root.addEventListener("keydown", keepKeys);
  el.replaceChildren(root);
  readOut();
  lock();
  const draw = drawing(picture, svg, parts);
  const places = () => sliders.map((slider, k) => `${slider.label} ${slider.readouts[state.units][state.positions[k]]}`);
  return { show: (f, words) => draw(f, words, places().join(", ")), readOut, lock, tell, behind };
}

// ---- the widget --------------------------------------------------------------------------------------------------

function render({ model, el }) {
  const start = model.get("_shown");
  const state = { positions: [...start.positions], units: start.units, locked: model.get("locked") };
  const sweeps = start.positions.map(() => answersAhead(model)); // frames of the whole range of each slider
  let problem = start.problem, late = 0, syncing = 0, unsynced = false;

  const key = (k) => JSON.stringify([k, state.units, state.positions.map((p, i) => (i === k ? null : p))]);
  const held = (k) => {
    if (!state.locked) sweeps[k].ask(key(k), { kind: "sweep", slider: k, ...inputs() });
  };
  const inputs = () => ({ positions: [...state.positions], units: state.units });
  const onTime = () => { clearTimeout(late); late = 0; };
  const asking = requests(model, inputs, (told) => {
    if (told === "working") { late ||= setTimeout(() => view.behind(WORKING), WORKING_AFTER); return; }
    onTime();
    if (told === "silent") view.behind(NO_ANSWER, true); else view.behind(problem);
  });
  const ask = () => { unsynced = false; asking.ask(); };
  const view = build(el, model.get("_page"), state, {
    moved(k) {
      const ready = !asking.isSilent() && sweeps[k].at(key(k), state.positions[k]);
      if (!ready) { ask(); held(k); return; }
      problem = "";
      unsynced = true;
      view.show(ready.f, ready.said);
      asking.took();
    },
    released() { // only tells Python: the answer is on the page already, by a sweep
      clearTimeout(syncing);
      syncing = setTimeout(() => { if (unsynced) ask(); }, SYNC_AFTER);
    },
    held,
    units: ask,
    again: asking.again,
  });
  const show = (reply, _fits, mine) => {
    if (!mine) {
      state.positions = [...reply.positions];
      state.units = reply.units;
      view.readOut();
    }
    problem = reply.problem;
    onTime();
    if (!problem) view.show(floats(model.get("_frame")), reply.words);
  };

  const stop = listen(model, asking, show, {
    sweep(message, buffers) {
      const data = floats(buffers[0]);
      for (const each of sweeps) each.take(message, message.words, data);
    },
  });
  const relock = () => { state.locked = model.get("locked"); view.lock(); };
  model.on("change:locked", relock);
  view.show(floats(model.get("_frame")), start.words);
  view.behind(problem);
  return () => {
    stop();
    for (const timer of [late, syncing]) clearTimeout(timer);
    model.off("change:locked", relock);
  };
}

export default { render };

// ---- exported pages: no kernel, the frames of each slider's sweep from the start come with the page -----------------

export async function still(el, { sliders, parts, twoUnitSets }, { start, units, sizes, words, frames, data }) {
  const page = { svg: el.querySelector("svg").outerHTML, sliders, parts, twoUnitSets };
  const packed = Uint8Array.from(atob(data), (c) => c.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("deflate"));
  const all = new Float32Array(await new Response(stream).arrayBuffer());
  const ends = [];
  sizes.reduce((sum, size, n) => (ends[n] = sum + size), 0);
  const state = { positions: [...start], units, locked: false };
  let last = 0;
  const show = (k) => {
    last = k;
    state.positions = start.map((p, i) => (i === k ? state.positions[k] : p)); // only single sweeps are on board
    view.readOut();
    const n = frames[state.units][k][state.positions[k]];
    view.show(all.subarray(ends[n] - sizes[n], ends[n]), words[n]);
  };
  const view = build(el, page, state, { moved: show, released() {}, held() {}, units: () => show(last) });
  if (start.length > 1) view.tell("In this copy, moving one slider puts the others back to their start.");
  show(0);
}
