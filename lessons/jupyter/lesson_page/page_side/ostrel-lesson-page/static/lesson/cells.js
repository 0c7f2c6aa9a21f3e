// A lesson's cells: which ask, which hold answers, and what the kernel put below them. All goes by the model of the
// notebook, so that it does not matter what of it is on the screen.

export const MIME = "application/vnd.ostrel.lesson+json";
const LESSON = /^from lessons\.notebook import \*/m;
const ASKS = /^ask\("([^"]+)"\)\s*$/;
const BOX = /^%%answer[ \t]+(\S+)[ \t]*(?:\n([\s\S]*))?$/;
const CODE = /^(from|import|ask\(|live\(|picture\(|begin\(|card\(|isolation\(|sign_on\(|dashboard\(|glossary\()/;
export const MENDED = "The answer box of this question had lost its first line. It has been put right, and what was in it is kept.";
export const PUT_BACK = "The answer box of this question was missing from the file. Here is a new one.";

// An author's own notebook has no locks; it stays a notebook.
export function isLesson(model) {
  return [...model.cells].some((cell) => cell.type === "code" && LESSON.test(sourceOf(cell)) && cell.getMetadata("editable") === false);
}

// A job card says itself when nothing answers, and keeps the numbers typed into it.
export function isCard(model) {
  return [...model.cells].some((cell) => cell.type === "code" && /^card\(/m.test(sourceOf(cell)));
}

export function sourceOf(cellModel) {
  return cellModel.sharedModel.getSource();
}

export function askedBy(cellModel) {
  return cellModel.type === "code" ? ASKS.exec(sourceOf(cellModel))?.[1] : undefined;
}

// Returns the question and the answer in a box; undefined if the cell is none.
export function boxIn(source) {
  const found = BOX.exec(source);
  return found ? { id: found[1], text: (found[2] ?? "").trim() } : undefined;
}

export function boxes(model) {
  return [...model.cells].filter((cell) => cell.type === "code").flatMap((cell) => {
    const box = boxIn(sourceOf(cell));
    return box ? [{ ...box, cell }] : [];
  });
}

export function boxOf(model, id) {
  return boxes(model).find((box) => box.id === id);
}

export function put(model, id, text) {
  const box = boxOf(model, id);
  if (box && box.text !== text) box.cell.sharedModel.setSource(`%%answer ${id}\n${text}`);
}

// Makes sure that each question is followed by its box. Returns question -> what was done.
export function mend(model) {
  const done = new Map();
  for (let k = model.cells.length - 1; k >= 0; k -= 1) {
    const id = askedBy(model.cells.get(k));
    if (!id || boxOf(model, id)) continue;
    const below = k + 1 < model.cells.length ? model.cells.get(k + 1) : null;
    const lost = below?.type === "code" && !CODE.test(sourceOf(below)) && !boxIn(sourceOf(below));
    if (lost) below.sharedModel.setSource(`%%answer ${id}\n${withoutScrap(sourceOf(below))}`);
    else model.sharedModel.insertCell(k + 1, { cell_type: "code", source: `%%answer ${id}\n`, metadata: {} });
    done.set(id, lost && sourceOf(below).trim() ? MENDED : PUT_BACK);
  }
  return done;
}

// A first line that was only damaged is not part of the answer.
function withoutScrap(source) {
  return source.replace(/^(%.*|answer \w+\.\w+[ \t]*)(\n|$)/, "");
}

// What our own calls put below a cell, in order; anything else there is an error or a stranger's.
export function shownBy(cellModel) {
  const { outputs } = cellModel;
  return Array.from({ length: outputs.length }, (_, k) => outputs.get(k)).flatMap((output) => {
    const ours = output.data?.[MIME];
    if (ours) return [{ ...ours, variant: output.metadata?.variant, html: output.data["text/html"] }];
    return output.type === "error" ? [{ what: "note", text: `This went wrong: ${output.toJSON().evalue}` }] : [];
  });
}
