import { it } from "vitest";
import { demoWeights, demoCapsule, WEIGHTS_FAULTS, CAPSULE_FAULTS } from "../../web/src/help/demoUnit.ts";
import { speedCurve, vacuumCurve, reachablePa, holdTrace } from "../../web/src/help/unitMotion.ts";
import { drawnWeights } from "../../web/src/help/weightsDrawing.ts";
import { contactsAt } from "../../web/src/help/contactsDrawing.ts";
it("x", () => {
  const t=performance.now();
  for (const f of [null, ...Object.keys(WEIGHTS_FAULTS)]) { const c = speedCurve(demoWeights(f as never));
   console.log(f, [300,500,800,1200,1800,2400].map(r=>c.rising[r/20]![1].toFixed(3)+"/"+c.falling[130-r/20]![1].toFixed(3)).join(" ")); }
  console.log(performance.now()-t);
  for (const f of [null, ...Object.keys(CAPSULE_FAULTS)]) { const c = vacuumCurve(demoCapsule(f as never));
   console.log(f, reachablePa(demoCapsule(f as never).leaks), [12,20,30,40].map(r=>c.rising[r]![1].toFixed(3)+"/"+c.falling[60-r]![1].toFixed(3)).join(" ")); }
  console.log(performance.now()-t);
  console.log(holdTrace([{form:"passage",flowMlPerS:3}]).at(-1), holdTrace([{form:"pinhole",flowMlPerS:3}]).at(-1));
  console.log(JSON.stringify(drawnWeights(demoWeights(null),0)).slice(0,1500));
  console.log(drawnWeights(demoWeights(null),14).springs.map(s=>[s.loadN,s.slackMm]));
  console.log(contactsAt(30,.4), contactsAt(45,.4), contactsAt(45,.3));
});
