// Making pieces of a page. Words go in as text, never as markup.

export function make(tag, attributes = {}, ...children) {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === undefined || value === null) continue;
    if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else if (name in node && typeof value !== "string") node[name] = value;
    else node.setAttribute(name, value === true ? "" : value);
  }
  node.append(...children.filter((child) => child || child === 0));
  return node;
}

export function button(words, onclick, attributes = {}) {
  return make("button", { type: "button", onclick, ...attributes }, words);
}

// Puts new pieces in the place of old ones. The keyboard stays on what has the same words, or the same place.
export function renew(node, ...children) {
  const stops = () => [...node.querySelectorAll("a, button")];
  const held = stops().indexOf(document.activeElement);
  const words = document.activeElement?.textContent;
  node.replaceChildren(...children);
  if (held >= 0) (stops().find((stop) => stop.textContent === words) ?? stops()[held])?.focus({ preventScroll: true });
}

// Says how many there are, in words that fit the number.
export function counted(number, thing, things = `${thing}s`) {
  return `${number} ${number === 1 ? thing : things}`;
}

let count = 0;

export function newId(name) {
  count += 1;
  return `ostrel-${name}-${count}`;
}

export function paragraphs(text) {
  return text.split("\n").filter((line) => line.trim()).map((line) => make("p", {}, line));
}

// Comes after what was changed just now is on the screen; in a page nobody looks at nothing is drawn, and a moment will do.
export function painted() {
  return new Promise((resolve) => {
    requestAnimationFrame(() => setTimeout(resolve));
    setTimeout(resolve, 100);
  });
}
