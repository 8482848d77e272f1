// Days as a date field gives them, as moments of the reader's own time zone. Pure but for that zone.

/** The first moment of the day; null where there is no day. */
export function dayStartUtc(day: string): string | null {
  return momentOf(day, 0);
}

/** The first moment after it. */
export function dayEndUtc(day: string): string | null {
  return momentOf(day, 1);
}

function momentOf(day: string, daysLater: number): string | null {
  const [year, month, date] = day.split("-").map(Number);
  if (year === undefined || month === undefined || date === undefined) return null;
  const moment = new Date(year, month - 1, date + daysLater);
  return Number.isNaN(moment.getTime()) ? null : moment.toISOString();
}
