const DAY_MS = 86_400_000;

/** `2031-W07` of a local time with offset: the week of the year by ISO 8601, whose first one holds the first Thursday. */
export function weekName(iso: string): string {
  const day = Date.parse(`${iso.slice(0, 10)}T00:00:00Z`);
  const thursday = new Date(day + (3 - ((new Date(day).getUTCDay() + 6) % 7)) * DAY_MS);
  const year = thursday.getUTCFullYear();
  const week = Math.floor((thursday.getTime() - Date.UTC(year, 0, 1)) / (7 * DAY_MS)) + 1;
  return `${year}-W${String(week).padStart(2, '0')}`;
}

/** The name of a week or month by its start. */
export const pointName = (iso: string, per: 'week' | 'month'): string =>
  per === 'week' ? weekName(iso) : iso.slice(0, 7);
