// Going from one lesson to the next within the page, and coming back to where the reader was.

export class Travel {
  constructor(app, page) {
    Object.assign(this, { app, page });
    this.place = `ostrel-place ${page.context.path}`;
  }

  // Links to lessons, cards and the glossary open in this page; the one before stays open, for the way back.
  follow() {
    this.page.scroller.addEventListener("click", (event) => {
      const link = event.target.closest("a[href]");
      if (!link || !this.page.surroundings.isOn()) return;
      const path = this.pathOf(link);
      if (!path) return;
      event.preventDefault();
      event.stopPropagation();
      this.to(path, { known: true });
    }, true);
    this.page.scroller.addEventListener("scroll", () => {
      if (!this.page.panel.node.classList.contains("ostrel-starting")) this.keep();
    }, { passive: true });
  }

  pathOf(link) {
    const given = decodeURIComponent(link.dataset.ostrel ?? link.getAttribute("href").split(/[?#]/)[0]);
    if (!given.endsWith(".ipynb")) return null;
    const tree = given.split("/tree/").at(-1);
    const files = given.split("/files/").at(-1);
    if (/^(https?:)?\//.test(given)) return tree === given ? (files === given ? null : files) : tree;
    return joined(this.page.context.path, given);
  }

  // `path` is relative to this lesson, unless it is `known` from the server's root.
  async to(path, { known = false, question = "" } = {}) {
    const target = known ? path : joined(this.page.context.path, path);
    if (target === this.page.context.path) { this.page.lesson.goTo(question); return; }
    if (this.page.context.model.dirty) await this.page.save();
    const { panel, app } = this.page;
    const opened = await app.commands.execute("docmanager:open", { path: target });
    if (!opened || opened === panel) return;
    for (const each of this.page.surroundings.pages.keys()) if (each !== panel && each !== opened) leave(each);
    this.page.surroundings.send(opened, { from: this.page, question });
  }

  keep() {
    try { sessionStorage.setItem(this.place, String(this.page.scroller.scrollTop)); } catch { /* keeps nothing */ }
  }

  // After a reload readers are where they were; a lesson that was opened again stays at its top.
  arrived() {
    const place = Number(sessionStorage.getItem(this.place) ?? 0);
    if (!this.been && place && this.page.scroller.scrollTop < 5) this.page.scroller.scrollTop = place;
    this.been = true;
  }
}

function leave(panel) {
  const { sessionContext } = panel.context ?? {};
  panel.dispose();
  sessionContext?.session?.shutdown().catch(() => {});
}

export function joined(from, path) {
  const parts = from.split("/").slice(0, -1);
  for (const part of path.split("/")) {
    if (part === "..") parts.pop();
    else if (part && part !== ".") parts.push(part);
  }
  return parts.join("/");
}
