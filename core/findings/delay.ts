// What a delay of the edges does to an advance.

/** Degrees of the distributor in which an edge comes late, for each rpm and microsecond: 360° in a minute. */
export const DEG_PER_RPM_US = 6e-6;
