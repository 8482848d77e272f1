// Every bar of the findings.
import type { Bar } from "../accuracy/bar.ts";
import { drawer } from "./bars/drawer.ts";
import { fit } from "./bars/fit.ts";
import { hand } from "./bars/hand.ts";
import { healthy } from "./bars/healthy.ts";
import { manual } from "./bars/manual.ts";
import { nearest } from "./bars/nearest.ts";
import { pairs } from "./bars/pairs.ts";
import { refit } from "./bars/refit.ts";
import { rig } from "./bars/rig.ts";
import { single } from "./bars/single.ts";
import { strength } from "./bars/strength.ts";

export const BARS: readonly Bar<unknown>[] = [
  pairs,
  refit,
  single,
  strength,
  healthy,
  fit,
  rig,
  manual,
  drawer,
  hand,
  nearest,
];
