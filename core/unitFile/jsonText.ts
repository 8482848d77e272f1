// Reads JSON text (RFC 8259) and says where it is wrong. Unlike JSON.parse it refuses a key given
// twice, of which the first would silently count for nothing.

import { BobweightError } from "../errors.ts";
import { type Said, said } from "../said.ts";

const DEPTH_MAX = 40;
const SIMPLE_ESCAPES: Readonly<Record<string, string>> = {
  '"': '"',
  "\\": "\\",
  "/": "/",
  b: "\b",
  f: "\f",
  n: "\n",
  r: "\r",
  t: "\t",
};
const LITERALS: readonly (readonly [string, unknown])[] = [
  ["true", true],
  ["false", false],
  ["null", null],
];

/** @throws FILE_NOT_JSON naming file, line and column, both from 1. */
export function parseJsonFile(text: string, name: string): unknown {
  return new JsonText(text, name).whole();
}

class JsonText {
  private at = 0;
  private depth = 0;
  private readonly text: string;
  private readonly name: string;

  constructor(text: string, name: string) {
    // Editors on some systems put a byte order mark in front.
    this.text = text.startsWith("\uFEFF") ? text.slice(1) : text;
    this.name = name;
  }

  whole(): unknown {
    const value = this.value();
    this.skipBlanks();
    if (this.at < this.text.length) this.fail(said("expected the end, found {}", this.found()));
    return value;
  }

  private value(): unknown {
    this.skipBlanks();
    const first = this.text[this.at];
    if (first === "{") return this.nested(() => this.object());
    if (first === "[") return this.nested(() => this.array());
    if (first === '"') return this.string();
    for (const [word, value] of LITERALS) {
      if (this.text.startsWith(word, this.at)) {
        this.at += word.length;
        return value;
      }
    }
    return this.number();
  }

  private nested(read: () => unknown): unknown {
    if (++this.depth > DEPTH_MAX)
      this.fail(said("brackets are nested more than {} deep", DEPTH_MAX));
    this.at++;
    const value = read();
    this.depth--;
    return value;
  }

  private object(): unknown {
    const entries = new Map<string, unknown>();
    this.skipBlanks();
    if (this.take("}")) return {};
    do {
      this.skipBlanks();
      const keyAt = this.at;
      if (this.text[this.at] !== '"')
        this.fail(said("expected a key in quotes, found {}", this.found()));
      const key = this.string();
      if (entries.has(key)) {
        this.at = keyAt;
        this.fail(said('the key "{}" is given twice', key));
      }
      this.skipBlanks();
      if (!this.take(":")) this.fail(said("expected a colon, found {}", this.found()));
      entries.set(key, this.value());
      this.skipBlanks();
    } while (this.take(","));
    if (!this.take("}")) this.fail(said('expected a comma or "}", found {}', this.found()));
    return Object.fromEntries(entries);
  }

  private array(): unknown {
    const values: unknown[] = [];
    this.skipBlanks();
    if (this.take("]")) return values;
    do {
      values.push(this.value());
      this.skipBlanks();
    } while (this.take(","));
    if (!this.take("]")) this.fail(said('expected a comma or "]", found {}', this.found()));
    return values;
  }

  private string(): string {
    this.at++;
    let value = "";
    for (;;) {
      const character = this.text[this.at];
      if (character === undefined) this.fail(said("a text in quotes is not closed"));
      if (character < " ") this.fail(said("a text in quotes runs over the end of its line"));
      this.at++;
      if (character === '"') return value;
      value += character === "\\" ? this.escape() : character;
    }
  }

  private escape(): string {
    const letter = this.text[this.at] ?? "";
    if (letter === "u") {
      const digits = this.text.slice(this.at + 1, this.at + 5);
      if (!/^[\da-f]{4}$/i.test(digits))
        this.fail(said("expected four hexadecimal digits after \\u"));
      this.at += 5;
      return String.fromCharCode(Number.parseInt(digits, 16));
    }
    const meant = SIMPLE_ESCAPES[letter];
    if (meant === undefined) this.fail(said('"\\{}" is not allowed in a text', letter));
    this.at++;
    return meant;
  }

  private number(): number {
    const pattern = /-?(0|[1-9]\d*)(\.\d+)?(e[+-]?\d+)?/iy;
    pattern.lastIndex = this.at;
    const digits = pattern.exec(this.text)?.[0];
    if (digits === undefined) this.fail(said("expected a value, found {}", this.found()));
    const value = Number(digits);
    if (!Number.isFinite(value)) this.fail(said("the number {} is too large", digits));
    this.at += digits.length;
    return value;
  }

  private skipBlanks(): void {
    while (/[ \t\r\n]/.test(this.text[this.at] ?? "x")) this.at++;
  }

  private take(mark: string): boolean {
    if (this.text[this.at] !== mark) return false;
    this.at++;
    return true;
  }

  private found(): Said | string {
    const word = /[^\s,:[\]{}"]+|./uy;
    word.lastIndex = this.at;
    const text = word.exec(this.text)?.[0];
    return text === undefined ? said("the end") : JSON.stringify(text.slice(0, 20));
  }

  private fail(what: Said): never {
    const before = this.text.slice(0, this.at).split(/\r\n|\r|\n/);
    const column = (before[before.length - 1] as string).length + 1;
    throw new BobweightError(
      "FILE_NOT_JSON",
      said("{}, line {}, column {}: {}.", this.name, before.length, column, what),
    );
  }
}
