// The job card: what came in, whose it is, and what eyes and hands found of it. Pure.

/** How the cam goes when it is turned by hand against its springs and let go. */
export const CAM_BY_HAND = ["springs back", "comes back slowly", "stays", "does not turn"] as const;

/** Empty texts and lists and nulls are what is not known: nothing of a card must be. */
export interface JobCard {
  /** The workshop's own, as written on the tag. */
  readonly number: string;
  /** Days as in ISO 8601: 2026-11-26. */
  readonly receivedOn: string | null;
  readonly returnedOn: string | null;
  readonly owner: string;
  readonly ownerContact: string;
  readonly vehicle: string;
  /** What came in, in the workshop's words: make, model, type. */
  readonly unit: string;
  readonly stampedNumber: string;
  /** As stamped: makers wrote week and year in ways of their own. */
  readonly stampedDate: string;
  /** Drive dog against rotor, clamp, terminals: whatever must stand as it stood. */
  readonly markings: string;
  readonly condition: string;
  readonly camByHand: (typeof CAM_BY_HAND)[number] | null;
  readonly sidePlayMm: number | null;
  readonly endFloatMm: number | null;
  /** Of contacts, or of a magnetic trigger. */
  readonly gapFoundMm: number | null;
  readonly gapSetMm: number | null;
  /** One a line on the sheet. */
  readonly partsReplaced: readonly string[];
  readonly notes: string;
}

export const EMPTY_CARD: JobCard = {
  number: "",
  receivedOn: null,
  returnedOn: null,
  owner: "",
  ownerContact: "",
  vehicle: "",
  unit: "",
  stampedNumber: "",
  stampedDate: "",
  markings: "",
  condition: "",
  camByHand: null,
  sidePlayMm: null,
  endFloatMm: null,
  gapFoundMm: null,
  gapSetMm: null,
  partsReplaced: [],
  notes: "",
};

/** The next number of the year in the workshop's row: "2026-001", "2026-002" … */
export function nextNumber(year: number, taken: readonly string[]): string {
  const highest = taken.reduce((most, number) => {
    const match = /^(\d{4})-(\d{1,6})$/.exec(number);
    return match !== null && Number(match[1]) === year ? Math.max(most, Number(match[2])) : most;
  }, 0);
  return `${year}-${String(highest + 1).padStart(3, "0")}`;
}
