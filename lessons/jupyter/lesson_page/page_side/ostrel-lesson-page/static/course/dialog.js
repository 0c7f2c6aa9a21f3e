// A window over the lesson; Escape or a click beside it closes it, and the focus goes back to where it was.

import { button, make } from "../dom.js";

export function dialog(parent, title, ...content) {
  const node = make("dialog", { class: "ostrel-dialog", "aria-label": title },
    make("div", { class: "ostrel-panel-head" }, make("strong", {}, title), button("✕", () => node.close(), { "aria-label": "Close", class: "ostrel-quiet" })),
    ...content);
  node.addEventListener("click", (event) => { if (event.target === node) node.close(); });
  node.addEventListener("keydown", (event) => event.stopPropagation());
  return {
    node,
    open() {
      if (!node.isConnected) parent.append(node);
      if (!node.open) node.showModal();
    },
    close: () => node.close(),
  };
}
