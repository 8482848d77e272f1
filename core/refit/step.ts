// What can be done to springs, posts and stop.

export type Step =
  | { readonly kind: "spring"; readonly which: "first" | "second"; readonly name: string }
  /**
   * Bend the first spring's post apart (above 1, or above 0) or together: its load at rest over what it
   * is, null where it has none there; and how far, null where the spring's lengths are not known.
   */
  | {
      readonly kind: "first post";
      readonly loadRatio: number | null;
      readonly bendM: number | null;
    }
  /** The second spring is to take up so many degrees later (+) or earlier. */
  | { readonly kind: "second post"; readonly kneeDeg: number }
  /** Travel to be given (+) or taken away: file, bush or the other slot. */
  | { readonly kind: "stop"; readonly deg: number };
