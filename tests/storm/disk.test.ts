// The disk that loses its power: what was synced stays, the rest as fate has it, in pieces.
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { Disk, NOTHING_MORE } from "../../storm/storage/disk.ts";

const EVERYTHING = { keepsSector: () => true, namesKept: (waiting: number) => waiting };

function found(disk: Disk, fate: Parameters<Disk["putDown"]>[2], name: string): string | null {
  const folder = mkdtempSync(join(tmpdir(), "bobweight-disk-"));
  try {
    disk.putDown("/was", folder, fate);
    const path = join(folder, name);
    return existsSync(path) ? readFileSync(path, "latin1") : null;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const bytes = (text: string) => Buffer.from(text);

it("has a name once its folder was synced, and bytes once the file was", () => {
  const disk = new Disk();
  disk.take({ kind: "create", path: "/was/a", inode: 1 });
  disk.take({ kind: "write", inode: 1, at: 0, bytes: bytes("one") });
  disk.take({ kind: "sync", inode: 1 });
  expect(found(disk, NOTHING_MORE, "a")).toBeNull();
  disk.take({ kind: "sync folder", path: "/was" });
  expect(found(disk, NOTHING_MORE, "a")).toBe("one");
  disk.take({ kind: "write", inode: 1, at: 3, bytes: bytes(" two") });
  expect(found(disk, NOTHING_MORE, "a")).toBe("one");
  expect(found(disk, EVERYTHING, "a")).toBe("one two");
  disk.take({ kind: "truncate", inode: 1, length: 1 });
  expect(found(disk, EVERYTHING, "a")).toBe("o");
  disk.take({ kind: "unlink", path: "/was/a" });
  expect(found(disk, NOTHING_MORE, "a")).toBe("one");
  expect(found(disk, EVERYTHING, "a")).toBeNull();
});

it("tears a write between sectors", () => {
  const disk = new Disk();
  disk.take({ kind: "create", path: "/was/a", inode: 1 });
  disk.take({ kind: "sync folder", path: "/was" });
  disk.take({ kind: "write", inode: 1, at: 0, bytes: bytes("x".repeat(1024)) });
  let sector = 0;
  const second = { keepsSector: () => sector++ === 1, namesKept: () => 0 };
  expect(found(disk, second, "a")).toBe("\0".repeat(512) + "x".repeat(512));
});
