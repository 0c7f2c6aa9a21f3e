// Letters as typed by hand: "b", "B) and c", "cadb".
export function lettersOf(text, given) {
  const known = given.map(([letter]) => letter);
  const words = text.toLowerCase().split(/[^\p{L}\d]+/u).filter((word) => word && !["and", "then"].includes(word));
  const letters = words.length === 1 ? [...words[0]] : words;
  if (letters.every((letter) => known.includes(letter))) return letters;
  return given.filter(([, said]) => said.toLowerCase() === text.trim().toLowerCase()).map(([letter]) => letter);
}
