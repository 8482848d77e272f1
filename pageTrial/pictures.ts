// Where the pictures of the screens go.
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Page } from "playwright-core";

export const PICTURES = fileURLToPath(new URL("../../page-pictures/", import.meta.url));

/** The whole page, also what is below the window's edge. */
export async function shoot(page: Page, name: string): Promise<void> {
  mkdirSync(PICTURES, { recursive: true });
  await page.screenshot({ path: join(PICTURES, `${name}.png`), fullPage: true });
}
