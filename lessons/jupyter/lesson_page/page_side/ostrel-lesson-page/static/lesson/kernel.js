// The kernel behind a lesson: running cells in it, asking it for data, and noticing when it is gone or back.

import { MIME } from "./cells.js";

const AWAY_AFTER = 4000; // ms without a connection before the reader is told
const PATIENCE = 10_000; // ms for an answer with data; a question's reply is waited for as long as it takes
const GONE = ["dead", "terminating"];

export async function run(cell, sessionContext) {
  await cell.ready;
  // The class of a code cell holds the function that runs one and takes its outputs in.
  return cell.constructor.execute(cell, sessionContext);
}

// Runs an answer below a cell that is ready, whatever stands in the cell.
export function runText(cell, sessionContext, code) {
  return cell.outputArea.constructor.execute(code, cell.outputArea, sessionContext);
}

// What a call of `lessons.jupyter.lesson_page.page_calls` gives, or null where nothing answers.
export async function ask(sessionContext, call, patience = PATIENCE) {
  const kernel = sessionContext.session?.kernel;
  if (!kernel) return null;
  const wanted = `__import__("lessons.jupyter.lesson_page.page_calls", fromlist=["x"]).${call}`;
  const request = { code: "", silent: true, store_history: false, user_expressions: { wanted } };
  try {
    const answered = await Promise.race([kernel.requestExecute(request).done, after(patience)]);
    return answered?.content.user_expressions?.wanted?.data?.[MIME] ?? null;
  } catch {
    return null;
  }
}

function after(time) {
  return new Promise((resolve) => { setTimeout(resolve, time, null); });
}

// Tells `on.lost(why)` when nothing answers any more, and `on.back()` when a kernel is there that knows nothing yet.
export function watch(app, sessionContext, on) {
  let state = "ready", timer = 0, begun = false;
  const settle = (next, why) => {
    clearTimeout(timer);
    if (next === state) return;
    state = next;
    if (state === "ready") on.back(); else on.lost(why);
  };
  const look = () => {
    if (!begun) return;
    const kernel = sessionContext.session?.kernel;
    const status = kernel?.status ?? "dead";
    clearTimeout(timer);
    if (GONE.includes(status)) settle("lost", "kernel");
    else if (/restarting/.test(status)) settle("starting", "restarting");
    else if (kernel.connectionStatus !== "connected") timer = setTimeout(away, AWAY_AFTER);
    else if (status === "idle" || status === "busy") settle("ready");
  };
  const away = async () => settle("lost", (await serverAnswers(app)) ? "kernel" : "server");
  for (const signal of ["statusChanged", "connectionStatusChanged", "kernelChanged", "sessionChanged"]) {
    sessionContext[signal].connect(look);
  }
  return {
    alive: () => state === "ready" && sessionContext.session?.kernel?.connectionStatus === "connected",
    lose: (why) => settle("lost", why),
    begin() { begun = true; look(); },
  };
}

export async function serverAnswers(app) {
  const { baseUrl, token } = app.serviceManager.serverSettings;
  const headers = token ? { Authorization: `token ${token}` } : {};
  try {
    return (await fetch(`${baseUrl}api/status`, { headers, cache: "no-store" })).ok;
  } catch {
    return false;
  }
}

// Gets a kernel again: starts the present one anew, or where it is not known any more, another.
export async function startAgain(sessionContext) {
  try {
    if (!sessionContext.session?.kernel) throw new Error("no kernel");
    await sessionContext.session.kernel.restart();
  } catch {
    await sessionContext.shutdown().catch(() => {});
    await sessionContext.startKernel();
  }
}
