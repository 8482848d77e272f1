// A table as lines of text for a terminal. Pure.

/** Columns two blanks apart, no blanks at the ends of lines; each line ends. */
export function alignedText(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((row) => row[i]?.length ?? 0)));
  return rows
    .map((row) => row.map((cell, i) => cell.padEnd(widths[i] ?? 0)).join("  "))
    .map((line) => `${line.trimEnd()}\n`)
    .join("");
}
