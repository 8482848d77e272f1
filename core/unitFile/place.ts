// A place in a file, and the error that names it.
import type * as z from "zod";
import { BobweightError } from "../errors.ts";

/** A field of a JSON file, from which a complaint can be made. */
export class Place {
  private readonly file: string;
  private readonly path: string;

  constructor(file: string, path = "") {
    this.file = file;
    this.path = path;
  }

  in(key: string | number): Place {
    if (typeof key === "number") return new Place(this.file, `${this.path}[${key}]`);
    return new Place(this.file, this.path === "" ? key : `${this.path}.${key}`);
  }

  /** @throws FILE_INVALID always */
  fail(what: string): never {
    const path = this.path === "" ? "the file" : this.path;
    throw new BobweightError("FILE_INVALID", `${this.file}, ${path}: ${what}.`);
  }
}

/** @throws FILE_INVALID naming the first field that does not fit the schema. */
export function parseShape<T>(schema: z.ZodType<T>, file: unknown, name: string): T {
  const parsed = schema.safeParse(file);
  if (parsed.success) return parsed.data;
  const issue = parsed.error.issues[0];
  if (issue === undefined) return new Place(name).fail("does not fit");
  let place = new Place(name);
  for (const key of issue.path) place = place.in(typeof key === "number" ? key : String(key));
  if (issue.code === "unrecognized_keys") {
    return place.in(issue.keys[0] as string).fail("there is no such field here");
  }
  return place.fail(plainMessage(issue));
}

function plainMessage(issue: z.core.$ZodIssue): string {
  // Of a union's branches the one tells most that got furthest into the value.
  if (issue.code === "invalid_union") {
    const deepest = issue.errors.flat().toSorted((a, b) => b.path.length - a.path.length)[0];
    if (deepest !== undefined && deepest.path.length > 0) {
      return `${deepest.path.join(".")} ${plainMessage(deepest)}`;
    }
    return 'expected a number or a text such as "5¼ to 7"';
  }
  const text = issue.message.replace(/^Invalid (input|option): /, "");
  return text === "expected nonoptional, received undefined" || text.endsWith("received undefined")
    ? "is missing"
    : text.charAt(0).toLowerCase() + text.slice(1);
}
