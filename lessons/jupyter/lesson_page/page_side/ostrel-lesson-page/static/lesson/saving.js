// Saving a lesson that may be open in a second tab: what was answered there and is in the file already is taken over
// before this tab writes its own, so that neither tab undoes the other, and nobody is asked which file to keep.

import { boxes, put } from "./cells.js";

const NEVER = Number.MAX_SAFE_INTEGER; // ms by which the file may be newer before JupyterLab asks what to do
const CHANGED = "ModalCancelError"; // what JupyterLab's save comes to where the file is another and nothing is written
const TRIES = 4;

export function careful(context, contents, taken) {
  const write = context.save.bind(context);
  let last = here(), running = null, again = false;
  let changes = 0, written = -1; // how often the lesson has changed, and how often when it was last written
  context.model.contentChanged.connect(() => { changes += 1; });
  context.lastModifiedCheckMargin = NEVER;
  context._raiseConflict = () => Promise.reject(Object.assign(new Error("The file has changed."), { name: CHANGED }));

  function here() {
    return new Map(boxes(context.model).map(({ id, text }) => [id, text]));
  }
  // Tells whether the file is the one this tab wrote or read last.
  async function takeOver() {
    const now = await contents.get(context.path, { content: false, hash: true });
    // Not by the hash: after a save JupyterLab asks for it anew, and may get that of what another tab wrote meanwhile.
    if (now.last_modified === context.contentsModel?.last_modified) return true;
    const { content } = await contents.get(context.path, { content: true });
    const mine = here();
    for (const [id, text] of inFile(content)) {
      if (!text || !mine.has(id) || text === mine.get(id) || mine.get(id) !== last.get(id)) continue; // nobody takes an answer back
      put(context.model, id, text);
      taken(id, text);
    }
    context._updateContentsModel?.(now); // what is in the file is known now: without this JupyterLab asks which to keep
    return false;
  }
  // Somebody else may write between the look and our own writing: then it is looked at once more, and nobody is asked.
  async function once(left = TRIES) {
    const same = await takeOver().catch(() => false); // whatever is wrong with the file, writing it says so
    if (same && changes === written && !context.model.dirty) return; // an answer asks twice: once the kernel, once the page
    const saved = here(), now = changes;
    try {
      await write();
      last = saved;
      written = now;
    } catch (problem) {
      if (problem?.name !== CHANGED || left <= 1) throw problem;
      await once(left - 1);
    }
  }
  // One at a time; however often it is asked for meanwhile, once more afterwards.
  context.save = async () => {
    again = true;
    running ??= (async () => {
      try {
        while (again) {
          again = false;
          await once();
        }
      } finally {
        running = null;
      }
    })();
    return running;
  };
}

function inFile(notebook) {
  const sources = notebook.cells.map(({ source }) => (Array.isArray(source) ? source.join("") : source));
  return sources.flatMap((source) => {
    const found = /^%%answer[ \t]+(\S+)[ \t]*\n([\s\S]*)$/.exec(source);
    return found ? [[found[1], found[2].trim()]] : [];
  });
}
