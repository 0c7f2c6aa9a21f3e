// Badge and units, from anywhere in the course; they act on every open lesson at once.

import { button, make } from "../dom.js";
import { dialog } from "./dialog.js";

export function signOn(page) {
  const badge = make("input", { type: "text", autocomplete: "off", spellcheck: false, placeholder: "your badge number", "aria-label": "Badge number" });
  const units = make("select", { "aria-label": "Units" }, make("option", { value: "si" }, "metric: bar, m³/h, mm"), make("option", { value: "us" }, "US: psi, gpm, in"));
  const said = make("p", { role: "status", class: "ostrel-wrong-badge" });
  const form = make("form", { class: "ostrel-sign-on", onsubmit: (event) => { event.preventDefault(); set(); } },
    make("label", {}, "Badge", badge), make("label", {}, "Units", units), said,
    make("div", { class: "ostrel-actions" }, button("Sign on", () => set(), { class: "ostrel-check" }), button("Cancel", () => shown.close(), { class: "ostrel-quiet" })));
  const shown = dialog(page.panel.node, "Badge and units", form);
  async function set() {
    const told = await page.ask(`take_sign_on(${JSON.stringify(badge.value)}, ${JSON.stringify(units.value)})`);
    if (!told) said.textContent = "The lesson is not running. Wait until it is, then try again.";
    else if (told.wrong) said.textContent = told.wrong;
    else { shown.close(); page.refresh(); }
  }
  return {
    open() {
      badge.value = page.course?.badge ?? "";
      units.value = page.course?.units ?? "si";
      said.textContent = "";
      shown.open();
      badge.select();
    },
  };
}
