// Prints a sheet as one self-contained HTML document: no scripts, no outside files. Pure.

import { SPEECHES } from "../speech/languages.ts";
import type { Speech } from "../speech/speech.ts";
import { keyItems, SAMPLE_HEIGHT, SAMPLE_WIDTH } from "./key.ts";
import { escaped } from "./markup.ts";
import type { Block, Fact, Letterhead, Picture, Sheet, Table, Tag } from "./model.ts";
import { sheetStyle } from "./style.ts";
import { pictureSvg, shapesSvg } from "./svg.ts";

export function sheetHtml(sheet: Sheet): string {
  return `<!doctype html>
<html lang="${sheet.language}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'${hasLogo(sheet) ? "; img-src data:" : ""}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(sheet.title)}</title>
<style>${sheetStyle(sheet)}</style>
</head>
<body>
<div class="sheet ${sheet.print}">
<main>
${sheet.blocks.map((block) => blockHtml(block, SPEECHES[sheet.language])).join("\n")}
</main>
<footer>${escaped(sheet.foot)}</footer>
</div>
</body>
</html>
`;
}

/** Then the document has a picture in it, which a server has to allow. */
export function hasLogo({ blocks }: Sheet): boolean {
  return blocks.some((block) => block.kind === "letterhead" && block.logo !== null);
}

function letterheadHtml({ name, lines, logo }: Letterhead): string {
  const picture =
    logo === null ? "" : `<img alt="" src="data:${logo.type};base64,${escaped(logo.base64)}">`;
  const text = [name === "" ? "" : `<strong>${escaped(name)}</strong>`, ...lines.map(escaped)];
  return `<div class="letterhead">${picture}<p>${text.filter((one) => one !== "").join("<br>")}</p></div>`;
}

function blockHtml(block: Block, say: Speech): string {
  switch (block.kind) {
    case "letterhead":
      return letterheadHtml(block);
    case "title":
      return `<header><h1>${escaped(block.text)}</h1><span>${escaped(block.aside)}</span></header>`;
    case "heading":
      return `<h2>${escaped(block.text)}</h2>`;
    case "banner":
      return `<div class="banner"><strong>${escaped(block.text)}</strong> ${escaped(block.detail)}</div>`;
    case "verdict":
      return `<div class="verdict verdict-${block.verdict ?? "none"}"><strong>${escaped(block.text)}</strong>${paragraph(block.details.join(" "))}</div>`;
    case "facts":
      return factsHtml(block.facts);
    case "pictures":
      return `<div class="pictures">${block.pictures.map(pictureHtml).join("")}</div>`;
    case "key":
      return keyHtml(block, say);
    case "tables":
      return `<div class="tables">${block.tables.map(tableHtml).join("")}</div>`;
    case "paragraph":
      return paragraph(block.text);
    case "list":
      return `<ul>${listItems(block.items)}</ul>`;
    case "numbered list":
      return `<ol>${listItems(block.items)}</ol>`;
    case "tag":
      return tagHtml(block);
  }
}

function tagHtml({ workshop, title, aside, warning, verdict, text, facts, note }: Tag): string {
  const warned = warning === "" ? "" : `<p class="warning">${escaped(warning)}</p>`;
  const whose = workshop === "" ? "" : `<p class="workshop">${escaped(workshop)}</p>`;
  return `<section class="tag">${whose}<div class="top"><strong>${escaped(title)}</strong><span>${escaped(aside)}</span></div>${warned}<div class="verdict verdict-${verdict ?? "none"}"><strong>${escaped(text)}</strong></div>${factsHtml(facts)}<p class="note">${escaped(note)}</p></section>`;
}

function listItems(items: readonly string[]): string {
  return items.map((item) => `<li>${escaped(item)}</li>`).join("");
}

function paragraph(text: string): string {
  return `<p>${escaped(text)}</p>`;
}

/** Longer values than this get the whole line. */
const SHORT_VALUE = 55;

function factsHtml(facts: readonly Fact[]): string {
  const items = facts.map(({ label, value }) => {
    const long = value.length > SHORT_VALUE ? ' class="long"' : "";
    return `<dt${long}>${escaped(label)}</dt><dd${long}>${escaped(value)}</dd>`;
  });
  return `<dl>${items.join("")}</dl>`;
}

function pictureHtml(picture: Picture): string {
  return `<figure class="${picture.width}"><figcaption>${escaped(picture.title)}</figcaption>${pictureSvg(picture)}</figure>`;
}

function keyHtml(key: Extract<Block, { kind: "key" }>, say: Speech): string {
  const items = keyItems(key, say).map(
    ({ sample, text }) =>
      `<span><svg viewBox="0 0 ${SAMPLE_WIDTH} ${SAMPLE_HEIGHT}" aria-hidden="true">${shapesSvg(sample)}</svg>${text}</span>`,
  );
  return `<div class="key">${items.join("")}</div>`;
}

function tableHtml({ caption, groups, columns, rows }: Table): string {
  const groupRow =
    groups.length === 0
      ? ""
      : `<tr>${groups.map(({ text, columns }) => `<th scope="colgroup" colspan="${columns}">${escaped(text)}</th>`).join("")}</tr>`;
  const alignment = (column: number) =>
    columns[column]?.align === "right" ? ' class="right"' : "";
  const heads = columns.map(
    ({ head }, i) => `<th scope="col"${alignment(i)}>${escaped(head)}</th>`,
  );
  const body = rows.map(
    ({ cells, strong }) =>
      `<tr${strong ? ' class="strong"' : ""}>${cells.map((cell, i) => `<td${alignment(i)}>${escaped(cell)}</td>`).join("")}</tr>`,
  );
  return `<table><caption>${escaped(caption)}</caption><thead>${groupRow}<tr>${heads.join("")}</tr></thead><tbody>${body.join("")}</tbody></table>`;
}
