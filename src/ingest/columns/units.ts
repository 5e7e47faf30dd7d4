import type { ChannelUnit } from '../../recording/channel.js';

/** Pascals in one unit. Source: NIST SP 811 (2008), appendix B.8. */
const PASCALS = { 'mm[Hg]': 133.3224, 'cm[H2O]': 98.0665, kPa: 1000 } as const;

/** A pressure unit in UCUM spelling. */
export type PressureUnit = keyof typeof PASCALS;

/** A unit that exports use, in UCUM spelling. */
export type ExportUnit = PressureUnit | '/min' | '%' | 'Cel' | '[degF]';

/** Spellings in lower case without spaces. UCUM's own, and common practice, no source. */
const SPELLINGS: ReadonlyMap<string, ExportUnit> = new Map(
  (
    [
      ['mm[Hg]', 'mmhg mm[hg]'],
      ['cm[H2O]', 'cmh2o cm[h2o]'],
      ['kPa', 'kpa'],
      ['/min', '/min 1/min min-1 min^-1 bpm beats/min {beats}/min breaths/min {breaths}/min rpm'],
      ['%', '% percent'],
      ['Cel', 'cel c °c ºc degc celsius'],
      ['[degF]', '[degf] f °f ºf degf fahrenheit'],
    ] as const
  ).flatMap(([unit, spellings]) => spellings.split(' ').map((text) => [text, unit] as const)),
);

/** The unit that a text means, whatever its case and spaces; null where it is none known here. */
export const unitNamed = (text: string): ExportUnit | null =>
  SPELLINGS.get(text.toLowerCase().replace(/[\s_₂]/g, (c) => (c === '₂' ? '2' : ''))) ?? null;

/** What a value in this unit is multiplied with to give mm[Hg]; 1 for mm[Hg] itself. */
export const mmHgPer = (unit: PressureUnit): number => PASCALS[unit] / PASCALS['mm[Hg]'];

/** How values in an export's unit become values in the channel's: `value * factor + offset`. */
export interface Conversion {
  readonly factor: number;
  readonly offset: number;
  /** Decimals that the unit loses against the channel's: a kPa is coarse. */
  readonly decimalsLost: number;
}

/** How `from` becomes `to`; null where they measure different things. */
export function conversion(from: ExportUnit, to: ChannelUnit): Conversion | null {
  if (from === to) return { factor: 1, offset: 0, decimalsLost: 0 };
  if (to === 'mm[Hg]' && from in PASCALS) {
    return { factor: mmHgPer(from as PressureUnit), offset: 0, decimalsLost: from === 'kPa' ? 1 : 0 };
  }
  if (to === 'Cel' && from === '[degF]') return { factor: 5 / 9, offset: -160 / 9, decimalsLost: 0 };
  return null;
}
