// The page of a lesson: the bar above it, the panel beside it, the end below it, and the lesson itself.

import { Lesson } from "../lesson/lesson.js";
import { sourceOf } from "../lesson/cells.js";
import { ask } from "../lesson/kernel.js";
import { Bar } from "./bar.js";
import { calculator } from "./calculator.js";
import { ending } from "./ending.js";
import { handingIn } from "./hand_in.js";
import { Panel } from "./panel.js";
import { signOn } from "./sign_on.js";
import { Travel } from "./travel.js";
import { explainer } from "./words.js";

const COUNTED_AFTER = 150; // ms, since several outputs change at once
const KEPT_FROM_JUPYTER = ["keydown", "mousedown", "dblclick", "contextmenu"];

export class LessonPage {
  constructor(app, panel, context, surroundings) {
    Object.assign(this, { app, panel, context, surroundings });
    const closing = new AbortController();
    panel.disposed.connect(() => closing.abort());
    this.closes = closing.signal; // what outlives the page must not hold it
    this.lesson = new Lesson(app, panel, context, this);
    this.travel = new Travel(app, this);
    this.calculator = calculator(panel.node);
    this.explainer = explainer(panel.node, (path) => this.travel.to(path));
    this.bar = new Bar(this);
    this.panelBeside = new Panel(this);
    this.signOn = signOn(this);
    this.handingIn = handingIn(this);
    this.end = ending(this);
    this.course = null;
    this.head = null;
  }

  async open() {
    this.bar.title.textContent = this.heading();
    this.panel.node.append(this.bar.node, this.panelBeside.node, this.bar.trouble, this.bar.choices);
    this.panel.content.notebookConfig = { ...this.panel.content.notebookConfig, windowingMode: "none" };
    this.surroundings.add(this.panel, this);
    await this.panel.revealed;
    await this.inFront();
    this.fence();
    this.travel.follow();
    await this.lesson.start();
  }

  // Keys and clicks inside the lesson are none of the notebook's business: they would move, delete or open cells.
  fence() {
    const scroller = this.panel.content.node.querySelector(".jp-WindowedPanel-outer") ?? this.panel.content.node;
    for (const name of KEPT_FROM_JUPYTER) {
      scroller.addEventListener(name, (event) => { if (this.surroundings.isOn()) event.stopPropagation(); });
    }
    this.scroller = scroller;
  }

  // A lesson that JupyterLab restores in the background waits until somebody looks at it.
  inFront() {
    return new Promise((resolve) => {
      const { shell } = this.app;
      const look = () => {
        if (shell.currentWidget !== this.panel) return;
        shell.currentChanged.disconnect(look);
        resolve();
      };
      shell.currentChanged.connect(look);
      look();
    });
  }

  shownAs(on) {
    this.panel.node.classList.toggle("ostrel-page", on);
    // JupyterLab calls the cells a feed, which is a list of articles; a screen reader would announce it so.
    this.panel.node.querySelector(".jp-WindowedPanel-viewport")?.setAttribute("role", on ? "group" : "feed");
  }

  save() { return this.lesson.save(); }
  async ask(call, patience) { return this.lesson.link?.alive() ? ask(this.lesson.session, call, patience) : null; }

  // ---- what the lesson tells ----------------------------------------------------------------------------------------

  starting(yes) {
    this.bar.starting(yes);
    this.panel.node.classList.toggle("ostrel-starting", yes);
  }

  lost(why, again, sentence) { this.bar.lost(why, again, sentence); }
  found() { this.bar.found(); }

  header(data) {
    this.head = data;
    this.bar.header(data);
    clearTimeout(this.soon);
    this.soon = setTimeout(() => this.refresh(), COUNTED_AFTER); // the header changes with all that is counted
  }

  async ready() {
    await this.refresh();
    this.end.mount();
    this.travel.arrived();
    this.isReady = true;
    this.lesson.goTo(this.wanted);
    this.explainer.learn(await this.ask("words()"));
    for (const cell of this.lesson.cells()) if (cell.model.type === "markdown") this.explain(cell.node, true);
    for (const { card } of this.lesson.cards.values()) this.explain(card.node);
  }

  async refresh() {
    const course = await this.ask(`course(${JSON.stringify(this.head?.topic ?? "")})`);
    if (!course) return;
    this.course = course;
    this.panelBeside.show(course);
    this.bar.course(course);
    this.end.show(course);
  }

  // The lesson's own title, before the kernel has told it.
  heading() {
    const first = this.lesson.models().find((model) => model.type === "markdown" && /^#\s/m.test(sourceOf(model)));
    return first ? /^#\s+(.*)$/m.exec(sourceOf(first))[1] : asWords(this.panel.title.label);
  }

  download() {
    const { token } = this.app.serviceManager.serverSettings;
    return `${this.fileOf(this.context.path)}?download=1${token ? `&token=${token}` : ""}`;
  }

  fileOf(path) {
    return `${this.app.serviceManager.serverSettings.baseUrl}files/${path.split("/").map(encodeURIComponent).join("/")}`;
  }

  // The reader comes from another page, perhaps to one question.
  arrive({ from, question }) {
    this.bar.cameFrom(from);
    this.wanted = question;
    if (this.isReady) this.lesson.goTo(question);
  }

  explain(node, oncePerLesson = false) { this.explainer.mark(node, oncePerLesson); }
  calculate(insert) { this.calculator.open(insert); }
  handIn() { return this.handingIn.open(); }
}

// A file's name as words: seat_leakage.ipynb is "Seat leakage".
function asWords(file) {
  const words = file.replace(/\.ipynb$/, "").replaceAll("_", " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}
