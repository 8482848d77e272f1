// A real browser on the real page of the built program.
import type { ChildProcess } from "node:child_process";
import { type Browser, chromium } from "playwright-core";
import { findBrowser } from "../../scripts/browser.mjs";
import { enteredBy } from "../../storm/wire/entered.ts";
import { firstLine, freshFolder, start } from "./process.ts";

/** Keeps the browser from asking the network for anything of its own. */
const QUIET = ["--disable-background-networking", "--disable-component-update", "--disable-sync"];

export async function openBrowser(): Promise<Browser> {
  const executablePath = findBrowser();
  if (executablePath === null) {
    throw new Error("No Chromium or Chrome found: install one, or set CHROME_PATH to its program.");
  }
  const args = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-quic", ...QUIET];
  return chromium.launch({ executablePath, args });
}

export interface ServedPage {
  /** Lets in whoever opens it, to which a place of the page (`#/records`) may be added. */
  readonly url: string;
  /** Headers of a request as the page itself makes it. */
  readonly headers: { readonly origin: string; readonly cookie: string };
  readonly child: ChildProcess;
}

export async function servePage(): Promise<ServedPage> {
  const child = start(["serve", "--port", "0", "--data", freshFolder()]);
  const url = await firstLine(child);
  const { origin, cookie } = await enteredBy(url);
  return { url, headers: { origin, cookie }, child };
}
