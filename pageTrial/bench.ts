// A browser on the page of a program of its own, with an empty data folder; all of it ends with the job.
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";

const PROGRAM = fileURLToPath(new URL("../../../bin/bobweight.js", import.meta.url));
/** Keeps the browser from asking the network for anything of its own. */
const BROWSER = [
  "--no-sandbox",
  "--disable-gpu",
  "--no-first-run",
  "--disable-background-networking",
];
export const DESK = { width: 1366, height: 768 } as const;

export interface PageBench {
  readonly url: string;
  readonly data: string;
  readonly browser: Browser;
  /** The program that serves the page. */
  readonly program: ChildProcess;
  /** Standard output of a command on this page's data folder. @throws where it ends with another status than 0 or 1 */
  command(...args: readonly string[]): Promise<Buffer>;
}

/** @throws where there is no browser, or what `work` throws */
export async function onPage<Result>(work: (bench: PageBench) => Promise<Result>): Promise<Result> {
  const executablePath = process.env.CHROME_PATH;
  if (executablePath === undefined) throw new Error("CHROME_PATH names no browser.");
  const data = mkdtempSync(join(tmpdir(), "bobweight-page-"));
  const program = spawn(process.execPath, [PROGRAM, "serve", "--port", "0", "--data", data], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  const browser = await chromium.launch({ executablePath, args: BROWSER });
  try {
    const [url] = (await once(createInterface(program.stdout), "line")) as [string];
    return await work({ url, data, browser, program, command: (...args) => command(data, args) });
  } finally {
    await browser.close();
    program.kill("SIGTERM");
    if (program.exitCode === null && program.signalCode === null) await once(program, "exit");
    rmSync(data, { recursive: true, force: true });
  }
}

/** A fresh window on the page, its choices loaded. */
export async function opened(
  { browser, url }: PageBench,
  options: BrowserContextOptions = {},
): Promise<Page> {
  const context = await browser.newContext({ viewport: DESK, ...options });
  const page = await context.newPage();
  await page.goto(url);
  await page.getByTestId("unit").locator("option").first().waitFor({ state: "attached" });
  return page;
}

async function command(data: string, args: readonly string[]): Promise<Buffer> {
  const child = spawn(process.execPath, [PROGRAM, ...args, "--data", data], {
    stdio: ["ignore", "pipe", "pipe"],
  });
  const out: Buffer[] = [];
  let err = "";
  child.stdout.on("data", (chunk: Buffer) => out.push(chunk));
  child.stderr.on("data", (chunk: Buffer) => {
    err += String(chunk);
  });
  const [status] = await once(child, "close");
  if (status !== 0 && status !== 1) throw new Error(`bobweight ${args.join(" ")}: ${err}`);
  return Buffer.concat(out);
}
