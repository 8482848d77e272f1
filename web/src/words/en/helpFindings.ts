// What each finding means, how it shows, and what is done about it. English.
import type { FindingKind } from "../../../../core/findings/finding.ts";

export interface FindingHelp {
  readonly title: string;
  readonly means: string;
  readonly shows: string;
  readonly toDo: string;
}

export const findingHelp: Readonly<Record<FindingKind, FindingHelp>> = {
  "weights-stuck": {
    title: "Weights or cam stuck",
    means:
      "Nothing moves: the weights have rusted fast, or the cam sits fast on its shaft. Where they stick is not known: fully in and fully out read alike, since advance is counted from the first reading.",
    shows: "A flat line at every speed, both ways.",
    toDo: "Turn the cam by hand against the shaft. Take it apart, free and oil it, and look whether both springs are there. Only then can springs, knee and stop be judged.",
  },
  "weights-dry": {
    title: "Weights move dry",
    means: "Rust or old grease brakes weights and cam, yet they still move.",
    shows: "Begins late and returns late: a wide gap between rising and falling, often with steps.",
    toDo: "Clean and oil pivots and cam, then measure again. Do not touch a spring before that.",
  },
  "weights-not-returning": {
    title: "Does not return to zero",
    means:
      "The weights catch on the way home, so the spark stays early at low speed. A serious one: the engine may kick back when it is cranked.",
    shows: "The falling curve does not come down to where the rising one began.",
    toDo: "Look for burrs, gummed pivots, bent posts, a slack first spring. Do not fit the unit like this.",
  },
  "spring-stretched": {
    title: "Stretched spring",
    means: "A spring has grown longer. It is as stiff as before, but it pulls less from the start.",
    shows: "The whole part of the curve comes earlier and runs parallel to the sound one.",
    toDo: "Compare its length with a known one and look at its loops; replace it, or bend its post back.",
  },
  "spring-light": {
    title: "Light or wrong spring",
    means:
      "The spring is too weak for this unit: thinner wire, more coils, or one from another unit.",
    shows: "Earlier and steeper, and early at the knee or the stop.",
    toDo: "Measure wire, coil diameter and coils, compare with the drawer, fit the right one.",
  },
  "spring-heavy": {
    title: "Heavy spring or wrong pair",
    means:
      "The spring is too stiff for this unit, or the pair is not the one it left the works with.",
    shows: "Late and shallow; the stop may never be reached.",
    toDo: "Measure wire, coil diameter and coils, compare with the drawer, fit the right one.",
  },
  "first-spring-missing": {
    title: "First spring missing",
    means: "The spring that should hold from the start is gone, or off its post.",
    shows: "The advance is there almost at once, up to where the second spring takes over.",
    toDo: "Look at both springs and at all four loops.",
  },
  "second-spring-missing": {
    title: "Second spring missing",
    means: "The spring with the long loop is gone or unhooked.",
    shows: "No knee: the steep part runs straight on to the stop.",
    toDo: "Look at both springs and at all four loops.",
  },
  "stop-worn": {
    title: "Stop worn",
    means:
      "Slot, pin or bush of the stop is worn or missing, so the cam turns farther than it should.",
    shows: "Like the sound curve, but it goes on above the specified end.",
    toDo: "Turn the cam to its stop by hand and look. Mend it: too much advance can hole a piston.",
  },
  "second-spring-loop-worn": {
    title: "Second spring takes up too late",
    means: "The long loop or its post is worn, so there is more play than there should be.",
    shows: "The knee comes at more advance than it should.",
    toDo: "Move the cam by hand to where the second spring begins to pull; look at loop and post.",
  },
  "shaft-bush-worn": {
    title: "Worn shaft bush",
    means: "The shaft has play sideways, so that gap and angle change from turn to turn.",
    shows:
      "More spread from one turn to the next, changed dwell, lobes off without a clean pattern.",
    toDo: "Push the shaft sideways at the rotor's end and feel for play. Fit a new bush.",
  },
  "shaft-bent": {
    title: "Bent shaft",
    means: "The cam runs out of true, once in every turn.",
    shows: "The lobes' errors swell and shrink once round the turn.",
    toDo: "Seat the unit half a turn round in the coupling and measure again: what stays with the rig is the rig's.",
  },
  "cam-worn": {
    title: "Worn cam",
    means: "One or more lobes have lost their shape.",
    shows: "The same lobe is off by the same amount at every speed.",
    toDo: "Look at the lobes that are named; measure each with a dial gauge.",
  },
  "contact-spring-weak": {
    title: "Weak contact spring",
    means: "The spring of the contacts no longer makes them follow the cam at speed.",
    shows: "Bounced or missing openings, and less dwell, at high speed only.",
    toDo: "Weigh the spring's tension at the contact; fit new contacts.",
  },
  "plate-lead-breaking": {
    title: "Lead of the plate breaks",
    means: "The lead to the contacts, or the plate's earth, parts inside where the plate bends it.",
    shows: "Openings are missing at one position of the plate, at any speed.",
    toDo: "Move the plate by hand with a continuity tester on the lead. Replace the lead.",
  },
  "diaphragm-torn": {
    title: "Torn diaphragm",
    means: "Air comes through the diaphragm faster than the pump draws it out.",
    shows: "The vacuum does not build, and the plate does not move.",
    toDo: "Plug the hose and pump again, to rule out hose and pump. Then replace the capsule.",
  },
  "capsule-leak": {
    title: "Small leak",
    means: "The capsule builds its vacuum and loses it again: a pinhole or a bad seam.",
    shows: "The sweep may look right, but the vacuum falls in the hold test.",
    toDo: "Plug the hose and repeat the hold test: what still falls is the hose's. Else replace the capsule.",
  },
  "plate-not-following": {
    title: "Plate does not follow",
    means:
      "The capsule is tight and pulls, but the plate is rusted fast or the rod is off its pin.",
    shows: "The vacuum holds; the angle does not change with it.",
    toDo: "Look whether the rod is on its pin; then move the plate by hand, clean and oil its bearing.",
  },
  "plate-sticking": {
    title: "Plate sticks",
    means: "The plate turns stiffly on its bearing.",
    shows:
      "It moves late and returns late, or not fully: a wide gap between rising and falling vacuum.",
    toDo: "Move the plate by hand, clean and oil its bearing, measure again.",
  },
  "capsule-spring-wrong": {
    title: "Wrong or tired capsule spring",
    means: "The capsule is not the one for this unit, or its spring has tired.",
    shows: "It begins at another vacuum, or ends at other degrees, than the specification says.",
    toDo: "Compare the number on the capsule with the specification's. Washers or turns may set it.",
  },
  "curve-unexplained": {
    title: "Off in a way no fault explains",
    means:
      "The curve is wrong, and no single fault or pair of faults known here makes such a curve.",
    shows: "Readings beyond the limits without the form of one of the faults above.",
    toDo: "Check first that this is the right specification. Then clean, oil and measure again.",
  },
  "coupling-runout": {
    title: "The rig's coupling",
    means: "The rig turns the unit out of true. Nothing is said against the unit.",
    shows: "The lobes' errors swell and shrink once round the turn, as with a bent shaft.",
    toDo: "Seat the unit half a turn round in the coupling and measure again.",
  },
  "condenser-left-on": {
    title: "Condenser left across the contacts",
    means: "The condenser makes the rig see the opening late. Nothing is said against the unit.",
    shows: "Retard that grows with speed along a straight line.",
    toDo: "Take the condenser off and measure again.",
  },
  "uncorrected-delay": {
    title: "A fixed delay of the rig",
    means: "Pickup or sensing answers a little late, always by the same time.",
    shows: "Retard that grows with speed along a straight line: the same time is more degrees.",
    toDo: "Calibrate the rig's delay with a locked cam.",
  },
  "specification-misread": {
    title: "Specification on another scale",
    means:
      "The figures of the manual were typed for another shaft or unit: crankshaft for distributor, another unit of vacuum, or with the initial timing in them.",
    shows: "The form is right, and everything is twice or half as large, or shifted.",
    toDo: "Look at the manual again: whose degrees, whose speeds, which unit of vacuum.",
  },
};
