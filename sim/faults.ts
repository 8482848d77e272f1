// Faults of the unit by name, as scenario files have them. Those of the rig are among its settings.
import { z } from "zod";
import { MECHANISM_FAULTS } from "./mechanismFaults.ts";
import { TRIGGER_FAULTS } from "./triggerFaults.ts";

export const faultSchema = z.discriminatedUnion("fault", [...MECHANISM_FAULTS, ...TRIGGER_FAULTS]);
export type Fault = z.output<typeof faultSchema>;
