// The course beside a lesson: every lesson with what is done and comes back, what needs another look, and a search.

import { button, counted, make, renew } from "../dom.js";
import { finder } from "./finder.js";

const WIDE = "(min-width: 1240px)"; // room for panel and lesson side by side
const KEPT = "ostrel-panel"; // name in the browser's memory

export class Panel {
  constructor(page) {
    this.page = page;
    this.list = make("ol", { class: "ostrel-lessons" });
    this.again = make("div", { class: "ostrel-again-list" });
    this.ways = make("p", { class: "ostrel-ways" });
    this.sent = make("div", { class: "ostrel-sent" });
    this.all = make("div", {}, this.sent, this.list, this.again, this.ways);
    this.finder = finder(page, this.all);
    this.node = make("nav", { class: "ostrel-panel", "aria-label": "Course", tabindex: "-1", onkeydown: (event) => this.keyed(event) },
      make("div", { class: "ostrel-panel-head" }, make("strong", {}, "Course"),
        button("✕", () => this.open(false, true), { "aria-label": "Close the course panel", class: "ostrel-quiet" })),
      this.finder.node, this.all);
    this.open(matchMedia(WIDE).matches && memory() !== "closed");
    matchMedia(WIDE).addEventListener("change", ({ matches }) => this.open(matches && memory() !== "closed"), { signal: page.closes });
  }

  get isOpen() { return !this.node.hidden; }

  open(yes, chosen = false) {
    this.node.hidden = !yes;
    this.page.panel.node.classList.toggle("ostrel-panel-open", yes);
    if (chosen && matchMedia(WIDE).matches) memory(yes ? "open" : "closed");
    if (chosen && !yes) this.page.bar.node.querySelector(".ostrel-course").focus();
  }

  toggle() {
    this.open(!this.isOpen, true);
    if (this.isOpen) this.node.focus();
  }

  search() {
    this.open(true);
    this.finder.focus();
  }

  keyed(event) {
    if (event.key !== "Escape") return;
    event.preventDefault();
    if (!this.finder.clear()) this.open(false, true);
  }

  // A narrow screen shows the panel over the lesson: going somewhere closes it.
  gone() {
    if (!matchMedia(WIDE).matches) this.open(false);
  }

  show({ lessons, refresher, due, glossary, cards, sent }) {
    renew(this.sent, ...(sent.length ? [make("h2", {}, "From your instructor"), make("ul", {}, ...sent.map((each) => this.order(each)))] : []));
    renew(this.list, ...lessons.map((lesson) => this.row(lesson)));
    if (!this.seen) this.list.querySelector("[aria-current]")?.scrollIntoView({ block: "nearest" });
    this.seen = true;
    const again = lessons.flatMap((lesson) => lesson.again.map((each) => ({ ...each, lesson })));
    renew(this.again, ...(again.length ? [make("h2", {}, "Look at these again"), make("ul", {}, ...again.map((each) => this.second(each)))] : []));
    const back = this.link("Refresher", refresher);
    if (due) back.append(make("small", {}, `Coming back today: ${counted(due, "question")}`));
    renew(this.ways, back, this.link("Glossary", glossary), this.link("Job cards", cards));
  }

  row(lesson) {
    const done = lesson.asked > 0 && lesson.solved === lesson.asked;
    const said = [
      done ? "✓ done" : lesson.solved ? `${lesson.solved} of ${lesson.asked} solved` : "",
      lesson.due ? `${lesson.due} to do again` : "",
      lesson.handIn ? `hand in by ${lesson.handIn}` : "",
    ].filter(Boolean).join(" · ");
    const link = this.link(lesson.title, lesson.path);
    if (lesson.here) link.setAttribute("aria-current", "page");
    link.append(make("small", {}, said));
    return make("li", { class: lesson.here ? "ostrel-here" : "" }, link,
      make("span", { class: "ostrel-part", "aria-hidden": "true", style: `--part:${lesson.asked ? lesson.solved / lesson.asked : 0}` }));
  }

  // A work order that came, and the page it came back with once it was marked.
  order({ title, path, page }) {
    const marked = page ? make("a", { class: "ostrel-marked", href: this.page.fileOf(page), target: "_blank", rel: "noopener" }, `Marked: ${title}`) : "";
    return make("li", {}, this.link(`Work order: ${title}`, path), marked);
  }

  second({ question, idea, lesson }) {
    const link = this.link(idea, lesson.path, question);
    link.append(make("small", {}, lesson.title));
    return make("li", {}, link);
  }

  link(words, path, question = "") {
    return make("a", { href: path, onclick: (event) => {
      event.preventDefault();
      this.gone();
      this.page.travel.to(path, { question });
    } }, words);
  }
}

function memory(now) {
  try {
    if (now) localStorage.setItem(KEPT, now);
    return localStorage.getItem(KEPT);
  } catch { return null; } // a browser that keeps nothing
}
