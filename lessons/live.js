
// The controls of a live picture, as a widget (default export) and on pages without a kernel (`still`).
// One script with drawing.js, which comes before it.

const LOCKED = "Predict first: answer the question above, then the sliders unlock.";
const MOST_FLYING = 4; // requests under way to the kernel; more would only queue up behind each other
const SILENT = "The picture no longer follows. Choose Run, then Run All Cells.";
const SILENT_AFTER = 4000; // ms without an answer
const SYNC_AFTER = 120; // ms after a release; a key held down releases at each repeat

// ---- the controls ------------------------------------------------------------------------------------------------

function control(slider, id, on) {
  const input = make("input", { type: "range", id, min: 0, max: slider.count - 1, step: 1 });
  const text = document.createTextNode("");
  const value = make("span", { class: "ostrel-value" }, text);
  const label = make("label", { for: id }, slider.label);
  input.addEventListener("input", () => on.moved(Number(input.value)));
  input.addEventListener("change", () => on.released());
  for (const event of ["pointerenter", "pointerdown", "focus"]) input.addEventListener(event, () => on.held());
  const show = (position, units) => {
    if (Number(input.value) !== position) input.value = position;
    const said = slider.readouts[units][position];
    if (text.data !== said) text.data = said;
    set(input, "aria-valuetext", said);
  };
  return { input, show, row: make("div", { class: "ostrel-row" }, make("div", {}, label, " ", value), input) };
}

function unitButton(onClick) {
  const button = make("button", { type: "button", class: "ostrel-units" });
  button.addEventListener("click", onClick);
  const show = (units) => {
    const said = units === "us" ? "Show SI units" : "Show US units";
    if (button.textContent !== said) button.textContent = said;
  };
  return { button, show };
}

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
  const unit = unitButton(() => { state.units = state.units === "us" ? "si" : "us"; readOut(); on.units(); });
  const readOut = () => {
    controls.forEach((c, k) => c.show(state.positions[k], state.units));
    unit.show(state.units);
  };
  const tell = (words) => { if (note.textContent !== words) note.textContent = words; };
  const lock = () => {
    for (const c of controls) c.input.disabled = state.locked;
    tell(state.locked ? LOCKED : "");
  };
  const root = make("div", { class: "ostrel-live" }, picture, ...controls.map((c) => c.row), note);
  if (twoUnitSets) root.append(unit.button);
  root.addEventListener("keydown", keepKeys);
  el.replaceChildren(root);
  readOut();
  lock();
  return { show: drawing(picture, svg, parts), readOut, lock, tell, root };
}

// ---- the widget --------------------------------------------------------------------------------------------------

// Frames of whole slider ranges, asked for when a slider is taken in hand. One sweep a slider is kept.
function sweepStore(model, state) {
  const kept = [];
  const key = (k) => JSON.stringify([k, state.units, state.positions.map((p, i) => (i === k ? null : p))]);
  return {
    ask(k) {
      if (state.locked || kept[k]?.key === key(k)) return;
      kept[k] = { key: key(k), frames: new Map() };
      model.send({ kind: "sweep", slider: k, key: kept[k].key, positions: state.positions, units: state.units });
    },
    take({ key: k, at, sizes, words }, data) {
      const sweep = kept.find((one) => one?.key === k);
      if (!sweep) return;
      let from = 0;
      at.forEach((position, n) => {
        sweep.frames.set(position, { f: data.subarray(from, from + sizes[n]), words: words[n] });
        from += sizes[n];
      });
    },
    frame: (k) => (kept[k]?.key === key(k) ? kept[k].frames.get(state.positions[k]) : undefined),
  };
}

function render({ model, el }) {
  const me = Math.random().toString(36).slice(2);
  const now = model.get("_shown");
  const state = { positions: [...now.positions], units: now.units, locked: model.get("locked") };
  const sweeps = sweepStore(model, state);
  let sent = 0, shown = 0, flying = 0, waiting = false, unsynced = false, known = 0, syncing = 0, silent = 0;

  const request = () => {
    waiting = flying >= MOST_FLYING;
    if (waiting) return;
    flying++;
    unsynced = false;
    if (!silent) silent = setTimeout(() => view.tell(SILENT), SILENT_AFTER);
    model.send({ kind: "move", from: me, seq: ++sent, positions: state.positions, units: state.units });
  };
  const sync = () => { // only tells Python: the answer is on the page already, by a sweep
    if (!unsynced) return;
    request();
    known = waiting ? known : sent;
  };
  const view = build(el, model.get("_page"), state, {
    moved(k) {
      const ready = sweeps.frame(k);
      if (!ready) { request(); sweeps.ask(k); return; }
      shown = ++sent;
      unsynced = true;
      view.tell("");
      view.show(ready.f, ready.words);
    },
    released() {
      clearTimeout(syncing);
      syncing = setTimeout(sync, SYNC_AFTER);
    },
    held: (k) => sweeps.ask(k),
    units: request,
  });

  const receive = () => {
    const reply = model.get("_shown");
    const mine = reply.from === me;
    if (mine) flying = Math.max(0, flying - 1);
    clearTimeout(silent);
    silent = 0;
    if (mine && waiting) request();
    if (mine && (reply.seq < shown || (reply.seq === known && !reply.problem))) { // a sweep was first
      view.tell(state.locked ? LOCKED : "");
      return;
    }
    shown = mine ? reply.seq : shown;
    if (!mine) {
      state.positions = [...reply.positions];
      state.units = reply.units;
      view.readOut();
    }
    view.show(floats(model.get("_frame")), reply.words);
    view.tell(state.locked ? LOCKED : reply.problem);
  };
  const hear = (message, buffers) => {
    if (message.kind === "shown") keepShown(model, message, buffers);
    if (message.kind === "sweep") sweeps.take(message, floats(buffers[0]));
  };
  const relock = () => { state.locked = model.get("locked"); view.lock(); };
  model.on("change:_shown", receive);
  model.on("msg:custom", hear);
  model.on("change:locked", relock);
  view.show(floats(model.get("_frame")), now.words);
  return () => {
    model.off("change:_shown", receive);
    model.off("msg:custom", hear);
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
