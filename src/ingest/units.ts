/** Pascals in one unit. Source: NIST SP 811 (2008), appendix B.8. */
const PASCALS = { 'mm[Hg]': 133.3224, 'cm[H2O]': 98.0665, kPa: 1000 } as const;

/** A pressure unit in UCUM spelling. */
export type PressureUnit = keyof typeof PASCALS;

const SPELLINGS: ReadonlyMap<string, PressureUnit> = new Map([
  ['mmhg', 'mm[Hg]'],
  ['mm[hg]', 'mm[Hg]'],
  ['cmh2o', 'cm[H2O]'],
  ['cm[h2o]', 'cm[H2O]'],
  ['kpa', 'kPa'],
]);

/** The unit that a text means, whatever its case and spaces; null where it is no pressure unit known here. */
export const pressureUnit = (text: string): PressureUnit | null =>
  SPELLINGS.get(text.toLowerCase().replace(/[\s_₂]/g, (c) => (c === '₂' ? '2' : ''))) ?? null;

/** What a value in this unit is multiplied with to give mm[Hg]; 1 for mm[Hg] itself. */
export const mmHgPer = (unit: PressureUnit): number => PASCALS[unit] / PASCALS['mm[Hg]'];

/** Decimals in mm[Hg] that are as fine as `decimals` in the unit; fewer, never more. */
export const decimalsInMmHg = (decimals: number, unit: PressureUnit): number =>
  Math.max(0, unit === 'kPa' ? decimals - 1 : decimals);
