// Good input turned hostile, by lot: wrong values, wrong shapes, wrong bytes.
import type { Draw } from "../../accuracy/draw.ts";

function picked<T>(draw: Draw, from: readonly T[]): T {
  return from[draw.whole(0, from.length - 1)] as T;
}

const DEEP = 50_000;
const LONG = 30_000;
/** Changes are made within a piece of so many characters, wherever in the text. */
const PIECE = 2000;

/** As they stand in JSON, whether JSON knows them or not. */
const VALUES: readonly string[] = [
  ...["null", "true", "0", "-0", "-1", "1e999", "-1e999", "1e-999", "NaN", "Infinity", "-Infinity"],
  ...["9007199254740993", "0.1e", "01", "+1", ".5", "0x10", "1_000", "½", "undefined"],
  ...['""', '"\\u0000"', '"\\ud800"', '"\\udfff\\ud800"', '"__proto__"', '"constructor"', '"-0"'],
  ...[
    '"<script>alert(1)</script>"',
    '"../../etc/passwd"',
    '"1,5"',
    '"٣"',
    '"１"',
    '"\u202e"',
    '"NaN"',
  ],
  ...["[]", "{}", "[[]]", '{"__proto__":{"x":1}}', '{"constructor":1}', '{"length":1e9}'],
  ...['"kPa"', '"inHg"', '"mmHg"', '"crankshaft"', '"distributor"', '"cw"', '"9 at 9 at 9"'],
];

function value(draw: Draw): string {
  if (draw.chance(0.02)) return `"${"9".repeat(LONG)}"`;
  if (draw.chance(0.02)) return `${"[".repeat(DEEP)}${"]".repeat(DEEP)}`;
  if (draw.chance(0.02)) return "9".repeat(draw.whole(20, 5000));
  if (draw.chance(0.02)) return `[${Array.from({ length: 20_000 }, () => "0").join(",")}]`;
  return picked(draw, VALUES);
}

type Change = (draw: Draw, text: string) => string;

const replaced = (text: string, from: number, to: number, by: string) =>
  text.slice(0, from) + by + text.slice(to);

/** One of the places where the pattern stands; null: it stands nowhere. */
function place(draw: Draw, text: string, pattern: RegExp): { from: number; to: number } | null {
  const start = draw.whole(0, Math.max(0, text.length - PIECE));
  const all = [...text.slice(start, start + PIECE).matchAll(pattern)];
  const match = all[draw.whole(0, Math.max(0, all.length - 1))];
  if (match === undefined) return null;
  return { from: start + match.index, to: start + match.index + match[0].length };
}

const at =
  (pattern: RegExp, by: (draw: Draw, was: string) => string): Change =>
  (draw, text) => {
    const found = place(draw, text, pattern);
    if (found === null) return text;
    const { from, to } = found;
    return replaced(text, from, to, by(draw, text.slice(from, to)));
  };

const NUMBER = /-?\d+(?:\.\d+)?/g;
const JSON_VALUE =
  /(?<=[:[,]\s*)(?:"(?:[^"\\]|\\.)*"|-?\d[\d.eE+-]*|true|false|null|\{[^{}]*\}|\[[^[\]]*\])/g;
const KEY = /"(?:[^"\\]|\\.)*"\s*:/g;
const FIELD = /,?\s*"(?:[^"\\]|\\.)*"\s*:\s*(?:"(?:[^"\\]|\\.)*"|-?\d[\d.]*|true|false|null)/g;
const LINE = /[^\n]*\n/g;
const UNIT = /\b(?:kPa|inHg|mmHg|mbar|rpm|deg|mm|N|distributor|crankshaft|dist|crank)\b/g;
const SIGNS = [
  "\u0000",
  "\ud800",
  "\ufeff",
  "\u2028",
  "\u00ff",
  "\r",
  "\n",
  "\t",
  ",",
  ";",
  '"',
  "'",
  "\\",
  "{",
  "}",
  "*",
  "-",
  "e",
  ".",
];

const CHANGES: readonly Change[] = [
  at(JSON_VALUE, (draw) => value(draw)),
  at(JSON_VALUE, (draw) => value(draw)),
  at(NUMBER, (draw) => value(draw)),
  at(NUMBER, (draw) => String(draw.normal(1) * 10 ** draw.whole(-9, 18))),
  at(NUMBER, (_, was) => was.replace(".", ",")),
  // The same key once more, in the same object.
  at(FIELD, (_, was) => `${was}${was.startsWith(",") ? "" : ","}${was}`),
  at(FIELD, () => ""),
  at(KEY, (draw, was) =>
    draw.chance(0.5) ? `"${picked(draw, ["__proto__", "x", "", "toString"])}":` : was.toUpperCase(),
  ),
  at(LINE, (_, was) => was.repeat(2)),
  at(LINE, () => ""),
  at(UNIT, (draw) =>
    picked(draw, ["kPa", "inHg", "mmHg", "bar", "psi", "rpm", "rad", "furlong", "crankshaft", ""]),
  ),
  (draw, text) => text.slice(0, draw.whole(0, text.length)),
  (draw, text) => text.slice(draw.whole(0, text.length)),
  (draw, text) => {
    const from = draw.whole(0, text.length);
    return replaced(
      text,
      from,
      from + draw.whole(0, 3),
      picked(draw, SIGNS).repeat(draw.whole(1, 3)),
    );
  },
  (draw, text) =>
    picked(draw, ["\ufeff", "\ufffe", "\u0000", "{", "[", '"', "#", " ".repeat(10_000)]) + text,
  (draw, text) => text + picked(draw, ["\u0000", "}", "]", text, "\ufeff", ",", "\n\n\n"]),
  // Bytes of one encoding read as another.
  (_, text) => Buffer.from(text, "utf16le").toString("latin1"),
  (_, text) => Buffer.from(text, "utf8").toString("latin1"),
  (_, text) => Buffer.from(text, "latin1").toString("utf8"),
  (_, text) => text.replaceAll("\n", "\r"),
  (draw) => value(draw),
];

/** One change or a few. */
export function mangled(draw: Draw, text: string): string {
  let changed = text;
  const times = draw.whole(1, 4);
  for (let i = 0; i < times; i++) changed = picked(draw, CHANGES)(draw, changed);
  return changed;
}

/** As bytes: bits flipped, pieces gone, doubled or moved. */
export function mangledBytes(draw: Draw, bytes: Uint8Array): Buffer {
  const changed = Buffer.from(bytes);
  const times = draw.whole(1, 8);
  for (let i = 0; i < times && changed.length > 0; i++) {
    changed[draw.whole(0, changed.length - 1)] = draw.whole(0, 255);
  }
  const [from, to] = [draw.whole(0, changed.length), draw.whole(0, changed.length)];
  if (draw.chance(0.2)) return changed.subarray(0, from);
  if (draw.chance(0.2)) return Buffer.concat([changed.subarray(0, from), changed.subarray(to)]);
  return changed;
}

/** One dot: a good picture, for whoever takes one. */
export const PNG = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==",
  "base64",
);
