// The boxes of a job card and their sliders.

import { make, put, set } from "../../live/page_side/page.js";

function selection(field, id, changed) {
  const select = make("select", { id, "data-key": field.name });
  for (const [name, words] of field.choices) select.append(make("option", { value: name }, words));
  select.addEventListener("change", changed);
  return select;
}

function box(key, attributes, changed) {
  const input = make("input", { "data-key": key, inputmode: "text", autocomplete: "off", ...attributes });
  input.addEventListener("input", changed);
  return input;
}

// A slider beside a box; it writes into the box, and what is typed there moves it.
function boxSlider(field, input, on) {
  const range = make("input", { type: "range", class: "ostrel-slide" });
  let ends = {};
  range.addEventListener("input", () => { input.value = String(Number(range.value)); on.slid(field.name); });
  for (const event of ["pointerdown", "focus"]) range.addEventListener(event, () => on.held(field.name));
  const show = (units, place) => {
    if (ends !== field.slider[units]) {
      ends = field.slider[units];
      for (const [end, value] of [["min", ends.low], ["max", ends.high], ["step", ends.step]]) set(range, end, value);
      set(range, "aria-label", [field.label, field.units[units], "slider"].filter(Boolean).join(", "));
    }
    if (Number(range.value) !== place) range.value = place;
    set(range, "aria-valuetext", `${input.value} ${field.units[units]}`.trim());
  };
  return { range, show };
}

// One field with its label, its boxes and the place where it says what is wrong.
export function fieldRow(field, id, on) {
  const changed = on.typed;
  const says = make("div", { class: "ostrel-problem", id: id + "-says", role: "status" });
  const unit = make("span", { class: "ostrel-unit" });
  const keypad = field.digits ? { inputmode: "decimal" } : {};
  const described = { "aria-describedby": id + "-says" };
  let inputs, head, wide = false;
  if (field.choices.length) {
    inputs = [selection(field, id, changed)];
    head = make("label", { for: id }, field.label);
  } else if (field.boxes.length) {
    wide = field.boxes.length > 2;
    inputs = field.keys.map((key, k) => box(key, { id: `${id}-${k}`, ...keypad, ...described }, changed));
    head = make("div", { class: "ostrel-legend" }, field.label + (field.optional ? " (may stay empty)" : ""));
  } else {
    inputs = [box(field.name, { id, ...keypad, ...described }, changed)];
    head = make("label", { for: id }, field.label + (field.optional ? " (may stay empty)" : ""));
  }
  const cells = inputs.map((input, k) => {
    if (!field.boxes.length) return make("span", {}, input);
    return make("span", {}, make("label", { for: input.id }, make("small", {}, field.boxes[k])), input);
  });
  const boxes = make("div", { class: "ostrel-boxes" }, ...cells);
  if (field.units.si || field.slider) boxes.append(unit);
  const slider = field.slider && boxSlider(field, inputs[0], on);
  if (slider) boxes.append(slider.range);
  const row = make("div", { class: "ostrel-field" + (wide ? " wide" : "") }, head, boxes, says);
  const name = (units) => { // a screen reader hears label, place and unit
    put(unit, field.units[units]);
    inputs.forEach((input, k) => {
      const words = [field.label, field.boxes[k], field.units[units]].filter(Boolean).join(", ");
      set(input, "aria-label", words);
    });
  };
  const tell = (problem) => {
    put(says, problem);
    inputs.forEach((input) => set(input, "aria-invalid", problem ? "true" : "false"));
  };
  return { row, inputs, name, tell, place: slider?.show ?? (() => {}) };
}
