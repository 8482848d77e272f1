// The springs that are in a unit, and the drawer that they are named by, as commands take them.
import type { DrawerSpring } from "../../core/drawer/drawer.ts";
import { drawerFromCsv } from "../../core/drawer/drawerFile.ts";
import { BobweightError } from "../../core/errors.ts";
import type { Fitted } from "../../core/refit/installed.ts";
import { keptDrawer } from "../drawer.ts";
import { readTextFile } from "../files.ts";
import type { Store } from "../store/store.ts";

export const DRAWER_OPTION = [
  "--drawer <file>",
  "the workshop's springs (CSV, see `bobweight springs --help`) instead of the drawer that is kept",
] as const;
export const FIRST_OPTION = [
  "--first <spring>",
  "first spring in the unit, NAME@REST..STOP in mm",
] as const;
export const SECOND_OPTION = [
  "--second <spring>",
  "second spring in the unit, NAME@REST..STOP in mm",
] as const;

/** Without a file the drawer that is kept in the data folder. @throws FILE_UNREADABLE, TABLE_INVALID */
export async function drawerFrom(
  path: string | undefined,
  store: Store,
): Promise<readonly DrawerSpring[]> {
  return path === undefined ? await keptDrawer(store) : drawerFromCsv(readTextFile(path), path);
}

/** @throws USAGE where the drawer has no such spring */
export function springNamed(name: string, drawer: readonly DrawerSpring[]): DrawerSpring {
  const spring = drawer.find((one) => one.name === name);
  if (spring === undefined) {
    throw new BobweightError("USAGE", `The drawer has no spring "${name}".`);
  }
  return spring;
}

/** @throws USAGE where the drawer has no such spring, or a length is none */
export function fitted(text: string | undefined, drawer: readonly DrawerSpring[]): Fitted | null {
  if (text === undefined) return null;
  const [, name = "", rest, stop] =
    /^(.*?)(?:@(\d+(?:\.\d+)?)(?:\.\.(\d+(?:\.\d+)?))?)?$/.exec(text) ?? [];
  const spring = springNamed(name, drawer);
  const metres = (millimetres: string | undefined) => {
    if (millimetres === undefined) return null;
    const value = Number(millimetres) / 1000;
    if (value > 0 && value < 0.2) return value;
    throw new BobweightError("USAGE", `${millimetres} is no length in millimetres (up to 200).`);
  };
  return { spring, restLengthM: metres(rest), stopLengthM: metres(stop) };
}
