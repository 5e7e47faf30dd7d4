import { type HeatMap, heatMapSpec } from '../charts/audit-heat-map.js';
import type { Draw } from '../charts/spec.js';
import type { AuditWhatIf, WhatIfCellResult } from '../results-audit-what-if.js';
import { NONE } from '../words.js';

/** What a map can show of each setting. */
export const MAPS = ['alarmsPerDay', 'caughtShare', 'medianNoticeMinutes'] as const;
export type MapName = (typeof MAPS)[number];

export type WhatIfReading = 'raw' | 'cleaned';

/** The maps as SVG. */
export type WhatIfDrawings = Readonly<Record<WhatIfReading, Readonly<Record<MapName, string>>>>;

/** A number with three figures at most; one that is there is never shown as none. */
export function shortNumber(value: number | null): string {
  if (value === null) return NONE;
  if (value === 0) return '0';
  if (value > 0 && value < 0.05) return '<0.1';
  return value < 9.95 ? value.toFixed(1) : value.toFixed(0);
}

/** A share in per cent without its sign, for a cell whose title has it; only all is 100, only none is 0. */
export function shortPercent(part: number | null): string {
  if (part === null) return NONE;
  const percent = Math.round(part * 100);
  if (percent === 0 && part > 1e-9) return '<1';
  if (percent === 100 && part < 1 - 1e-9) return '>99';
  return String(percent);
}

const TEXT: Readonly<Record<MapName, (value: number | null) => string>> = {
  alarmsPerDay: shortNumber,
  caughtShare: shortPercent,
  medianNoticeMinutes: shortNumber,
};

/** So many times fewer alarms than the most are as light as none. */
const RANGE = 1000;

/** Alarms by the logarithm, or the few settings with very many would leave one shade to the rest. */
const DARKNESS: Readonly<Record<MapName, (value: number, highest: number) => number>> = {
  alarmsPerDay: (value, highest) =>
    value > 0 ? Math.max(0, 1 + Math.log(value / highest) / Math.log(RANGE)) : 0,
  caughtShare: (value) => value,
  medianNoticeMinutes: (value, highest) => (highest > 0 ? value / highest : 0),
};

const isAt =
  (setting: { limitMmHg: number; delaySeconds: number }) =>
  (cell: WhatIfCellResult): boolean =>
    cell.limitMmHg === setting.limitMmHg && cell.delaySeconds === setting.delaySeconds;

/** The map of one figure; dots and frame are those of the raw reading, on which choices are made. */
export function whatIfMap(part: AuditWhatIf, reading: WhatIfReading, name: MapName): HeatMap {
  const { limitsMmHg, delaysSeconds, present } = part;
  const values = part[reading].map((cell) => cell[name]);
  const highest = values.reduce((most: number, value) => Math.max(most, value ?? 0), 0);
  const framed = present === null ? -1 : part.raw.findIndex(isAt(present));
  const choices = reading === 'raw' ? part.choices.map((one) => part.raw.findIndex(isAt(one))) : [];
  return {
    limitsMmHg,
    delaysSeconds,
    darkness: values.map((value) => (value === null ? null : DARKNESS[name](value, highest))),
    texts: values.map(TEXT[name]),
    marked: new Set(choices),
    framed: framed < 0 ? null : framed,
  };
}

/** Draws all maps of the section. */
export async function drawWhatIf(part: AuditWhatIf, draw: Draw): Promise<WhatIfDrawings> {
  const mapsOf = async (reading: WhatIfReading): Promise<Record<MapName, string>> => {
    const drawn: [MapName, string][] = [];
    for (const name of MAPS) {
      drawn.push([name, await draw(heatMapSpec(whatIfMap(part, reading, name)), `${reading}-${name}`)]);
    }
    return Object.fromEntries(drawn) as Record<MapName, string>;
  };
  return { raw: await mapsOf('raw'), cleaned: await mapsOf('cleaned') };
}
