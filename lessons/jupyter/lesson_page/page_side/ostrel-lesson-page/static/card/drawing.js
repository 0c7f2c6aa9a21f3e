// The drawing that goes with a question, taken out of its HTML and shown as an image, so that nothing in it can run.

import { make } from "../dom.js";

export function drawingIn(html) {
  const svg = /<svg[\s\S]*<\/svg>/.exec(html ?? "")?.[0];
  if (!svg) return null;
  const alt = new DOMParser().parseFromString(svg, "text/html").querySelector("svg").getAttribute("aria-label") ?? "";
  const named = svg.includes("xmlns=") ? svg : svg.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"');
  const address = URL.createObjectURL(new Blob([named], { type: "image/svg+xml" }));
  const image = make("img", { src: address, alt, onload: () => URL.revokeObjectURL(address) });
  return make("div", { class: "ostrel-drawing" }, image);
}
