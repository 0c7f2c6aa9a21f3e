// What a word finds comes while it is typed; without this script the button does the same.

const WAIT = 150; // ms after the last key
const word = document.getElementById("word");
let timer = 0;

async function look() {
  const address = word.value.trim() ? "/?" + new URLSearchParams({ word: word.value }) : "/";
  try {
    const page = new DOMParser().parseFromString(await (await fetch(address)).text(), "text/html");
    const found = page.getElementById("found");
    if (!found) return;
    document.getElementById("found").replaceChildren(...found.children);
    history.replaceState(null, "", address);
  } catch { /* not reached: the button says so */ }
}

word.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(look, WAIT); });
