// Where in the workshop the page is: kept in the address, so that back and reload lead where they should.

/** In the order they are offered. */
export const PLACES = ["bench", "records", "units", "settings", "help"] as const;
export type PlaceName = (typeof PLACES)[number];

export const addressOf = (place: PlaceName, section?: string): string =>
  section === undefined ? `#/${place}` : `#/${place}/${section}`;

/** The place of an address, and the part of it that is meant; null: its top. */
function placeIn(address: string): { place: PlaceName; section: string | null } {
  const [, name, section] = address.split("/");
  const place = PLACES.find((one) => one === name) ?? "bench";
  return { place, section: section ?? null };
}

export class Places {
  current = $state<PlaceName>(placeIn(location.hash).place);
  section = $state<string | null>(placeIn(location.hash).section);

  constructor() {
    window.addEventListener("hashchange", () => {
      // The skip link's address is one within the place.
      if (location.hash === "" || location.hash.startsWith("#/")) {
        const { place, section } = placeIn(location.hash);
        this.current = place;
        this.section = section;
      }
    });
  }

  go(place: PlaceName): void {
    if (this.current === place) return;
    this.current = place;
    this.section = null;
    location.hash = addressOf(place);
  }
}
