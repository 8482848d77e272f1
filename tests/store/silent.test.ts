// A database server that cannot be reached and does not refuse either: nobody waits for it again and again.
import { mkdtempSync } from "node:fs";
import { type AddressInfo, createServer, type Socket } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { openStore } from "../../server/store/store.ts";

it("is asked once, and is away for whoever asks soon after", async () => {
  const callers: Socket[] = [];
  const server = createServer((socket) => callers.push(socket));
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as AddressInfo;
  const folder = mkdtempSync(join(tmpdir(), "bobweight-silent-"));
  const store = await openStore(folder, `postgres://bench@127.0.0.1:${port}/workshop`);
  for (let i = 0; i < 4; i++) {
    await expect(store.units.current()).rejects.toMatchObject({ code: "DATABASE_AWAY" });
  }
  expect(callers).toHaveLength(1);
  await store.close();
  for (const socket of callers) socket.destroy();
  server.close();
}, 60_000);
