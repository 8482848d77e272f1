// Where in the workshop the page is: kept in the address, so that back and reload lead where they should.

/** In the order they are offered. */
export const PLACES = ["bench", "records", "units"] as const;
export type PlaceName = (typeof PLACES)[number];

export const addressOf = (place: PlaceName): string => `#/${place}`;

function placeIn(address: string): PlaceName {
  return PLACES.find((place) => addressOf(place) === address) ?? "bench";
}

export class Places {
  current = $state<PlaceName>(placeIn(location.hash));

  constructor() {
    window.addEventListener("hashchange", () => {
      // The skip link's address is one within the place.
      if (location.hash === "" || location.hash.startsWith("#/")) {
        this.current = placeIn(location.hash);
      }
    });
  }

  /** Where one is already, the address stays: it may name the job that lies open. */
  go(place: PlaceName): void {
    if (this.current === place) return;
    this.current = place;
    location.hash = addressOf(place);
  }
}
