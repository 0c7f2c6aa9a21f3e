// Asking Python, and whether its answer belongs to what stands on the page now.
//
// What is shown counts only while it was worked out for the inputs on the page. Until then the page is "working". With no
// answer for a while it is "silent": what was shown counts no more, and the page asks again by itself, ever more rarely.

const MOST_FLYING = 4; // requests under way to the kernel; more would only queue up behind each other
const SILENT_AFTER = 2000; // ms without an answer
const LONGEST_PAUSE = 30000; // ms between tries to reach Python

// `inputs` gives what stands on the page now, as a message carries it; `tell` hears "shown", "working" or "silent".
export function requests(model, inputs, tell) {
  const me = Math.random().toString(36).slice(2);
  const now = () => JSON.stringify(inputs());
  const asked = new Map(); // number of a request -> the inputs it asked for
  let sent = 0, done = 0, outdated = 0, waiting = false;
  let belongs = now(); // the inputs of what is shown
  let silent = false, timer = 0, pause = SILENT_AFTER;

  const settle = () => {
    if (done < sent || waiting) timer ||= setTimeout(noAnswer, silent ? pause : SILENT_AFTER);
    tell(silent ? "silent" : belongs === now() ? "shown" : "working");
  };
  const quiet = () => { clearTimeout(timer); timer = 0; };
  const ask = () => {
    waiting = sent - done >= MOST_FLYING;
    if (!waiting) {
      asked.set(++sent, now());
      send(model, { kind: "ask", from: me, seq: sent, ...inputs() });
    }
    settle();
  };
  const afresh = () => { quiet(); done = sent; ask(); }; // what was not answered is waited for no longer
  const noAnswer = () => {
    pause = silent ? Math.min(2 * pause, LONGEST_PAUSE) : SILENT_AFTER;
    silent = true;
    belongs = "";
    afresh();
  };
  const forget = (upTo) => { for (const seq of asked.keys()) if (seq <= upTo) asked.delete(seq); };

  return {
    ask,
    again() { silent = false; afresh(); },
    isSilent: () => silent,
    // An answer that was there already is on the page; replies to what was asked before it are too old to be shown.
    took() { belongs = now(); outdated = sent; settle(); },
    // `show(reply, fits, mine)`: fits is false for a reply to inputs that have moved on, as while a slider is dragged;
    // mine is false where another view of this page or Python itself changed the inputs.
    heard(reply, show) {
      const mine = reply.from === me;
      const fits = !mine || asked.get(reply.seq) === now();
      const wanted = fits || reply.seq > outdated;
      quiet();
      silent = false;
      if (!mine || (belongs !== now() && wanted)) {
        show(reply, fits, mine);
        belongs = fits ? now() : ""; // what fits may have been written into the boxes
      }
      if (mine) { done = Math.max(done, reply.seq); forget(reply.seq); }
      if (waiting || (done === sent && belongs !== now())) ask(); else settle();
    },
    stop: quiet,
  };
}

export function send(model, message) {
  try { model.send(message); } catch { /* no kernel any more: the page tells by itself that nothing answers */ }
}

export const floats = (view) => new Float32Array(view.buffer.slice(view.byteOffset, view.byteOffset + view.byteLength));

// Hears Python until the function it returns is called: answers become the model's state, so that every view of it
// follows, and are shown; messages of any other kind go to their own among `others`.
export function listen(model, asking, show, others) {
  const receive = () => asking.heard(model.get("_shown"), show);
  const hear = (message, buffers) => {
    if (message.kind === "shown") {
      model.set("_frame", buffers[0]);
      model.set("_shown", message.shown);
    } else others[message.kind]?.(message, buffers);
  };
  model.on("change:_shown", receive);
  model.on("msg:custom", hear);
  return () => {
    asking.stop();
    model.off("change:_shown", receive);
    model.off("msg:custom", hear);
  };
}

// Answers along a slider, asked for when it is taken in hand; those of the last time are kept. `key` says what else
// stood on the page.
export function answersAhead(model) {
  const nothing = () => ({ key: "", found: new Map() });
  let kept = nothing();
  return {
    ask(key, message) {
      if (kept.key === key) return;
      kept = { key, found: new Map() };
      send(model, { ...message, key });
    },
    take({ key, at, sizes }, said, data) {
      if (kept.key !== key) return;
      let from = 0;
      at.forEach((place, k) => {
        kept.found.set(Number(place), { f: data.subarray(from, from + sizes[k]), said: said[k] });
        from += sizes[k];
      });
    },
    at: (key, place) => (kept.key === key ? kept.found.get(Number(place)) : undefined),
    forget() { kept = nothing(); },
  };
}
