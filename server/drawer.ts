// The workshop's spring drawer as it is kept in the data folder: the CSV text, checked before it is kept.
import type { DrawerSpring } from "../core/drawer/drawer.ts";
import { drawerFromCsv } from "../core/drawer/drawerFile.ts";
import type { Store } from "./store/store.ts";

const KEPT_AS = "drawer.csv";

/** No springs where none is kept. */
export async function keptDrawer(store: Store): Promise<readonly DrawerSpring[]> {
  const [text] = await store.keptTexts(KEPT_AS, 1);
  return text === undefined ? [] : drawerFromCsv(text, "the drawer that is kept");
}

/** What was kept before takes the place of what is kept now; nothing where there was none. @throws TABLE_INVALID */
export async function bringBackDrawer(store: Store): Promise<readonly DrawerSpring[]> {
  const [, before] = await store.keptTexts(KEPT_AS, 2);
  return before === undefined ? keptDrawer(store) : keepDrawer(store, before, "the drawer before");
}

/** In place of the one before, which stays in the store. @throws TABLE_INVALID */
export async function keepDrawer(
  store: Store,
  text: string,
  name: string,
): Promise<readonly DrawerSpring[]> {
  const springs = drawerFromCsv(text, name);
  await store.keepText(KEPT_AS, text);
  return springs;
}
