// A disk that may lose its power: what was synced is on it, what was not may be, whole or in part, in any order.
import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import type { FileAction } from "./writeLog.ts";

/** Of what was not synced, what reaches the disk all the same. */
export interface Fate {
  /** Of each sector of each write by itself. */
  keepsSector(): boolean;
  /** Of names made, gone or changed, so many of those that wait, the oldest first. */
  namesKept(waiting: number): number;
}

export const NOTHING_MORE: Fate = { keepsSector: () => false, namesKept: () => 0 };

/** What a disk writes at once, or not. */
const SECTOR_BYTES = 512;

type Change = Extract<FileAction, { kind: "write" | "truncate" }>;
type Naming = Extract<FileAction, { kind: "create" | "unlink" | "rename" | "make folder" }>;

interface File {
  synced: Buffer;
  waiting: Change[];
}

/**
 * Stricter than most file systems: a name is on disk once its folder was synced, not when its file was.
 * Files and folders are told by their paths, `FOLDER` standing for those that are folders.
 */
const FOLDER = "folder";
type Names = Map<string, File | typeof FOLDER>;

export class Disk {
  private readonly names: Names = new Map();
  private namings: { action: Naming; file: File | null }[] = [];
  private readonly inodes = new Map<number, File>();

  take(action: FileAction): void {
    switch (action.kind) {
      case "create": {
        const file: File = { synced: Buffer.alloc(0), waiting: [] };
        this.inodes.set(action.inode, file);
        this.namings.push({ action, file });
        break;
      }
      case "unlink":
      case "rename":
      case "make folder":
        this.namings.push({ action, file: null });
        break;
      case "write":
      case "truncate":
        this.inodes.get(action.inode)?.waiting.push(action);
        break;
      case "sync": {
        const file = this.inodes.get(action.inode);
        if (file === undefined) break;
        for (const change of file.waiting) file.synced = changed(file.synced, change);
        file.waiting = [];
        break;
      }
      case "sync folder": {
        const isIn = ({ action: { path } }: { action: Naming }) => dirname(path) === action.path;
        for (const { action, file } of this.namings.filter(isIn)) rename(this.names, action, file);
        this.namings = this.namings.filter((one) => !isIn(one));
        break;
      }
    }
  }

  /** Writes what a computer finds that comes back after the power went now. Paths below `from` go below `to`. */
  putDown(from: string, to: string, fate: Fate): void {
    const names = new Map(this.names);
    const kept = fate.namesKept(this.namings.length);
    for (const { action, file } of this.namings.slice(0, kept)) rename(names, action, file);
    for (const [path, file] of names) {
      const place = join(to, path.slice(from.length));
      if (file === FOLDER) {
        mkdirSync(place, { recursive: true });
      } else if (isReachable(names, dirname(path), from)) {
        let bytes = file.synced;
        for (const change of file.waiting) bytes = partlyChanged(bytes, change, fate);
        writeFileSync(place, bytes);
      }
    }
  }
}

/** What lies in a folder that was lost is lost with it. */
function isReachable(names: Names, folder: string, root: string): boolean {
  return (
    folder === root || (names.get(folder) === FOLDER && isReachable(names, dirname(folder), root))
  );
}

function rename(names: Names, action: Naming, file: File | null): void {
  switch (action.kind) {
    case "create":
      if (file !== null) names.set(action.path, file);
      break;
    case "make folder":
      names.set(action.path, FOLDER);
      break;
    case "unlink":
      names.delete(action.path);
      break;
    case "rename": {
      const moved = names.get(action.path);
      names.delete(action.path);
      if (moved !== undefined) names.set(action.to, moved);
      break;
    }
  }
}

function changed(before: Buffer, change: Change): Buffer {
  return change.kind === "truncate"
    ? resized(before, change.length)
    : written(before, change.at, change.bytes);
}

function partlyChanged(before: Buffer, change: Change, fate: Fate): Buffer {
  if (change.kind === "truncate") {
    return fate.keepsSector() ? resized(before, change.length) : before;
  }
  let after = before;
  const end = change.at + change.bytes.length;
  for (let at = change.at; at < end; ) {
    const next = Math.min(end, (Math.floor(at / SECTOR_BYTES) + 1) * SECTOR_BYTES);
    const piece = change.bytes.subarray(at - change.at, next - change.at);
    if (fate.keepsSector())
      after = written(after === before ? Buffer.from(before) : after, at, piece);
    at = next;
  }
  return after;
}

function resized(before: Buffer, length: number): Buffer {
  const after = Buffer.alloc(length);
  before.copy(after, 0, 0, length);
  return after;
}

/** In place where there is room. */
function written(before: Buffer, at: number, bytes: Uint8Array): Buffer {
  const after = before.length >= at + bytes.length ? before : resized(before, at + bytes.length);
  after.set(bytes, at);
  return after;
}
