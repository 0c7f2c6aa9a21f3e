// What was typed and not checked yet, kept in the browser until it is, so that a reload costs nobody a sentence.

export function drafts(path) {
  const name = (id) => `ostrel-draft ${path} ${id}`;
  const quietly = (does) => {
    try { return does(); } catch { return null; } // a browser that keeps nothing
  };
  return {
    keep: (id, variant, text) => quietly(() => localStorage.setItem(name(id), JSON.stringify({ variant, text }))),
    forget: (id) => quietly(() => localStorage.removeItem(name(id))),
    of: (id, variant) => quietly(() => {
      const kept = JSON.parse(localStorage.getItem(name(id)) ?? "{}");
      return JSON.stringify(kept.variant) === JSON.stringify(variant) ? kept.text : null;
    }),
  };
}
