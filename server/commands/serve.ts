// `bobweight serve`: the page and the bench behind it, on this computer only unless it is opened to the network.
import { join } from "node:path";
import type { Command } from "commander";
import { parseJsonFile } from "../../core/unitFile/jsonText.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { WorkshopBench } from "../bench.ts";
import { DEFAULT_PORT, openServer, type RunningServer } from "../http/server.ts";
import { Keeping, programAt } from "../keeping.ts";
import { projectFolder } from "../measurement.ts";
import { holdFolder } from "../store/hold.ts";
import { DATA_OPTION, DATABASE_OPTION, DATABASE_VARIABLE, openData } from "./data.ts";
import {
  type NetworkOptions,
  networkFrom,
  PASSWORD_VARIABLE,
  UNENCRYPTED_WARNING,
} from "./network.ts";
import { wholeNumber } from "./numbers.ts";
import { serialPorts } from "./rigs.ts";

const SERVE_HELP = `
The address that is printed lets in whoever opens it on this computer; it is another one at every start.

With --listen the network may come too, by a password of ten characters and more: from ${PASSWORD_VARIABLE},
else it is asked for. Pages are then opened by the address, or by a --name. --tls-cert and --tls-key name PEM
files of your own; without them nothing is encrypted, which the command warns of.`;

interface ServeOptions extends NetworkOptions {
  readonly port: number;
  readonly data?: string;
  readonly database?: string;
}

export function addServe(program: Command, exit: (status: number) => void): void {
  program
    .command("serve")
    .description("serve the page on 127.0.0.1, until interrupted")
    .option("--port <n>", "port; 0 for any free one", wholeNumber(0, 65_535), DEFAULT_PORT)
    .option("--listen <address>", "open the page to the network on this address; 0.0.0.0 for all")
    .option("--name <host...>", "names by which others call this computer")
    .option("--tls-cert <file>", "certificate (PEM)")
    .option("--tls-key <file>", "its key (PEM)")
    .option(...DATA_OPTION)
    .option(...DATABASE_OPTION)
    .addHelpText("after", SERVE_HELP)
    .action(async (options: ServeOptions) => {
      const network = await networkFrom(options);
      if (network !== null && network.tls === null) process.stderr.write(UNENCRYPTED_WARNING);
      // The program makes backups in a process of its own, which has to know as well.
      if (options.database !== undefined) process.env[DATABASE_VARIABLE] = options.database;
      const { store, folder } = await openData(options.data, options.database);
      const hold = await holdFolder(folder);
      await store.checkWhole();
      const server = await openServer({
        port: options.port,
        network,
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
      // SIGINT and SIGTERM that come from here on stop a run that a page may have begun.
      const interrupted = new Promise<void>((resolve) => {
        process.once("SIGINT", () => resolve());
        process.once("SIGTERM", () => resolve());
      });
      tell(server, folder);
      await interrupted;
      await server.close();
      hold.release();
      exit(0);
    });
}

function tell({ url }: RunningServer, folder: string): void {
  process.stdout.write(`${url}\n`);
  process.stderr.write(`Bobweight is at ${url} (records in ${folder}). Interrupt to end.\n`);
}
