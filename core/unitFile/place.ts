// A place in a file, and the error that names it.
import type * as z from "zod";
import { BobweightError } from "../errors.ts";
import { firstIssue, plainIssue } from "../issue.ts";
import { type Said, said } from "../said.ts";

/** Names the place, and has apart what is wrong there, for whoever shows it at the place. */
export class PlaceError extends BobweightError {
  readonly path: string;
  readonly complaint: Said;

  constructor(file: string | Said, path: string, complaint: Said) {
    const place = path === "" ? said("the file") : path;
    super("FILE_INVALID", said("{}, {}: {}.", file, place, complaint));
    this.path = path;
    this.complaint = complaint;
  }
}

/** A field of a JSON file, from which a complaint can be made. */
export class Place {
  private readonly file: string | Said;
  private readonly path: string;

  constructor(file: string | Said, path = "") {
    this.file = file;
    this.path = path;
  }

  in(key: string | number): Place {
    if (typeof key === "number") return new Place(this.file, `${this.path}[${key}]`);
    return new Place(this.file, this.path === "" ? key : `${this.path}.${key}`);
  }

  /** @throws FILE_INVALID always */
  fail(what: Said): never {
    throw new PlaceError(this.file, this.path, what);
  }
}

/** @throws FILE_INVALID naming the first field that does not fit the schema. */
export function parseShape<T>(schema: z.ZodType<T>, file: unknown, name: string | Said): T {
  const parsed = schema.safeParse(file);
  if (parsed.success) return parsed.data;
  const issue = firstIssue(parsed.error);
  let place = new Place(name);
  for (const key of issue.path) place = place.in(typeof key === "number" ? key : String(key));
  if (issue.code === "unrecognized_keys") {
    return place.in(issue.keys[0] as string).fail(said("there is no such field here"));
  }
  return place.fail(plainIssue(issue, file));
}
