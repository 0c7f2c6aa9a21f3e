// One open lesson: it runs by itself, each question becomes a card, and what is checked goes through the answer's box.

import { questionCard, sameNumbers } from "../card/card.js";
import { painted } from "../dom.js";
import { askedBy, boxIn, boxOf, isCard, mend, put, shownBy, sourceOf } from "./cells.js";
import { drafts } from "./drafts.js";
import { run, runText, startAgain, serverAnswers, watch } from "./kernel.js";
import { careful } from "./saving.js";

const OTHER_NUMBERS = "The numbers in this question have changed since then. Look at them, and check your answer again.";
const NOT_YET = "The lesson is not running just now. Try again when it is.";
const SERVER_AWAY = "The program that runs the lessons has stopped. Start it again as you did before, then press the button.";

// `page` shows what is around the lesson: starting(yes), lost(why, again), header(data), ready().
export class Lesson {
  constructor(app, panel, context, page) {
    Object.assign(this, { app, panel, context, page });
    this.cards = new Map();
    this.running = null;
    this.held = new Map(); // question -> numbers it had when it was checked while nothing ran
    this.judging = new Map();
    this.drafts = drafts(context.path);
    this.begun = false;
  }

  get model() { return this.context.model; }
  get session() { return this.context.sessionContext; }
  cells() { return this.panel.content.widgets; }
  models() { return [...this.model.cells]; }
  cellOf(model) { return this.cells().find((cell) => cell.model === model); }

  async start() {
    this.mended = mend(this.model);
    careful(this.context, this.app.serviceManager.contents, (id, text) => this.cards.get(id)?.card.fill(text));
    this.look();
    this.page.starting(true);
    this.link = watch(this.app, this.session, { lost: (why) => this.lost(why), back: () => this.back() });
    await this.session.ready;
    this.begun = true;
    this.link.begin();
    await this.runAll();
  }

  // ---- running ------------------------------------------------------------------------------------------------------

  async runAll() {
    this.page.starting(true);
    this.page.found();
    const waiting = new Set(this.held.keys());
    const code = this.cells().filter((cell) => cell.model.type === "code");
    const now = code.filter((cell) => !waiting.has(boxIn(sourceOf(cell.model))?.id));
    const all = Promise.allSettled(now.map((cell) => run(cell, this.session)));
    this.running = all;
    await all;
    if (this.running !== all) return; // started once more meanwhile
    this.running = null;
    this.look();
    for (const [id, numbers] of [...this.held]) await this.goesIn(id, numbers);
    this.page.starting(false);
    this.page.ready();
    this.save();
  }

  // A held answer goes in if the question still has the numbers it was given to.
  async goesIn(id, numbers) {
    this.held.delete(id);
    const { card } = this.cards.get(id) ?? {};
    if (!card) return;
    if (!sameNumbers(numbers, card.data)) card.note(OTHER_NUMBERS);
    else await this.judge(id, this.cellOf(boxOf(this.model, id).cell), boxOf(this.model, id).text);
  }

  back() {
    if (!isCard(this.model)) this.runAll();
  }

  lost(why) {
    if (isCard(this.model)) return;
    for (const [id, numbers] of this.judging) this.hold(id, numbers); // no reply to these will come any more
    this.page.starting(why === "restarting");
    if (why !== "restarting") this.page.lost(why, () => this.again());
  }

  async again() {
    if (!(await serverAnswers(this.app))) { this.page.lost("server", () => this.again(), SERVER_AWAY); return; }
    this.page.starting(true);
    this.page.found();
    await startAgain(this.session).catch(() => this.page.lost("kernel", () => this.again()));
  }

  // Tells whether the file was written.
  async save() {
    try {
      await this.context.save();
      return true;
    } catch {
      await this.notSaved();
      return false;
    }
  }

  async notSaved() {
    if (!(await serverAnswers(this.app))) this.link?.lose("server");
    else this.page.lost("file", () => { this.page.found(); this.save(); });
  }

  // ---- what stands on the page --------------------------------------------------------------------------------------

  // Gives every asking cell its card, and every cell its class; cells may come late.
  look() {
    for (const cell of this.cells()) {
      const { model } = cell;
      if (model.type !== "code") continue;
      const id = askedBy(model), box = boxIn(sourceOf(model));
      cell.node.classList.toggle("ostrel-asks", Boolean(id));
      cell.node.classList.toggle("ostrel-box", Boolean(box));
      if (id && !this.cards.has(id)) this.ask(id, cell);
      if (!cell.ostrelHeard) {
        cell.ostrelHeard = true;
        model.outputs.changed.connect(() => this.heard(cell));
      }
      this.heard(cell);
    }
    this.shownCards().forEach(([, { card }], k) => card.number(k + 1));
  }

  shownCards() { return [...this.cards].filter(([, { card }]) => card.data && !card.node.hidden); }

  heard(cell) {
    const id = askedBy(cell.model), box = boxIn(sourceOf(cell.model));
    const shown = shownBy(cell.model);
    const header = shown.find((each) => each.what === "header");
    if (header) this.page.header(header);
    if (/^begin\(/m.test(sourceOf(cell.model))) {
      cell.node.classList.toggle("ostrel-head", cell.model.outputs.length < 2);
      cell.node.classList.toggle("ostrel-headed", Boolean(header) && header === shown[0]); // what stands below the header is seen
    }
    if (id) this.asks(id, shown.at(-1));
    if (box) this.replied(box.id, shown);
  }

  ask(id, cell) {
    const card = questionCard(id, {
      check: () => this.check(id),
      hint: () => this.hint(id),
      renew: () => this.renew(id),
      changed: () => this.drafts.keep(id, card.data.variant, card.text()),
      calculate: (insert) => this.page.calculate(insert),
    });
    cell.node.append(card.node);
    card.node.hidden = true;
    this.cards.set(id, { card, cell });
  }

  // The asking cell shows a question, a sentence why not, or that nothing comes back yet.
  asks(id, shown) {
    if (!shown) return; // it runs just now
    const { card, cell } = this.cards.get(id);
    cell.node.classList.toggle("ostrel-nothing", shown.what === "nothing");
    cell.node.classList.toggle("ostrel-carded", shown.what === "question");
    card.node.hidden = shown.what !== "question";
    if (shown.what !== "question") return;
    const before = card.data;
    if (before && JSON.stringify(before) === JSON.stringify(shown)) return;
    card.show(shown, shown.html);
    this.page.explain(card.node);
    this.fill(id, Boolean(before) && !sameNumbers(before, shown));
    if (this.mended.has(id)) card.mended(this.mended.get(id));
  }

  // What is in the box comes into the card; a box that belongs to earlier numbers gets what was answered to these.
  fill(id, renewed) {
    const { card } = this.cards.get(id), { answered } = card.data;
    const box = boxOf(this.model, id);
    if (!box) return;
    if (this.begun && (renewed || !box.text) && box.text !== answered) put(this.model, id, answered);
    const draft = this.drafts.of(id, card.data.variant);
    card.fill(draft ?? (renewed ? answered : box.text || answered));
  }

  replied(id, shown) {
    const { card } = this.cards.get(id) ?? {};
    const said = shown.filter((each) => ["reply", "note"].includes(each.what));
    if (card && said.length) card.reply(said);
  }

  // ---- answering ----------------------------------------------------------------------------------------------------

  async check(id) {
    const { card } = this.cards.get(id);
    const text = card.text();
    if (!text || card.missing().length) { card.nothing(); return; }
    card.node.setAttribute("aria-busy", "true"); // until it is in the file
    const cell = this.cellOf(boxOf(this.model, id).cell);
    await cell.ready;
    const judged = this.running || !this.link?.alive() ? this.hold(id, card.data) : this.judge(id, cell, text);
    put(this.model, id, text); // it is on its way to the kernel already
    this.drafts.forget(id);
    await judged;
    await painted();
    await Promise.all([this.save(), this.page.refresh()]);
    card.node.setAttribute("aria-busy", "false");
  }

  hold(id, numbers) {
    const { card } = this.cards.get(id);
    this.held.set(id, numbers);
    card.busy(false);
    card.held();
  }

  async judge(id, cell, text) {
    const { card } = this.cards.get(id), numbers = card.data;
    this.judging.set(id, numbers);
    card.busy(true);
    try {
      await runText(cell, this.session, `%%answer ${id}\n${text}`);
    } catch {
      this.hold(id, numbers); // the kernel went away before it had answered
    } finally {
      this.judging.delete(id);
      card.busy(false);
    }
  }

  hint(id) { return this.says(id, "?"); }

  async renew(id) {
    if (await this.says(id, "new")) this.cards.get(id).card.focus();
  }

  // Runs the answer's cell with other words than those in the box, which stay.
  async says(id, words) {
    const { card } = this.cards.get(id);
    if (this.running || !this.link?.alive()) { card.note(NOT_YET); return false; }
    await runText(this.cellOf(boxOf(this.model, id).cell), this.session, `%%answer ${id}\n${words}`).catch(() => {});
    await this.save();
    return true;
  }

  // ---- how far it is ------------------------------------------------------------------------------------------------

  orders() { return this.asked().filter(({ graded }) => graded); }

  unsolved() { return this.asked().filter(({ graded, answered, right, kind }) => (graded ? !answered : kind !== "predict" && !right)); }

  asked() {
    return this.shownCards().map(([id, { card }], k) => ({
      id, words: `question ${k + 1}`, graded: card.data.graded, kind: card.data.kind,
      answered: Boolean(boxOf(this.model, id)?.text), right: ["right", "recorded"].includes(card.tag),
    }));
  }

  goTo(id) {
    const { card } = this.cards.get(id) ?? {};
    if (!card || card.node.hidden) return;
    card.node.scrollIntoView({ block: "start" });
    card.focus();
  }
}
