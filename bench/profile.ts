// Where the processor's time goes in a profile, part by part of the program, as numbers and as a picture. Pure.
import type { Profiler } from "node:inspector";

export interface Part {
  readonly name: string;
  /** Of all samples in which the program was at work. */
  readonly share: number;
}

/** The first that a script's address has in it. */
const PARTS: readonly (readonly [name: string, folders: readonly string[]])[] = [
  ["stand-in rig", ["/node/sim/", "server/link/standInPort"]],
  ["lines read", ["/core/codec/"]],
  ["turns, angles and readings", ["/core/angles/", "/core/turns", "/core/uncertainty/"]],
  ["findings", ["/core/findings/"]],
  ["mechanism fitted", ["/core/fit/", "/core/mechanism/", "/ml-levenberg-marquardt/"]],
  ["run, link and clock", ["/node/server/"]],
  ["the rest of the program", ["/node/core/", "/node/bench/", "/node/accuracy/"]],
];
const COLLECTOR = "collecting garbage";
const OUTSIDE = "Node and its libraries";

function partOf({ functionName, url }: Profiler.ProfileNode["callFrame"]): string | null {
  if (functionName === "(idle)") return null;
  if (functionName === "(garbage collector)") return COLLECTOR;
  return (
    PARTS.find(([, folders]) => folders.some((folder) => url.includes(folder)))?.[0] ?? OUTSIDE
  );
}

/** The largest first; they sum to 1. What was waited for does not count. */
export function partsOf({ nodes, samples = [], timeDeltas = [] }: Profiler.Profile): Part[] {
  const names = new Map(nodes.map(({ id, callFrame }) => [id, partOf(callFrame)]));
  const spentUs = new Map<string, number>();
  let allUs = 0;
  samples.forEach((id, i) => {
    const name = names.get(id) ?? null;
    if (name === null) return;
    const us = timeDeltas[i] ?? 0;
    spentUs.set(name, (spentUs.get(name) ?? 0) + us);
    allUs += us;
  });
  return [...spentUs]
    .map(([name, us]) => ({ name, share: us / allUs }))
    .sort((one, other) => other.share - one.share);
}

export interface Profiled {
  readonly what: string;
  readonly parts: readonly Part[];
}

const WIDTH = 760;
const NAME_WIDTH = 220;
const FIGURE_WIDTH = 60;
const ROW = 24;
const TITLE = 40;

/** One block of bars for each; the numbers stand beside the bars. */
export function pictureOf(all: readonly Profiled[]): string {
  const rows: string[] = [];
  const longest = Math.max(...all.flatMap(({ parts }) => parts.map(({ share }) => share)));
  let y = 0;
  for (const { what, parts } of all) {
    rows.push(`<text x="0" y="${y + 26}" font-weight="bold">${what}</text>`);
    y += TITLE;
    for (const { name, share } of parts) {
      const width = ((WIDTH - NAME_WIDTH - FIGURE_WIDTH) * share) / longest;
      rows.push(
        `<text x="0" y="${y + 16}">${name}</text>`,
        `<rect x="${NAME_WIDTH}" y="${y + 4}" width="${width.toFixed(1)}" height="${ROW - 8}" fill="#3a5a78"/>`,
        `<text x="${(NAME_WIDTH + width + 6).toFixed(1)}" y="${y + 16}">${percent(share)}</text>`,
      );
      y += ROW;
    }
  }
  const size = `width="${WIDTH}" height="${y + 8}" viewBox="0 0 ${WIDTH} ${y + 8}"`;
  const title = `Where the time goes: ${all.map(({ what }) => what).join("; ")}`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" ${size} font-family="sans-serif" font-size="13" fill="#1b2733" role="img" aria-label="${title}">`,
    '<rect width="100%" height="100%" fill="#ffffff"/>',
    ...rows,
    "</svg>\n",
  ].join("\n");
}

/** A table in Markdown. */
export function tableOf({ what, parts }: Profiled): string {
  const rows = parts.map(({ name, share }) => `| ${name} | ${percent(share)} |`);
  return [`| ${what} | share |`, "| --- | --- |", ...rows, ""].join("\n");
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}
