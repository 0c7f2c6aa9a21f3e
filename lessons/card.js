
// A job card: answer, picture, page to take along. One script with drawing.js and card_boxes.js, which come before it.
// No formula here: what is typed goes to the kernel, what it answers is shown.

const MOST_FLYING = 4; // requests under way to the kernel; more would only queue up behind each other
const TELL_AFTER = 120; // ms after the last step of a slider whose answers were there: then Python is told

const list = (tag, lines) => make(tag, {}, ...lines.map((line) => make("li", {}, line)));

// ---- the answer --------------------------------------------------------------------------------------------------

function answerBox(signs) {
  const headline = make("div", { class: "ostrel-headline" });
  const rows = make("table", { class: "ostrel-rows" });
  const stale = make("div", { class: "ostrel-problem ostrel-stale" });
  const root = make("div", { class: "ostrel-answer", role: "status" }, headline, rows, stale);
  const formula = make("div", { class: "ostrel-formula" });
  const steps = make("div");
  let seen = "";
  const lines = (holder, count, build) => {
    while (holder.children.length > count) holder.lastChild.remove();
    while (holder.children.length < count) holder.append(build());
  };
  const show = ({ answer, stale: old, problems }) => {
    set(root, "class", `ostrel-answer ${answer.tone}${old ? " stale" : ""}`);
    put(headline, `${signs[answer.tone]} ${answer.headline}`);
    put(stale, [problems[""], old].filter(Boolean).join(" "));
    lines(rows, answer.rows.length, () => make("tr", {}, make("td"), make("td")));
    answer.rows.forEach((row, k) => row.forEach((words, j) => put(rows.children[k].children[j], words)));
    lines(formula, answer.formula.length, () => make("div"));
    answer.formula.forEach((words, k) => put(formula.children[k], words));
    const now = JSON.stringify(answer.steps);
    const said = answer.steps.length ? [make("h2", {}, "In this order"), list("ol", answer.steps)] : [];
    if (now !== seen) steps.replaceChildren(...said);
    seen = now;
  };
  return { root, formula, steps, show };
}

// ---- the page to take along --------------------------------------------------------------------------------------

const TYPES = { pdf: "application/pdf", html: "text/html", csv: "text/csv" };

function takeAlong(id, record, save) {
  const tag = make("input", { id: id + "-tag", maxlength: 80, autocomplete: "off" });
  const who = make("input", { id: id + "-who", maxlength: 80, autocomplete: "off" });
  const paper = make("select", { id: id + "-paper" }, make("option", {}, "A4"), make("option", {}, "Letter"));
  const button = make("button", { type: "button" }, "Save page");
  const said = make("div", { class: "ostrel-saved", role: "status" });
  const named = (words, input) => make("span", {}, make("label", { for: input.id }, words), input);
  button.addEventListener("click", () => save({ tag: tag.value, who: who.value, paper: paper.value }));
  const boxes = [named("valve tag or job number", tag), named("name", who), named("paper", paper)];
  const form = make("div", { class: "ostrel-take" }, ...boxes, button);
  const what = "PDF and a page for the printer" + (record ? ", calibration record as CSV" : "");
  const root = make("section", {}, make("h2", {}, `Take along: ${what}`), form, said);
  const show = ({ files, said: words }, buffers) => {
    const links = files.map((name, k) => {
      const type = TYPES[name.split(".").pop()];
      const url = URL.createObjectURL(new Blob([buffers[k]], { type }));
      return make("a", { href: url, download: name }, name);
    });
    said.replaceChildren(make("div", {}, words), ...links);
  };
  return { root, show };
}

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

// ---- the widget --------------------------------------------------------------------------------------------------

function build(el, page, on) {
  const id = "ostrel-" + Math.random().toString(36).slice(2, 10);
  const picture = make("div", { class: "ostrel-picture" });
  const rows = page.fields.map((field, k) => fieldRow(field, `${id}-${k}`, on));
  const units = make("button", { type: "button" });
  units.addEventListener("click", on.switched);
  const answer = answerBox(page.signs);
  const take = takeAlong(id, page.record, on.save);
  const lead = make("div", { class: "ostrel-lead" }, page.lead);
  const root = make("article", { class: "ostrel-card" },
    make("div", { class: "ostrel-head" }, make("div", {}, make("h1", {}, page.title), lead), units),
    make("div", { class: "ostrel-fields" }, ...rows.map((one) => one.row)),
    answer.root, picture,
    make("section", { class: "ostrel-cautions" }, make("h2", {}, "Cautions"), list("ul", page.cautions)),
    answer.steps, make("h2", {}, "How it is worked out"), answer.formula,
    make("h2", {}, "What would change the answer"), list("ul", page.changes),
    make("p", {}, make("b", {}, "Source. "), page.source),
    make("p", {}, make("b", {}, "Numbers to start with: "), page.start + "."),
    ...learn(page.learn), take.root);
  root.addEventListener("keydown", keepKeys);
  el.replaceChildren(root);
  const inputs = rows.flatMap((one) => one.inputs);
  let named = ""; // the unit set in which the boxes have their names
  return {
    texts: () => Object.fromEntries(inputs.map((input) => [input.dataset.key, input.value])),
    write(texts) {
      for (const input of inputs) if (input.value !== texts[input.dataset.key]) input.value = texts[input.dataset.key] ?? "";
    },
    show(shown, last) { // the last that was asked for; while a slider runs ahead it is not called back
      put(units, shown.units === "us" ? "Show SI units" : "Show US units");
      if (named !== shown.units) rows.forEach((one) => one.name(shown.units));
      named = shown.units;
      rows.forEach((one, k) => {
        one.tell(shown.problems[page.fields[k].name] ?? "");
        if (last) one.place(shown.units, shown.places[page.fields[k].name]);
      });
      answer.show(shown);
    },
    draw: drawing(picture, page.svg, page.parts),
    saved: take.show,
  };
}

// Answers along a slider, asked for when it is taken in hand; those of the last one are kept.
function aheadStore(model) {
  let kept = { key: "", found: new Map() };
  const keyOf = (name, texts, units) => JSON.stringify([name, units, { ...texts, [name]: null }]);
  return {
    ask(name, texts, units) {
      const key = keyOf(name, texts, units);
      if (kept.key === key) return;
      kept = { key, found: new Map() };
      model.send({ kind: "ahead", key, field: name, texts, units });
    },
    take({ key, at, sizes, shown }, data) {
      if (kept.key !== key) return;
      let from = 0;
      at.forEach((text, k) => {
        kept.found.set(Number(text), { f: data.subarray(from, from + sizes[k]), shown: shown[k] });
        from += sizes[k];
      });
    },
    answer: (name, texts, units) =>
      kept.key === keyOf(name, texts, units) ? kept.found.get(Number(texts[name])) : undefined,
  };
}

function render({ model, el }) {
  const me = Math.random().toString(36).slice(2);
  let units = model.get("_shown").units;
  let sent = 0, shown = 0, flying = 0, waiting = false, telling = 0;
  const request = () => {
    waiting = flying >= MOST_FLYING;
    if (waiting) return;
    flying++;
    model.send({ kind: "type", from: me, seq: ++sent, texts: view.texts(), units });
  };
  const switched = () => {
    units = units === "us" ? "si" : "us";
    flying++;
    model.send({ kind: "units", from: me, seq: ++sent, texts: view.texts(), units });
  };
  const save = (about) => {
    request(); // a slider may have moved since Python was told
    model.send({ kind: "save", ...about });
  };
  const ahead = aheadStore(model);
  const held = (name) => ahead.ask(name, view.texts(), units);
  const slid = (name) => {
    const ready = ahead.answer(name, view.texts(), units);
    if (!ready) { request(); held(name); return; }
    shown = ++sent;
    view.show(ready.shown, true);
    view.draw(ready.f, ready.shown.words);
    clearTimeout(telling);
    telling = setTimeout(request, TELL_AFTER);
  };
  const view = build(el, model.get("_page"), { typed: request, slid, held, switched, save });
  const receive = () => {
    const reply = model.get("_shown");
    const mine = reply.from === me;
    if (mine) flying = Math.max(0, flying - 1);
    if (mine && waiting) request();
    if (mine && reply.seq < shown) return;
    shown = mine ? reply.seq : shown;
    if (!mine || reply.write) { units = reply.units; view.write(reply.texts); }
    view.show(reply, !mine || reply.seq === sent);
    view.draw(floats(model.get("_frame")), reply.words);
  };
  const hear = (message, buffers) => {
    if (message.kind === "shown") keepShown(model, message, buffers);
    if (message.kind === "ahead") ahead.take(message, floats(buffers[0]));
    if (message.kind === "saved") view.saved(message, buffers);
  };
  model.on("change:_shown", receive);
  model.on("msg:custom", hear);
  const now = model.get("_shown");
  view.write(now.texts);
  view.show(now, true);
  view.draw(floats(model.get("_frame")), now.words);
  return () => {
    model.off("change:_shown", receive);
    model.off("msg:custom", hear);
  };
}

export default { render };
