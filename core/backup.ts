// A backup as page and server speak of it.

/** Registered for SQLite's files, which a backup is. A form cannot send it. */
export const BACKUP_TYPE = "application/vnd.sqlite3";
export const BACKUP_BYTES_MAX = 1_000_000_000;

/** What a backup holds. */
export interface BackupContents {
  readonly records: number;
  readonly jobs: number;
  /** Names of the folder's other files: rig files, unit files. */
  readonly files: readonly string[];
}

/** POST /api/backup. GET /backups/NAME answers with the file. */
export interface MadeBackup {
  readonly name: string;
  readonly bytes: number;
  readonly contents: BackupContents;
}

/** POST /api/restore, with a backup as the body. */
export interface Restored {
  readonly folder: string;
  /** What starts the program on it. */
  readonly command: string;
  readonly contents: BackupContents;
}
