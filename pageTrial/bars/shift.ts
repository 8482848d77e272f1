// A unit on the clamp until its sheet is printed, the stand-in rig at the pace of life.
import { atMost, type Bar } from "../../accuracy/bar.ts";
import { onPage, opened } from "../bench.ts";

const LIMIT_MIN = 10;
const RUN_MS = 20 * 60_000;

interface Shift {
  readonly minutes: number;
  readonly sheetBytes: number;
}

export const shift: Bar<Shift> = {
  name: "shift",
  counts: { short: 1, long: 1 },
  alone: true,
  job: () =>
    onPage(async (bench) => {
      const page = await opened(bench);
      const beganMs = performance.now();
      await page.locator("#pace").selectOption("1");
      await page.getByTestId("cautions-read").check();
      await page.getByTestId("start-measuring").click();
      await page.getByTestId("verdict").waitFor({ timeout: RUN_MS });
      const [sheet] = await Promise.all([
        page.context().waitForEvent("page"),
        page.getByTestId("open-owner").click(),
      ]);
      await sheet.waitForLoadState();
      const printed = await sheet.pdf({ preferCSSPageSize: true });
      return { minutes: (performance.now() - beganMs) / 60_000, sheetBytes: printed.length };
    }),
  figures: ([one]) =>
    one === undefined || one.sheetBytes === 0
      ? []
      : [
          atMost(
            "clamp to printed sheet, default plan, at the pace of life",
            one.minutes,
            LIMIT_MIN,
            1,
            " min",
            1,
          ),
        ],
};
