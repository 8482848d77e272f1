// Finding by words, however they are written.

/** Every word of the search is somewhere in the text. */
export function hasAllWords(text: string, search: string): boolean {
  const within = folded(text);
  return folded(search)
    .split(/\s+/)
    .every((word) => within.includes(word));
}

/** Without accents and capitals: "Müller" is found by "muller". */
function folded(text: string): string {
  return text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
}
