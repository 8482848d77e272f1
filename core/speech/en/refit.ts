// Advice on springs, stop and capsules in a workshop's words.

export const refit = {
  fit: (name: string, which: "first" | "second") => `Fit "${name}" as the ${which} spring`,
  /** `until`: how far in load, `far`: how far in millimetres, either may be empty. */
  bendFirst: (isMore: boolean, until: string, far: string) =>
    `Bend the first spring's post ${isMore ? "apart" : "together"}${[until, far].filter((one) => one !== "").join(",")}`,
  untilPulls: (percent: string, isMore: boolean) =>
    ` until it pulls ${percent} % ${isMore ? "more" : "less"} at rest`,
  byAbout: (millimetres: string) => ` by about ${millimetres} mm`,
  bendSecond: (deg: string, isLater: boolean) =>
    `Bend the second spring's post so that it takes up ${deg} ${isLater ? "later" : "earlier"}`,
  moreStop: (deg: string) => `Give the stop ${deg} more: file, thinner bush or the other slot`,
  lessStop: (deg: string) => `Take ${deg} from the travel: bush, or the other slot`,
  leave: "Leave it as it is",
  nothing: "Nothing that is known is likely to do.",
  nearest: "The nearest to it:",
  surer: (wanted: string) => `Surer than any of these: ${wanted}`,
  chance: (percent: number) => `Chance to be within: ${percent} of 100`,
  wanted: (firstRate: string, firstLoad: string, secondRate: string) =>
    `A first spring of ${firstRate} times the rate and ${firstLoad} times the load at rest of the one that is in, and a second one of ${secondRate} times the rate, would do.`,
  leaveCapsule: (name: string) => `${name}: leave it as it is.`,
  exchangeCapsule: (name: string) =>
    `${name}: no load on its spring brings it into its band. Exchange it, or see to plate and link first.`,
  loadCapsule: (name: string, isMore: boolean, vacuum: string) =>
    `${name}: ${isMore ? "put load on" : "take load off"} its spring (washers, screw or turns) until it begins about ${vacuum} ${isMore ? "later" : "earlier"}.`,
};
