// The usual cautions of the trade around a spindle and ignition parts. Common practice, no source.

/** Shown before every run on a real rig and on the page, and printed by the commands. */
export const CAUTIONS: readonly string[] = [
  "Gloves, sleeves and rings off; long hair tied back. Nothing loose may come near the spindle.",
  "Eyes covered: a weight, spring or chuck can come off at speed.",
  "Chuck key out of the chuck, unit clamped, spindle turned round once by hand.",
  "Guard shut. A hard-wired emergency stop that takes the power from the drive must be in reach; the stop in this program is not one.",
  "Coil and high tension off unless needed; keep away from them with a pacemaker.",
  "Local rules and licensed practice come first.",
];

/** For work with a timing light on a running engine; printed on the sheet of engine figures. */
export const ENGINE_CAUTIONS: readonly string[] = [
  "The timing light makes fan, belts and pulleys look as if they stood still. They turn. Keep hands, hair, sleeves, ties and leads out of their way, and nobody in line with the fan.",
  "Exhaust gas kills: outdoors, or with the exhaust led outside.",
  "Handbrake on, wheels chocked, gear lever in neutral (automatic: park).",
  "Exhaust, radiator and engine are hot; leave the radiator cap on.",
  "Petrol and sparks: no leaks, no open carburettor, timing light clipped on before the engine starts, extinguisher within reach.",
  "High tension can kill: do not touch leads, cap or coil while it runs; keep away from it with a pacemaker.",
  "No faster and no longer without load than the engine's maker allows.",
];

/** The same, one for one, in fewer words: for a page on which there is no room for all. */
export const SHORT_ENGINE_CAUTIONS: readonly string[] = [
  "The timing light makes fan, belts and pulleys look still: they turn. Keep hands, hair, sleeves, ties and leads away, nobody in line with the fan.",
  "Exhaust gas kills: outdoors, or led outside.",
  "Handbrake on, wheels chocked, neutral or park.",
  "Hot parts; radiator cap stays on.",
  "Petrol and sparks: no leaks, no open carburettor, light clipped on before the engine starts, extinguisher within reach.",
  "High tension can kill: hands off leads, cap and coil; keep away with a pacemaker.",
  "No faster and no longer without load than the maker allows.",
];
