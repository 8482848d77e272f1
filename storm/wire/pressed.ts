// A real browser on the page of a running server, in which the stop is pressed.
import { chromium } from "playwright-core";
import type { Listened } from "./listened.ts";

const ARGS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"];

export interface Onlooker {
  /**
   * Presses the stop once the page knows of the run; gives the moment at which the browser told the page
   * of it, on this thread's clock.
   */
  press(how: "click" | "keydown"): Promise<number>;
  close(): Promise<void>;
}

/** Opened before the motor turns: a browser that starts takes this thread's time, in which the rig lives. */
export async function onlooker({ origin, cookie }: Listened): Promise<Onlooker> {
  const executablePath = process.env.CHROME_PATH;
  if (executablePath === undefined) throw new Error("CHROME_PATH names no browser.");
  const browser = await chromium.launch({ executablePath, args: ARGS });
  const context = await browser.newContext();
  const [name = "", value = ""] = cookie.split("=");
  await context.addCookies([{ name, value, url: origin }]);
  const page = await context.newPage();
  let begun: () => void;
  const running = new Promise<void>((resolve) => {
    begun = resolve;
  });
  page.on("websocket", (socket) =>
    socket.on("framereceived", ({ payload }) => {
      if (String(payload).includes('"running":true')) begun();
    }),
  );
  await page.goto(origin);
  await page.getByTestId("stop-motor").waitFor();
  // Before the page's own listeners, and on the clock that both processes have.
  await page.evaluate(
    `for (const type of ["click", "keydown"])
      addEventListener(
        type,
        () => { window.pressedMs = performance.timeOrigin + performance.now(); },
        { capture: true, once: true },
      );`,
  );
  return {
    async press(how) {
      await running;
      if (how === "click") await page.getByTestId("stop-motor").click();
      else await page.keyboard.press("Escape");
      return (await page.evaluate<number>("window.pressedMs")) - performance.timeOrigin;
    },
    close: () => browser.close(),
  };
}
