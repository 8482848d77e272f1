// The bars' figures as one table of text.
import type { Bar, Figure } from "./bar.ts";
import type { Outcome } from "./jobs.ts";

const HEAD = ["bar", "measured", "value", "limit", "count", ""];

/** A bar's figures; a job that failed misses the bar whatever the others brought. */
export function figuresOf(bar: Bar<unknown>, outcomes: readonly Outcome[]): readonly Figure[] {
  const own = [...(bar.also ?? []), bar].flatMap(({ name }) =>
    outcomes.filter(({ job }) => job.bar === name),
  );
  const results = own.flatMap((outcome) => ("result" in outcome ? [outcome.result] : []));
  const failures = own.filter((outcome) => "failure" in outcome);
  const figures = results.length > 0 ? bar.figures(results) : [];
  if (failures.length === 0 && figures.length > 0) return figures;
  const failed: Figure = {
    what: "jobs that failed",
    measured: String(failures.length),
    limit: "0",
    count: own.length,
    met: false,
  };
  return [...figures, failed];
}

export function tableOf(
  lines: readonly { readonly bar: string; readonly figure: Figure }[],
): string {
  const rows = lines.map(({ bar, figure: { what, measured, limit, count, met } }, i) => [
    lines[i - 1]?.bar === bar ? "" : bar,
    what,
    measured,
    limit,
    String(count),
    met === null ? "" : met ? "met" : "MISSED",
  ]);
  const widths = HEAD.map((head, column) =>
    Math.max(head.length, ...rows.map((row) => (row[column] as string).length)),
  );
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, column) => cell.padEnd(widths[column] as number))
      .join("  ")
      .trimEnd();
  return [HEAD, widths.map((width) => "-".repeat(width)), ...rows].map(line).join("\n");
}
