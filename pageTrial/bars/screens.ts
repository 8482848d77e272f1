// Every screen and state of the page: rules of access in light and dark, words cut or over each other at three widths.
import { AxeBuilder } from "@axe-core/playwright";
import type { Page } from "playwright-core";
import { atMost, type Bar } from "../../accuracy/bar.ts";
import { DESK, onPage, opened } from "../bench.ts";
import { shoot } from "../pictures.ts";
import { STATES } from "../states.ts";
import { textTrouble } from "../textTrouble.ts";

const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
type Size = { readonly width: number; readonly height: number };
const SIZES = [DESK, { width: 390, height: 844 }, { width: 3840, height: 2160 }] as const;
/** The least that the page is made for: nothing to scroll sideways there either. */
const NARROW = { width: 320, height: 640 } as const;
/** Charts take their new size a frame or two after the window. */
const SETTLED_MS = 300;

interface Looked {
  readonly state: string;
  readonly violations: readonly string[];
  readonly troubles: readonly string[];
  readonly sideways: readonly string[];
}

async function violationsOf(page: Page, scheme: string): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page }).withTags(RULES).analyze();
  return violations.map(
    ({ id, nodes }) => `${scheme}: ${id}, ${nodes.map(({ html }) => html.slice(0, 100)).join(" ")}`,
  );
}

/** What makes the page wider than its window, in the browser; null: nothing does. */
function sidewaysOver(): string | null {
  const { scrollWidth, clientWidth } = document.documentElement;
  if (scrollWidth <= clientWidth) return null;
  const beyond = [...document.querySelectorAll("body *")].filter(
    (element) => element.getBoundingClientRect().right > clientWidth + 0.5,
  );
  const names = beyond.slice(0, 3).map(({ tagName, className }) => `${tagName}.${className}`);
  return `by ${scrollWidth - clientWidth} px, ${names.join(" ")}`;
}

async function looked(page: Page, state: string, sizes: readonly Size[]): Promise<Looked> {
  await page.evaluate(() => window.scrollTo(0, 0));
  const violations: string[] = [];
  const troubles: string[] = [];
  const sideways: string[] = [];
  for (const colorScheme of ["dark", "light"] as const) {
    await page.emulateMedia({ colorScheme });
    await page.waitForTimeout(SETTLED_MS);
    violations.push(...(await violationsOf(page, colorScheme)));
    if (colorScheme === "dark") await shoot(page, `${state}-dark`);
  }
  for (const size of sizes) {
    await page.setViewportSize(size);
    await page.waitForTimeout(SETTLED_MS);
    const found = await page.evaluate(textTrouble);
    troubles.push(...found.map((one) => `${size.width} px: ${one}`));
    const over = await page.evaluate(sidewaysOver);
    if (over !== null) sideways.push(`${size.width} px: ${over}`);
    if (size !== NARROW) await shoot(page, `${state}-${size.width}`);
  }
  await page.setViewportSize(DESK);
  return { state, violations, troubles, sideways };
}

export const screens: Bar<readonly Looked[]> = {
  name: "screens",
  counts: { short: STATES.length, long: STATES.length },
  job: (index) =>
    onPage(async (bench) => {
      const story = STATES[index];
      if (story === undefined) throw new Error(`no story ${index}`);
      const page = await opened(bench);
      page.setDefaultTimeout(120_000);
      const found: Looked[] = [];
      await story(page, bench, async (state, widths = "all") => {
        const sizes = widths === "desk" ? [DESK] : [...SIZES, NARROW];
        found.push(await looked(page, state, sizes));
      });
      return found;
    }),
  figures: (results) => {
    const all = results.flat();
    const told = (of: (one: Looked) => readonly string[]) =>
      all.flatMap((one) => of(one).map((what) => `${one.state}, ${what}`));
    const figure = (what: string, of: (one: Looked) => readonly string[]) => {
      const found = told(of);
      for (const one of found) process.stderr.write(`page: ${one}\n`);
      return atMost(what, found.length, 0, all.length, "", 0);
    };
    return [
      figure("axe, screens and states in light and dark: violations", (one) => one.violations),
      figure(
        "words cut or over each other, 1366, 390, 3840 and 320 px wide (German: 1366)",
        (one) => one.troubles,
      ),
      figure("screens to be scrolled sideways, at the same widths", (one) => one.sideways),
    ];
  },
};
