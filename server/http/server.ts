// The web server: loopback only, one gate before everything, the page, the routes and the live stream.

import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import Fastify, { type FastifyInstance } from "fastify";
import { BobweightError } from "../../core/errors.ts";
import { said } from "../../core/said.ts";
import { addBackupRoutes } from "./backupRoutes.ts";
import { addCarryRoutes } from "./carryRoutes.ts";
import { addDrawerRoutes } from "./drawerRoutes.ts";
import { addEngineRoutes } from "./engineRoutes.ts";
import { refusedAtGate, setSafeHeaders } from "./gate.ts";
import { addJobRoutes } from "./jobRoutes.ts";
import { LiveServer } from "./liveServer.ts";
import { addPage } from "./page.ts";
import { addRecordRoutes } from "./recordRoutes.ts";
import { addApiRoutes, answerErrors, type RouteSources } from "./routes.ts";
import { RunDesk } from "./runDesk.ts";
import { addSettingsRoutes } from "./settingsRoutes.ts";
import { addShelfRoutes } from "./shelfRoutes.ts";
import { addUnitRoutes } from "./unitRoutes.ts";

export const DEFAULT_PORT = 8330;
const LOOPBACK = "127.0.0.1";
const BODY_BYTES_MAX = 1024 * 1024;
const REQUEST_TIMEOUT_MS = 10_000;

export interface ServerOptions extends RouteSources {
  /** 0: any free port. */
  readonly port: number;
  /** Where the built page lies. */
  readonly pageFolder: string;
}

export interface RunningServer {
  readonly port: number;
  /** Address to open in a browser. */
  readonly url: string;
  /** Stops a run and waits for its end, then closes connections and the store. Call it once. */
  close(): Promise<void>;
}

/** @throws PORT_TAKEN */
export async function openServer(options: ServerOptions): Promise<RunningServer> {
  const desk = new RunDesk(options.bench, options.report);
  const live = new LiveServer(desk);
  const app = gatedFastify(live);
  answerErrors(app, options.report);
  addApiRoutes(app, options);
  addRecordRoutes(app, options.store);
  addEngineRoutes(app, options.store);
  addShelfRoutes(app, options.store);
  addUnitRoutes(app, options);
  addCarryRoutes(app, options, desk);
  addBackupRoutes(app, options.keeping, desk);
  addJobRoutes(app, options.store);
  addDrawerRoutes(app, options.store);
  addSettingsRoutes(app, options.store);
  await addPage(app, options.pageFolder);
  await listen(app, options.port);
  const { port } = app.server.address() as AddressInfo;
  return {
    port,
    url: `http://${LOOPBACK}:${port}/`,
    async close() {
      await desk.close();
      await live.close();
      await app.close();
      options.store.close();
    },
  };
}

/** The gate stands before Fastify, so that no route, error page or static file can be reached around it. */
function gatedFastify(live: LiveServer): FastifyInstance {
  const app = Fastify({
    bodyLimit: BODY_BYTES_MAX,
    forceCloseConnections: true,
    serverFactory: (handler) => {
      const server = createServer({ requestTimeout: REQUEST_TIMEOUT_MS }, (request, response) => {
        setSafeHeaders(response);
        const refused = refusedAtGate(request, "request");
        if (refused === null) {
          handler(request, response);
          return;
        }
        response.writeHead(refused.status, {
          connection: "close",
          "content-type": "application/json; charset=utf-8",
        });
        response.end(JSON.stringify(refused.refusal));
      });
      return server.on("upgrade", (request, stream, head) => live.upgrade(request, stream, head));
    },
  });
  app.removeContentTypeParser("text/plain");
  return app;
}

async function listen(app: FastifyInstance, port: number): Promise<void> {
  try {
    await app.listen({ host: LOOPBACK, port });
  } catch (cause) {
    await app.close();
    const taken = cause instanceof Error && "code" in cause && cause.code === "EADDRINUSE";
    throw taken
      ? new BobweightError("PORT_TAKEN", said("Port {} is in use.", port), { cause })
      : cause;
  }
}
