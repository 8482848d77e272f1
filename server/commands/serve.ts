// `bobweight serve`: the page and the bench behind it, on this computer only.
import { join } from "node:path";
import type { Command } from "commander";
import { parseJsonFile } from "../../core/unitFile/jsonText.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { WorkshopBench } from "../bench.ts";
import { DEFAULT_PORT, openServer } from "../http/server.ts";
import { Keeping, programAt } from "../keeping.ts";
import { projectFolder } from "../measurement.ts";
import { holdFolder } from "../store/hold.ts";
import { DATA_OPTION, openData } from "./data.ts";
import { wholeNumber } from "./numbers.ts";
import { serialPorts } from "./rigs.ts";

export function addServe(program: Command, exit: (status: number) => void): void {
  program
    .command("serve")
    .description("serve the page on 127.0.0.1, until interrupted")
    .option("--port <n>", "port; 0 for any free one", wholeNumber(0, 65_535), DEFAULT_PORT)
    .option(...DATA_OPTION)
    .action(async (options: { port: number; data?: string }) => {
      const { store, folder } = await openData(options.data);
      const hold = await holdFolder(folder);
      store.checkWhole();
      const server = await openServer({
        port: options.port,
        pageFolder: join(projectFolder(), "dist", "web"),
        store,
        bench: new WorkshopBench(store, folder, serialPorts),
        keeping: new Keeping(folder, programAt(join(projectFolder(), "bin", "bobweight.js"))),
        ports: serialPorts,
        checkUnit: (text, name) => {
          unitFromFile(parseJsonFile(text, name), name);
        },
        report: (error) => {
          process.stderr.write(`${error instanceof Error ? error.stack : String(error)}\n`);
        },
      });
      process.stdout.write(`${server.url}\n`);
      process.stderr.write(
        `Bobweight is at ${server.url} (records in ${folder}). Interrupt to end.\n`,
      );
      await new Promise<void>((resolve) => {
        process.once("SIGINT", () => resolve());
        process.once("SIGTERM", () => resolve());
      });
      await server.close();
      hold.release();
      exit(0);
    });
}
