// Dwell limits of a unit file, and two sets of contacts: what each is asked for, by itself and together.
import { said } from "../said.ts";
import type { ConnectedContacts, ContactSets, Limits } from "../unit.ts";
import { endsOf, figureAt } from "./figures.ts";
import type { Place } from "./place.ts";
import type { DwellFile, UnitFile } from "./schema.ts";

/** Lobes that what is connected to the rig fires, with the dwell wanted of it. */
export interface Contacts {
  readonly lobeAnglesDeg: readonly number[];
  readonly dwellLimitsDeg: Limits | null;
  readonly contactSets: ContactSets | null;
}

/**
 * `all`: every lobe of the cam. `connected`: which sets of contacts the rig is on; null: all there are.
 * @throws FILE_INVALID
 */
export function contactsOf(
  shape: UnitFile,
  all: readonly number[],
  connected: ConnectedContacts | null,
  place: Place,
): Contacts {
  const { dwell, trigger, secondSet } = shape;
  const kind = trigger?.kind ?? "contacts";
  if (kind !== "contacts" && dwell !== undefined) {
    place
      .in("dwell")
      .fail(said("the dwell of a {} trigger is not measured. Take the field out", kind));
  }
  if (secondSet === undefined) {
    if (connected !== null) {
      place.fail(
        said(
          "the unit has one set of contacts, so {} of two cannot be chosen. Add secondSet, or choose none",
          connected,
        ),
      );
    }
    const dwellLimitsDeg = limitsOf(dwell, all, place.in("dwell"));
    return { lobeAnglesDeg: all, dwellLimitsDeg, contactSets: null };
  }
  const here = place.in("secondSet");
  if (kind !== "contacts")
    here.fail(said("a {} trigger has no contacts. Take the field out", kind));
  const { arrangement } = secondSet;
  if (arrangement === "staggered" && all.length % 2 === 1) {
    here
      .in("arrangement")
      .fail(said("staggered sets share the lobes evenly, and there are {}", all.length));
  }
  const lobes = (sets: ConnectedContacts) => lobesOf(all, arrangement, sets);
  const first = limitsOf(dwell, lobes("first"), place.in("dwell"));
  const dwellLimitsDeg = {
    first,
    second:
      secondSet.dwell === undefined
        ? first
        : limitsOf(secondSet.dwell, lobes("second"), here.in("dwell")),
    both: limitsOf(secondSet.combinedDwell, all, here.in("combinedDwell")),
  };
  const sets = connected ?? "both";
  return {
    lobeAnglesDeg: lobes(sets),
    dwellLimitsDeg: dwellLimitsDeg[sets],
    contactSets: { arrangement, connected: sets, lobeAnglesDeg: all, dwellLimitsDeg },
  };
}

/** Of staggered sets each fires every second lobe; its first one counts as 0. */
function lobesOf(
  all: readonly number[],
  arrangement: ContactSets["arrangement"],
  sets: ConnectedContacts,
): readonly number[] {
  if (arrangement === "overlapped" || sets === "both") return all;
  const own = all.filter((_, lobe) => lobe % 2 === (sets === "first" ? 0 : 1));
  return own.map((angle) => angle - (own[0] as number));
}

function limitsOf(
  dwell: DwellFile | undefined,
  lobeAnglesDeg: readonly number[],
  place: Place,
): Limits | null {
  if (dwell === undefined) return null;
  const { degrees, percent } = dwell;
  if ((degrees === undefined) === (percent === undefined)) {
    place.fail(said("give one of `degrees` and `percent`"));
  }
  const spacingDeg = 360 / lobeAnglesDeg.length;
  const here = place.in(degrees === undefined ? "percent" : "degrees");
  const [from, to] = endsOf(figureAt(degrees ?? percent ?? 0, here));
  if (from === to)
    here.fail(said('a single figure cannot be met exactly. Write a range, or "51 ± 4"'));
  if (percent !== undefined && !isEven(lobeAnglesDeg, spacingDeg)) {
    here.fail(
      said("a share of the spacing is not plain where lobes are spaced unevenly. Give degrees"),
    );
  }
  const scale = degrees === undefined ? spacingDeg / 100 : 1;
  const limits = { min: from * scale, max: to * scale };
  if (limits.min < 0) here.fail(said("the lower limit is negative"));
  if (limits.max > spacingDeg && isEven(lobeAnglesDeg, spacingDeg)) {
    here.fail(said("more than the spacing of the lobes, {} distributor degrees", spacingDeg));
  }
  return limits;
}

function isEven(lobeAnglesDeg: readonly number[], spacingDeg: number): boolean {
  return lobeAnglesDeg.every((angle, i) => Math.abs(angle - i * spacingDeg) < 1e-6);
}
