// What JupyterLab shows around a lesson, and its shortcuts: out of sight and out of reach while a lesson is in front.

import { button } from "../dom.js";

const ON = "ostrel-on";
const PLAIN = "ostrel-plain"; // name in the browser's memory: the plain notebook is wanted
const OF_THE_PROGRAM = /kernel|server|connection|file (save|changed)|save error|unsaved/i; // dialogs we say otherwise

export class Surroundings {
  constructor(app) {
    this.app = app;
    this.pages = new Map(); // panel -> its page
    this.awaited = new Map(); // panel -> where the reader comes from, until its page is there
    this.plain = sessionStorage.getItem(PLAIN) === "yes";
    const keyed = app.commands.processKeydownEvent.bind(app.commands);
    app.commands.processKeydownEvent = (event) => {
      if (!this.isOn()) keyed(event);
      else if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "s") this.saves(event);
    };
    document.body.append(button("Back to the lesson page", () => this.switch(), { class: "ostrel-return" }));
    app.shell.currentChanged?.connect(() => this.look());
    new MutationObserver(() => { for (const wait of [0, 50, 500]) setTimeout(() => this.dismiss(), wait); }) // its words come late
      .observe(document.body, { childList: true });
  }

  isOn() { return document.body.classList.contains(ON); }
  current() { return this.pages.get(this.app.shell.currentWidget); }

  add(panel, page) {
    this.pages.set(panel, page);
    if (this.awaited.has(panel)) page.arrive(this.awaited.get(panel));
    this.awaited.delete(panel);
    panel.disposed.connect(() => { this.pages.delete(panel); this.look(); });
    this.look();
  }

  send(panel, coming) {
    const page = this.pages.get(panel);
    if (page) page.arrive(coming); else this.awaited.set(panel, coming);
  }

  saves(event) {
    event.preventDefault();
    this.current()?.save();
  }

  switch() {
    this.plain = !this.plain;
    sessionStorage.setItem(PLAIN, this.plain ? "yes" : "no");
    this.look();
    for (let each = this.app.shell.currentWidget; each; each = each.parent) each.fit();
    window.dispatchEvent(new Event("resize")); // what was out of sight finds its place again
  }

  turnLight() {
    const light = document.body.dataset.jpThemeLight !== "false";
    this.app.commands.execute("apputils:change-theme", { theme: light ? "JupyterLab Dark" : "JupyterLab Light" });
  }

  look() {
    const page = this.current();
    const on = Boolean(page) && !this.plain;
    document.body.classList.toggle("ostrel-lesson-open", Boolean(page));
    if (on !== this.isOn()) {
      document.body.classList.toggle(ON, on);
      if (on) this.app.shell.collapseLeft?.();
      if (on) this.app.shell.collapseRight?.();
    }
    for (const [panel, each] of this.pages) each.shownAs(on && each === page, panel);
    this.around(on ? page.panel.node : null);
  }

  // Marks what the page lies in, so that the style sheet can give it the whole window.
  around(node) {
    for (const each of document.querySelectorAll(".ostrel-around")) each.classList.remove("ostrel-around");
    for (let each = node?.parentElement; each && each !== document.body; each = each.parentElement) each.classList.add("ostrel-around");
  }

  // A lost kernel or server is said in a sentence on the page, with a button; not in a window over it.
  dismiss() {
    if (!this.isOn()) return;
    for (const dialog of document.querySelectorAll(".jp-Dialog")) {
      const title = `${dialog.getAttribute("aria-label")} ${dialog.querySelector(".jp-Dialog-header")?.textContent}`;
      if (!OF_THE_PROGRAM.test(title)) continue;
      (dialog.querySelector(".jp-mod-reject") ?? dialog.querySelector(".jp-mod-accept"))?.click();
    }
  }
}
