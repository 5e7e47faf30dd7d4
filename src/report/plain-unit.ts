/** A unit of an export as a person writes it: `mmHg`, `°C`. */
export const plainUnit = (unit: string): string =>
  ({ Cel: '°C', '[degF]': '°F' })[unit] ?? unit.replace(/[[\]]/g, '');
