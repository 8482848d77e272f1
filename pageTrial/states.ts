// Stories that lead through every screen and state of the page, each on a page of its own.
import { copyFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Page } from "playwright-core";
import type { PageBench } from "./bench.ts";

const EXAMPLES = fileURLToPath(new URL("../../../examples/", import.meta.url));

/** Called in each state, with its name. `desk`: at the desk's width alone. */
export type Look = (state: string, widths?: "all" | "desk") => Promise<void>;
export type Story = (page: Page, bench: PageBench, look: Look) => Promise<void>;

export async function startRun(page: Page, pace: string): Promise<void> {
  await page.locator("#pace").selectOption(pace);
  await page.getByTestId("cautions-read").check();
  await page.getByTestId("start-measuring").click();
}

/** The engine figures of the record in sight, with a reading that agrees and one that does not. */
async function openEngine(page: Page): Promise<void> {
  await page.getByTestId("engine").click();
  await page.getByTestId("engine-marks").waitFor();
  for (const [i, [rpm, mark]] of [
    ["600", "8"],
    ["2400", "45"],
  ].entries()) {
    await page.getByTestId("engine-add").click();
    await page.locator(`#engine-rpm-${i}`).fill(rpm as string);
    await page.locator(`#engine-mark-${i}`).fill(mark as string);
  }
  await page.getByTestId("engine-compared").waitFor();
}

/** Before anything was done, and what is typed before a run. */
const before: Story = async (page, _, look) => {
  await look("start");
  await page.getByTestId("unit").selectOption("two-set-eight");
  await page.getByText("Change the plan").click();
  await page.locator("#speeds").fill("fast");
  await look("start-contacts-and-plan");
  await page.locator("#speeds").fill("");
  await page.getByTestId("unit").selectOption("everyday");
  await page.getByTestId("by-hand").click();
  await page.getByTestId("by-hand-readings").fill("800 x");
  await look("by-hand");
  await page
    .locator("input[type=file]")
    .first()
    .setInputFiles({
      name: "broken.unit.json",
      mimeType: "application/json",
      buffer: Buffer.from('{"lobes": "four"}'),
    });
  await page.getByRole("alert").waitFor();
  await look("refused");
};

/** A job's card, and a list of jobs. */
const card: Story = async (page, _, look) => {
  await page.getByTestId("new-job").click();
  await page.getByTestId("card-owner").fill("A. Example (invented)");
  await page
    .getByTestId("card-vehicle")
    .fill("Invented saloon with a name that is far too long for a line");
  await page.getByTestId("card-gapSetMm").fill("wide");
  await page.getByTestId("keep-card").click();
  await look("card-mistake");
  await page.getByTestId("card-gapSetMm").fill("0.4");
  await page.getByTestId("keep-card").click();
  await look("card-kept");
  await page.getByTestId("card-to-rig").click();
  await look("job-at-rig");
  await page.getByTestId("close-job").click();
  await page.getByTestId("jobs").waitFor();
  await look("jobs");
};

/** The invented job with its hints: a run with a fault, watched in every way, and the change after it. */
const faulty: Story = async (page, _, look) => {
  await page.getByTestId("try-invented").click();
  await page.getByTestId("hint-card").waitFor();
  await look("guided-card");
  await page.getByTestId("way-rig").click();
  await page.getByTestId("cautions-read").check();
  await page.getByTestId("hint-start").waitFor();
  await look("guided-start");
  await page.getByTestId("cautions-read").uncheck();
  // At the pace of life it is still there when it has been looked at.
  await startRun(page, "1");
  await page.getByText("Vacuum sweep, rising").first().waitFor({ timeout: 300_000 });
  await page.getByTestId("freeze").click();
  await look("running-frozen");
  await page.getByTestId("large").click();
  await look("running-large-frozen");
  await page.getByTestId("large").click();
  await page.getByTestId("freeze").click();
  await look("running");
  await page.getByTestId("stop-motor").click();
  await page.getByTestId("again").click();
  await startRun(page, "25");
  await page.getByTestId("verdict").waitFor({ timeout: 300_000 });
  await look("outside");
  await page.getByTestId("close-hints").first().click();
  await page.locator("summary", { hasText: "How sure is a reading?" }).click();
  await look("budget");
  await openEngine(page);
  await look("engine");
  await page.getByTestId("engine-initial").fill("");
  await look("engine-mistake");
  await page.getByTestId("engine").click();
  await page.getByTestId("keep-drawer").setInputFiles(join(EXAMPLES, "invented.springs.csv"));
  await page.getByTestId("first-spring").selectOption("invented found 41");
  await page.getByTestId("second-spring").selectOption("invented found 43");
  await page.getByTestId("work-out").click();
  await page.getByTestId("advice").waitFor();
  await page.getByTestId("advice").locator("summary").first().click();
  await look("advice");
  await page.getByTestId("changed").click();
  await look("measure-again");
  await page.getByTestId("scenario").selectOption("healthy");
  await startRun(page, "25");
  await page.getByTestId("earlier").waitFor({ timeout: 300_000 });
  await look("within-after-change");
  await page.getByTestId("place-records").click();
  await look("records");
};

/** Stopped, and what is said where the program is gone. */
const stopped: Story = async (page, { program }, look) => {
  await startRun(page, "10");
  await page.getByText("Taking the reference").first().waitFor();
  await page.getByTestId("stop-motor").click();
  await page.getByText("Stopped. The motor is off.").waitFor();
  await look("stopped");
  await page.getByTestId("again").click();
  await startRun(page, "10");
  await page.getByText("Testing whether the capsule holds vacuum").first().waitFor();
  program.kill("SIGKILL");
  await page.getByText("Page not connected").waitFor();
  await page.getByTestId("stop-motor").click();
  await look("not-connected");
};

/** A target of the user's own, warned of. */
const ownTarget: Story = async (page, { data }, look) => {
  const file = join(data, "own.unit.json");
  const speed = {
    ownTarget: true,
    source: "my own",
    lines: "0 dist at 300 dist rpm, 8 dist at 700 dist rpm, max 10 dist by 900 dist rpm",
  };
  const unit = { description: "Own target", lobes: 4, rotation: "cw", speed };
  writeFileSync(file, JSON.stringify(unit));
  await page.locator("input[type=file]").first().setInputFiles(file);
  await page.getByText("Wrong advance can destroy an engine").waitFor();
  await look("own-target");
};

/** Places that need no run, as they are with nothing on file. */
const places: Story = async (page, _, look) => {
  for (const link of await page.locator("nav.places a").all()) {
    await link.click();
    await page.waitForTimeout(1000);
    await look(`place-${await page.evaluate(() => location.hash.replace(/[^a-z]/g, ""))}`);
  }
};

/** Unit files that lie in the data folder: one that is looked at, one that cannot be read. */
const folder: Story = async (page, { data }, look) => {
  copyFileSync(join(EXAMPLES, "everyday.unit.json"), join(data, "a-file.unit.json"));
  writeFileSync(join(data, "broken.unit.json"), '{"lobes": "four"}');
  await page.getByTestId("place-units").click();
  await page.getByText("file in the data folder: a-file.unit.json").click();
  await page.getByTestId("unit-look").waitFor();
  await look("unit-in-folder");
};

/** The main screens in German, with speed and advance at the crankshaft. */
const german: Story = async (page, bench, look) => {
  const seen = (state: string) => look(`de-${state}`, "desk");
  await bench.command("settings", "--set", "language=de", "--set", "shownShaft=crankshaft");
  await page.reload();
  await page.getByTestId("unit").locator("option").first().waitFor({ state: "attached" });
  await seen("start");
  await page.getByTestId("by-hand").click();
  await seen("by-hand");
  await page.getByTestId("new-job").click();
  await seen("card");
  await page.getByTestId("card-to-rig").click();
  await page.getByTestId("scenario").selectOption("light-spring");
  await startRun(page, "25");
  await page.getByText("Drehzahl wird durchfahren").first().waitFor({ timeout: 300_000 });
  await page.getByTestId("freeze").click();
  await seen("running-frozen");
  await page.getByTestId("verdict").waitFor({ timeout: 300_000 });
  await seen("outside");
  for (const summary of await page.locator("figure summary").all()) await summary.click();
  await seen("numbers");
  await openEngine(page);
  await seen("engine");
  await page.getByTestId("place-records").click();
  await page.getByTestId("look-into").first().click();
  await seen("records");
  await page.getByTestId("place-units").click();
  await page.getByTestId("units").getByRole("button").first().click();
  await seen("units");
  for (const place of ["settings", "help"]) {
    await page.getByTestId(`place-${place}`).click();
    await page.waitForTimeout(1000);
    await seen(place);
  }
};

export const STATES: readonly Story[] = [
  faulty,
  german,
  before,
  card,
  stopped,
  ownTarget,
  places,
  folder,
];
