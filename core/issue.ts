// What a schema finds wrong, as it is told to people. Pure.
import type * as z from "zod";
import { type Said, type SaidValue, said, textOf } from "./said.ts";

type Issue = z.core.$ZodIssue;

/** There is always one. */
export function firstIssue({ issues }: z.ZodError): Issue {
  return issues[0] as Issue;
}

/** @param value that the schema was held against */
export function issueSaid(issue: Issue, value: unknown): Said {
  return exactly(
    issue.message,
    told(issue, value, (what) => what),
  );
}

/** For a place that is named before it: in lower case, without what only says that it is wrong. */
export function plainIssue(issue: Issue, value: unknown): Said {
  // Of a union's branches the one tells most that got furthest into the value.
  if (issue.code === "invalid_union") {
    if (issue.message !== "Invalid input") return own(issue.message);
    const deepest = issue.errors.flat().toSorted((a, b) => b.path.length - a.path.length)[0];
    if (deepest !== undefined && deepest.path.length > 0) {
      const whole = plainIssue(deepest, valueAt(value, issue.path));
      return said("{} {}", deepest.path.join("."), whole);
    }
    return said('expected a number or a text such as "5¼ to 7"');
  }
  const text = issue.message.replace(/^Invalid (input|option): /, "");
  if (text.endsWith("received undefined")) return said("is missing");
  const plain = text.charAt(0).toLowerCase() + text.slice(1);
  return exactly(
    plain,
    told(issue, value, (_, bare) => bare),
  );
}

/** The schemas' own English stays as it is: what is not told alike is told by their text. */
function exactly(english: string, of: Said | null): Said {
  return of !== null && textOf(of) === english ? of : said("{}", english);
}

type Worded = (whole: Said, bare: Said) => Said;

function told(issue: Issue, value: unknown, worded: Worded): Said | null {
  switch (issue.code) {
    case "invalid_type": {
      const received = kindSaid(kindOf(valueAt(value, issue.path)));
      const bare = said("expected {}, received {}", kindSaid(issue.expected), received);
      return worded(said("Invalid input: {}", bare), bare);
    }
    case "invalid_value": {
      const values = issue.values.map((one) => JSON.stringify(one));
      const isOne = values.length === 1;
      const bare = isOne
        ? said("expected {}", values.join())
        : said("expected one of {}", values.join("|"));
      return worded(
        isOne ? said("Invalid input: {}", bare) : said("Invalid option: {}", bare),
        bare,
      );
    }
    case "too_small": {
      const { origin, minimum, inclusive } = issue;
      const sign = inclusive === true ? ">=" : ">";
      const size = [kindSaid(origin), sign, Number(minimum)] as const;
      return worded(sized(said("Too small"), origin, size), sized(said("too small"), origin, size));
    }
    case "too_big": {
      const { origin, maximum, inclusive } = issue;
      const sign = inclusive === true ? "<=" : "<";
      const size = [kindSaid(origin), sign, Number(maximum)] as const;
      return worded(sized(said("Too big"), origin, size), sized(said("too big"), origin, size));
    }
    case "invalid_format":
      return issue.format === "date"
        ? worded(said("Invalid ISO date"), said("invalid ISO date"))
        : null;
    case "custom":
      return own(issue.message);
    default:
      return null;
  }
}

/** A schema's own complaint is in the catalogue, or else is told as it is. */
function own(message: string): Said {
  return { say: message as Said["say"], of: [] };
}

function sized(
  what: Said,
  origin: string,
  [kind, sign, limit]: readonly [SaidValue, string, number],
): Said {
  if (origin === "string")
    return said("{}: expected {} to have {}{} characters", what, kind, sign, limit);
  if (origin === "array")
    return said("{}: expected {} to have {}{} items", what, kind, sign, limit);
  return said("{}: expected {} to be {}{}", what, kind, sign, limit);
}

function valueAt(value: unknown, path: readonly PropertyKey[]): unknown {
  let at = value;
  for (const key of path) at = (at as Record<PropertyKey, unknown> | null | undefined)?.[key];
  return at;
}

function kindOf(value: unknown): string {
  if (value === null) return "null";
  if (Array.isArray(value)) return "array";
  return Number.isNaN(value) ? "NaN" : typeof value;
}

function kindSaid(kind: string): SaidValue {
  switch (kind) {
    case "number":
    case "int":
    case "string":
    case "boolean":
    case "array":
    case "object":
    case "undefined":
      return said(kind);
    default:
      return kind;
  }
}
