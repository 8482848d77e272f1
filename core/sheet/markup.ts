// Text into HTML and SVG: everything that comes from a file or a rig passes here. Pure.

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Controls but tab and line ends (no markup may hold them), and lone halves of surrogate pairs. */
const UNPRINTABLE = /[^\P{Cc}\t\n\r]|\p{Cs}/gu;

/** What no printed form may hold stands as one sign that says so. */
export function printable(text: string): string {
  return text.replace(UNPRINTABLE, "\uFFFD");
}

/** Safe between tags and inside a quoted attribute. */
export function escaped(text: string): string {
  return printable(text).replace(/[&<>"']/g, (mark) => ENTITIES[mark] as string);
}
