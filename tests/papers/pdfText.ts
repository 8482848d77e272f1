// Reads back what a PDF says, page by page, by its fonts' own maps from glyphs to characters.
import { inflateSync } from "node:zlib";

interface Read {
  readonly pages: readonly string[];
  /** Width and height in points. */
  readonly sizes: readonly (readonly [number, number])[];
}

export function pdfText(bytes: Uint8Array): Read {
  const file = Buffer.from(bytes).toString("latin1");
  const objects = new Map(
    [...file.matchAll(/(\d+) 0 obj\n(.*?)\nendobj/gs)].map(([, id, body]) => [id, body ?? ""]),
  );
  const object = (id: string | undefined) => objects.get(id ?? "") ?? "";
  const stream = (id: string | undefined) => {
    const body = object(id);
    const data = Buffer.from(/stream\n(.*)\nendstream/s.exec(body)?.[1] ?? "", "latin1");
    return (body.includes("FlateDecode") ? inflateSync(data) : data).toString("latin1");
  };
  const fonts = new Map(
    [...file.matchAll(/\/(F\d+) (\d+) 0 R/g)].map(([, name, id]) => [
      name,
      glyphs(stream(/\/ToUnicode (\d+) 0 R/.exec(object(id))?.[1])),
    ]),
  );
  const pages = [...objects.values()].filter((body) => /\/Type \/Page\b/.test(body));
  return {
    pages: pages.map((body) => said(stream(/\/Contents (\d+) 0 R/.exec(body)?.[1]), fonts)),
    sizes: pages.map((body) => {
      const box = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(body);
      return [Number(box?.[1]), Number(box?.[2])];
    }),
  };
}

type Glyphs = ReadonlyMap<number, string>;

/** pdfkit writes ranges with all their characters listed. */
function glyphs(map: string): Glyphs {
  const all = new Map<number, string>();
  for (const [, first, list] of map.matchAll(/<(\w+)> <\w+> \[(.*?)\]/gs)) {
    [...(list ?? "").matchAll(/<([\w ]+)>/g)].forEach(([, hex], i) => {
      const units = ((hex ?? "").replaceAll(" ", "").match(/.{4}/g) ?? []).map((one) =>
        Number.parseInt(one, 16),
      );
      all.set(Number.parseInt(first ?? "", 16) + i, String.fromCharCode(...units));
    });
  }
  return all;
}

function said(content: string, fonts: ReadonlyMap<string | undefined, Glyphs>): string {
  let font: Glyphs = new Map();
  let text = "";
  for (const [, name, shown] of content.matchAll(/\/(F\d+) [\d.]+ Tf|\[([^\]]*)\] TJ/g)) {
    if (name !== undefined) font = fonts.get(name) ?? new Map();
    const hex = [...(shown ?? "").matchAll(/<(\w+)>/g)].map(([, one]) => one).join("");
    const ids = (hex.match(/.{4}/g) ?? []).map((one) => Number.parseInt(one, 16));
    if (shown !== undefined) text += `${ids.map((id) => font.get(id) ?? "?").join("")}\n`;
  }
  return text;
}
