// The sheet's look: black on white, told apart by line, marker and weight, never by colour.
import { SPEECHES } from "../speech/languages.ts";
import type { Paper, Sheet } from "./model.ts";
import { LETTERHEAD, MARGINS_MM, TAG_SIZE, textWidthMm } from "./paper.ts";

/** As CSS names them. */
const PAPER_CSS: Readonly<Record<Paper, string>> = { a4: "A4 portrait", letter: "letter portrait" };

/** As CSS has them between the words of a text. */
const COUNTER = '" counter(page) "';
const COUNTERS = '" counter(pages) "';

/** Depends on paper and language alone, so that a server can allow exactly this text by its hash. */
export function sheetStyle({ paper, language }: Pick<Sheet, "paper" | "language">): string {
  const { page } = SPEECHES[language].verdicts.foot;
  const { top, side, bottom } = MARGINS_MM;
  return `
@page { size: ${PAPER_CSS[paper]}; margin: ${top}mm ${side}mm ${bottom}mm; @bottom-right { content: "${page(COUNTER, COUNTERS)}"; font: 7.5pt sans-serif; } }
* { box-sizing: border-box; }
html { background: #fff; color: #000; font: 8.5pt/1.3 "Liberation Sans", Arial, Helvetica, "DejaVu Sans Condensed", sans-serif; }
body { margin: 0 auto; width: ${textWidthMm(paper)}mm; max-width: 100%; }
.sheet { display: table; width: 100%; }
.small, .smallest { font-size: 7.5pt; }
:is(.small, .smallest) table { font-size: 7.2pt; }
:is(.small, .smallest) .verdict strong { font-size: 12pt; }
:is(.small, .smallest) .banner strong { font-size: 10pt; }
.smallest { zoom: 0.8; }
main { display: table-row-group; }
footer { display: table-footer-group; break-inside: avoid; font-size: 7.5pt; }
.letterhead { display: flex; gap: 4mm; align-items: center; margin-bottom: 1.5mm; }
.letterhead img { max-height: ${LETTERHEAD.logoHeightMm}mm; max-width: ${LETTERHEAD.logoWidthMm}mm; }
.letterhead p { margin: 0; }
header { display: flex; justify-content: space-between; align-items: baseline; border-bottom: 0.6mm solid #000; padding-bottom: 0.8mm; }
h1 { font-size: 15pt; line-height: 1.15; margin: 0; }
h2 { font-size: 9pt; margin: 1.6mm 0 0.3mm; break-after: avoid; }
p, ul, ol { margin: 0.4mm 0; }
ul, ol { padding-left: 4.5mm; }
.banner { border: 0.4mm solid #000; border-left-width: 4mm; padding: 0.7mm 2.5mm; margin-top: 1.4mm; }
.banner strong { font-size: 12pt; letter-spacing: 0.02em; margin-right: 2mm; }
.verdict { margin: 1.8mm 0; padding: 1.2mm 2.5mm; border: 0.4mm solid #000; }
.verdict-within { border-width: 0.8mm; }
.verdict-unproven { border: 0.8mm dashed #000; }
.verdict-outside { border: 1.4mm double #000; }
.verdict strong { display: block; font-size: 14pt; line-height: 1.2; }
dl { display: grid; grid-template-columns: repeat(2, max-content 1fr); gap: 0.2mm 2mm; margin: 1mm 0; }
dt.long { grid-column: 1; }
dd.long { grid-column: 2 / -1; }
dt { font-weight: bold; }
dd { margin: 0; overflow-wrap: anywhere; min-width: 0; }
.pictures { display: flex; flex-wrap: wrap; gap: 1.4mm 4mm; }
figure { margin: 0; break-inside: avoid; flex: 1 1 100%; min-width: 0; }
figure.broad { flex: 0 0 calc((100% - 4mm) * 0.67); }
figure.narrow { flex: 0 0 calc((100% - 4mm) * 0.33); }
figcaption, caption { font-weight: bold; text-align: left; overflow-wrap: anywhere; }
svg { display: block; width: 100%; height: auto; }
svg text { font: 10px "Liberation Sans", Arial, Helvetica, "DejaVu Sans Condensed", sans-serif; fill: #000; }
svg text.flag { font-weight: bold; paint-order: stroke; stroke: #fff; stroke-width: 3px; }
.key { display: flex; flex-wrap: wrap; gap: 0 6mm; align-items: center; }
.key svg { display: inline-block; width: 12mm; height: 3.2mm; vertical-align: middle; margin-right: 1.2mm; }
.tables { display: flex; gap: 5mm; break-inside: avoid; }
table { border-collapse: collapse; width: 100%; margin: 1.4mm 0 0.6mm; font-variant-numeric: tabular-nums; font-size: 8pt; line-height: 1.15; }
caption { padding-bottom: 0.5mm; }
td:first-child { white-space: nowrap; }
th { border-bottom: 0.25mm solid #000; font-weight: normal; font-style: italic; }
th[scope=colgroup] { border-bottom: 0; }
th, td { padding: 0.2mm 1.2mm; text-align: left; vertical-align: top; overflow-wrap: anywhere; }
th { overflow-wrap: break-word; }
td.right { overflow-wrap: normal; }
.right { text-align: right; }
td { border-bottom: 0.1mm solid #999; }
tr { break-inside: avoid; }
tr.strong { font-weight: bold; }
.tag { width: ${TAG_SIZE.widthMm}mm; height: ${TAG_SIZE.heightMm}mm; padding: 3mm 4mm; border: 0.3mm dashed #000; display: flex; flex-direction: column; overflow: hidden; }
.tag .workshop { margin: 0 0 0.5mm; font-size: 7.5pt; white-space: nowrap; overflow: hidden; text-overflow: ellipsis; }
.tag .top { display: flex; justify-content: space-between; align-items: baseline; gap: 3mm; }
.tag .top strong { font-size: 13pt; }
.tag .warning, .tag .note { font-weight: bold; }
.tag .verdict { margin: 1mm 0; padding: 0.4mm 2.5mm; }
.tag dl { grid-template-columns: max-content 1fr; }
.tag dt { grid-column: 1; }
.tag .note { margin-top: auto; }
@media print { td:not(:nth-child(2)) { white-space: nowrap; } }
@media screen { body { padding: 8mm 4mm; } }
`;
}
