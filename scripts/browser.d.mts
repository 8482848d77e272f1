/** Path of a browser, or null. */
export function findBrowser(): string | null;
/** Path of a browser, installed by the system's package manager where that is allowed; else null. */
export function ensureBrowser(): string | null;
