// The end of a lesson: what is solved, what is open, handing in, and the way on.

import { button, make, renew } from "../dom.js";

const NOTHING = "Questions you have answered come back here, for the first time a day later. Carry on with a lesson until then.";

export function ending(page) {
  const said = make("div", {});
  const actions = make("div", { class: "ostrel-actions" });
  const node = make("section", { class: "ostrel-end", "aria-label": "End of the lesson" }, said, actions);

  function show(course) {
    const here = course.lessons.find((lesson) => lesson.here);
    const nothing = !here && page.lesson.cards.size > 0 && page.lesson.shownCards().length === 0;
    node.hidden = !here && !nothing;
    if (nothing) renew(said, make("h2", {}, "Nothing comes back today"), make("p", {}, NOTHING));
    if (!here) return;
    const orders = page.lesson.orders();
    const open = page.lesson.unsolved();
    renew(said,
      make("h2", {}, here.solved === here.asked && !open.length ? "This lesson is done" : "How far you have got"),
      make("p", {}, `Practice questions solved: ${here.solved} of ${here.asked}.${orders.length ? ` Work order questions answered: ${orders.filter(({ answered }) => answered).length} of ${orders.length}.` : ""}`),
      open.length ? make("p", {}, "Still open: ", ...open.flatMap((each, k) => [k ? ", " : "", to(each)]), ".") : "");
    renew(actions,
      ...(orders.length ? [button("Hand in", () => page.handIn(), { class: "ostrel-check" })] : []),
      ...(course.next ? [button(`Next lesson: ${course.next.title}`, () => page.travel.to(course.next.path), { class: "ostrel-next" })] : []));
  }
  const to = ({ id, words }) => make("a", { href: "#", onclick: (event) => { event.preventDefault(); page.lesson.goTo(id); } }, words);

  return {
    show,
    mount() { page.lesson.cells().at(-1)?.node.append(node); },
  };
}
