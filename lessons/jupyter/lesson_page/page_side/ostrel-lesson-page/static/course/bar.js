// The bar above a lesson: the way to the course, what the lesson is, how far it is done, who works at it.

import { button, make } from "../dom.js";

const LOST = {
  kernel: "The lesson has stopped. What you answered is kept.",
  server: "The program that runs the lessons is not answering. What you answered is kept.",
  file: "The lesson's file cannot be written. What you answered is kept here. Leave the page open.",
};
const UNITS = { si: "bar, m³/h, mm", us: "psi, gpm, in" };

export class Bar {
  constructor(page) {
    this.page = page;
    this.before = button("", () => this.goBack(), { class: "ostrel-back", hidden: true });
    this.title = make("strong", { class: "ostrel-title" });
    this.done = make("span", { class: "ostrel-done" });
    this.meter = make("progress", { class: "ostrel-meter", value: 0, max: 1, "aria-label": "Questions solved in this lesson", hidden: true });
    this.who = button("", () => page.signOn.open(), { class: "ostrel-who", title: "Badge and units", hidden: true });
    this.state = make("div", { class: "ostrel-thread", role: "status", "aria-label": "" });
    this.trouble = make("div", { class: "ostrel-trouble", role: "alert", hidden: true });
    this.node = make("div", { class: "ostrel-bar" },
      button("☰ Course", () => page.panelBeside.toggle(), { class: "ostrel-course", "aria-label": "Course: all lessons" }),
      this.before, this.title,
      make("span", { class: "ostrel-far" }, this.meter, this.done),
      make("span", { class: "ostrel-tools" }, this.who,
        button("Search", () => page.panelBeside.search(), { class: "ostrel-search-button" }), this.more()),
      this.state);
  }

  more() {
    const { surroundings } = this.page;
    const choices = make("div", { class: "ostrel-choices", role: "menu", hidden: true },
      button("Light or dark", () => { close(); surroundings.turnLight(); }, { role: "menuitem" }),
      button("Plain notebook (for programmers)", () => { close(); surroundings.switch(); }, { role: "menuitem" }));
    const opener = button("⋯", () => { (choices.hidden ? open : close)(); }, {
      class: "ostrel-more", "aria-label": "More", "aria-haspopup": "menu", "aria-expanded": "false",
    });
    const open = () => { choices.hidden = false; opener.setAttribute("aria-expanded", "true"); choices.firstChild.focus(); };
    const close = () => { choices.hidden = true; opener.setAttribute("aria-expanded", "false"); };
    const whole = make("span", { class: "ostrel-menu" }, opener);
    choices.addEventListener("keydown", (event) => {
      if (event.key === "Escape") { close(); opener.focus(); }
      if (event.key === "ArrowDown" || event.key === "ArrowUp") (document.activeElement === choices.firstChild ? choices.lastChild : choices.firstChild).focus();
    });
    document.addEventListener("pointerdown", (event) => { if (!whole.contains(event.target) && !choices.contains(event.target)) close(); }, { signal: this.page.closes });
    this.choices = choices; // hangs below the bar, which cuts off what does not fit into it
    return whole;
  }

  starting(yes) {
    this.state.classList.toggle("ostrel-runs", yes);
    this.state.setAttribute("aria-label", yes ? "The lesson is starting" : "The lesson is ready");
  }

  lost(why, again, sentence = LOST[why]) {
    this.starting(false);
    this.trouble.replaceChildren(make("span", {}, sentence), button(why === "file" ? "Save again" : "Start it again", again, { class: "ostrel-check" }));
    this.trouble.hidden = false;
  }

  found() { this.trouble.hidden = true; }

  header({ badge, units }) {
    this.who.replaceChildren(badge ? `Badge ${badge}` : "No badge yet", make("small", {}, UNITS[units]));
    this.who.hidden = false;
  }

  course({ badge, units, lessons }) {
    this.header({ badge, units });
    const here = lessons.find((lesson) => lesson.here);
    this.title.textContent = here?.title ?? this.page.heading();
    this.meter.hidden = !here;
    if (!here) return;
    this.meter.max = Math.max(here.asked, 1);
    this.meter.value = here.solved;
    this.done.textContent = `${here.solved} of ${here.asked} solved`;
  }

  cameFrom(page) {
    if (page.panel.isDisposed) return;
    this.previous = page;
    this.before.textContent = `← ${page.bar.title.textContent}`;
    this.before.hidden = false;
    page.panel.disposed.connect(() => {
      this.before.hidden = true;
      if (this.previous === page) this.previous = null;
    });
  }

  goBack() {
    this.page.app.shell.activateById(this.previous.panel.id);
    this.previous.bar.cameFrom(this.page);
  }
}
