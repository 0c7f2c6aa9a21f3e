// What the page of a live picture and that of a job card have in common: elements, keys, buttons.
// A script names what it uses of another. What reaches the browser is one text (page_script.py).

export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}

// Only what changed is set: the page lays out and paints less.
export function set(element, attribute, value) {
  if (element.getAttribute(attribute) !== value) element.setAttribute(attribute, value);
}

// Changes a text in place, for the same reason.
export function put(node, words) {
  const text = node.firstChild ?? node.appendChild(document.createTextNode(""));
  if (text.data !== words) text.data = words;
}

export function button(words, onClick, attributes = {}) {
  const made = make("button", { type: "button", ...attributes }, words);
  made.addEventListener("click", onClick);
  return made;
}

export const againButton = (onClick) => button("Ask again", onClick, { class: "ostrel-again" });

// What stands on the button that changes the unit set.
export const otherUnits = (units) => (units === "us" ? "Show metric units" : "Show US units");

// Without this JupyterLab takes the arrow keys, and letters for its commands. Ctrl+S and Shift+Enter still reach it.
export function keepKeys(event) {
  if (!(event.ctrlKey || event.metaKey || event.altKey || event.key === "Enter")) event.stopPropagation();
}
