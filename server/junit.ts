// Verdicts as JUnit XML, which build servers read: a suite for each measured unit, a case for each printed row.
import type { RowVerdict } from "../core/documents.ts";
import { limitsText, measuredNumber, unitSign } from "../core/sheet/figures.ts";
import { escaped } from "../core/sheet/markup.ts";

export interface Measured {
  readonly name: string;
  readonly rows: readonly RowVerdict[];
  /** Printed rows and limits that were not planned or not reached on some branch. */
  readonly rowsNotMeasured: number;
  /** Why there is no whole measurement; null where there is one. */
  readonly trouble: { readonly code: string; readonly text: string } | null;
}

export const JUNIT_HELP = `
JUnit XML: one suite a unit, one case a printed row. A row within passes; one outside is a failure of type
"outside"; one too close to call is a failure of type "unproven", since it is not proved within; rows
that were not measured are one skipped case. A unit that could not be measured to the end has an error.`;

export const JUNIT_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="bobweight">\n';
export const JUNIT_END = "</testsuites>\n";

type Outcome = "passed" | "failures" | "errors" | "skipped";

interface Entry {
  readonly name: string;
  readonly outcome: Outcome;
  /** What stands in it; empty where it passes. */
  readonly content: string;
}

/** One suite, for between head and end. */
export function suiteXml(measured: Measured): string {
  const entries = entriesOf(measured);
  const count = (outcome: Outcome) => entries.filter((one) => one.outcome === outcome).length;
  const suite = attribute(measured.name);
  const lines = entries.map(({ name, content }) => {
    const head = `    <testcase classname=${suite} name=${attribute(name)}`;
    return content === "" ? `${head}/>` : `${head}>${content}</testcase>`;
  });
  return [
    `  <testsuite name=${suite} tests="${entries.length}" failures="${count("failures")}" errors="${count("errors")}" skipped="${count("skipped")}">`,
    ...lines,
    "  </testsuite>\n",
  ].join("\n");
}

function entriesOf({ rows, rowsNotMeasured, trouble }: Measured): Entry[] {
  const entries = rows.map(rowEntry);
  if (rowsNotMeasured > 0) {
    const message = `${rowsNotMeasured} printed rows or limits were not measured`;
    entries.push(entry("rows not measured", "skipped", message));
  }
  if (trouble !== null) {
    const { code, text } = trouble;
    entries.push({
      name: "measurement",
      outcome: "errors",
      content: `<error type=${attribute(code)} message=${attribute(text)}/>`,
    });
  }
  if (entries.length > 0) return entries;
  return [entry("verdict", "skipped", "there was nothing to judge by")];
}

function rowEntry(row: RowVerdict): Entry {
  const name = [
    row.about,
    ...(row.capsule === null ? [] : [`of capsule ${row.capsule + 1}`]),
    ...(row.branch === null ? [] : [row.branch]),
  ].join(" ");
  const whole = `${name}: ${row.printed}`;
  if (row.verdict === "within") return { name: whole, outcome: "passed", content: "" };
  const content = `<failure type="${row.verdict}" message=${attribute(rowText(row))}/>`;
  return { name: whole, outcome: "failures", content };
}

function rowText({ measured, expandedUncertainty, limits, unit, verdict }: RowVerdict): string {
  const wanted = limitsText(limits, unit, "kPa");
  if (measured === null) return `${verdict}: no figure was measured, wanted ${wanted}`;
  const number = (value: number) => measuredNumber(value, unit, "kPa");
  const uncertainty = expandedUncertainty === null ? "" : ` ± ${number(expandedUncertainty)}`;
  return `${verdict}: ${number(measured)}${uncertainty}${unitSign(unit, "kPa")}, wanted ${wanted}`;
}

function entry(name: string, outcome: "skipped", message: string): Entry {
  return { name, outcome, content: `<skipped message=${attribute(message)}/>` };
}

/** Ends of lines are kept, which a reader of XML would make spaces of; U+FFFE and U+FFFF no XML may hold. */
function attribute(text: string): string {
  const safe = escaped(text)
    .replace(/[\uFFFE\uFFFF]/g, "\uFFFD")
    .replace(/[\t\n\r]/g, (mark) => `&#${mark.charCodeAt(0)};`);
  return `"${safe}"`;
}
