// A spring that is in the unit, as typed. Pure.
import type { DrawerSpring } from "../../core/drawer/drawer.ts";
import type { Fitted } from "../../core/refit/installed.ts";
import { typedNumber } from "./cardForm.ts";

export interface FittedText {
  /** Empty: not known. */
  name: string;
  /** Millimetres between its posts, with the weights at rest and with the cam at its stop. */
  rest: string;
  stop: string;
}

const LENGTH_MAX_MM = 200;

/** Null: not known. "wrong": a length is none. */
export function fittedFrom(
  { name, rest, stop }: FittedText,
  drawer: readonly DrawerSpring[],
): Fitted | null | "wrong" {
  const spring = drawer.find((one) => one.name === name);
  if (spring === undefined) return null;
  const restMm = typedNumber(rest);
  const stopMm = typedNumber(stop);
  const isLength = (mm: number | null) => mm === null || (mm > 0 && mm <= LENGTH_MAX_MM);
  if (!isLength(restMm) || !isLength(stopMm)) return "wrong";
  const metres = (mm: number | null) => (mm === null ? null : mm / 1000);
  return { spring, restLengthM: metres(restMm), stopLengthM: metres(stopMm) };
}
