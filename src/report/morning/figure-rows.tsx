import type { Targets } from '../../summarize/targets.js';
import type { Row } from '../page/table.js';
import type { RecordingResult, WindowResult } from '../results-schema.js';
import { dose, duration, NONE, pressure } from '../words.js';

type Icp = RecordingResult['icp'];
type Cpp = RecordingResult['cpp'];

/** One column of figures: a night, the signal as exported, or suspect stretches taken the other way. */
export interface FigureColumn {
  readonly monitoredHours?: WindowResult['monitoredHours'] | undefined;
  readonly icp: Icp;
  readonly cpp: Cpp;
  readonly episodes?: number | null | undefined;
  readonly longestEpisodeMinutes?: number | null | undefined;
}

export const bandName = ({ fromMmHg, toMmHg }: Cpp['bands'][number], isLastInner: boolean): string => {
  if (fromMmHg === null) return `CPP below ${toMmHg}`;
  if (toMmHg === null) return `CPP above ${fromMmHg}`;
  return isLastInner ? `CPP ${fromMmHg} to ${toMmHg}` : `CPP ${fromMmHg} to under ${toMmHg}`;
};

/** Rows of figures of ICP and of CPP, a column each; what a column does not have is left blank. */
export function figureRows(
  columns: readonly FigureColumn[],
  { icpThresholdMmHg, icpBandMmHg, cppFloorMmHg }: Targets,
  decimals: RecordingResult['decimals'],
): { icp: Row[]; cpp: Row[] } {
  const row = (name: string, cell: (column: FigureColumn) => string): Row => ({
    key: name,
    cells: [name, ...columns.map(cell)],
  });
  const icp = (name: string, key: 'meanMmHg' | 'medianMmHg' | 'highest5MinMmHg'): Row =>
    row(`${name}, mmHg`, (c) => pressure(c.icp[key], decimals.icp));
  const cpp = (name: string, key: 'meanMmHg' | 'lowest5MinMmHg'): Row =>
    row(`${name}, mmHg`, (c) => pressure(c.cpp[key], decimals.cpp));
  const [low, high] = icpBandMmHg;
  const bands = columns[0]?.cpp.bands ?? [];
  const icpRows = [
    row('ICP known', (c) => (c.monitoredHours ? duration(c.monitoredHours.icp) : '')),
    icp('Mean ICP', 'meanMmHg'),
    icp('Median ICP', 'medianMmHg'),
    icp('Highest 5-min mean ICP', 'highest5MinMmHg'),
    row(`ICP above ${icpThresholdMmHg} mmHg`, (c) => duration(c.icp.hoursAboveThreshold)),
    row(`ICP dose above ${icpThresholdMmHg}, mmHg·h`, (c) => dose(c.icp.doseMmHgHours)),
    row('Episodes', (c) => (c.episodes === undefined ? '' : String(c.episodes ?? NONE))),
    ...(columns.some((c) => typeof c.longestEpisodeMinutes === 'number')
      ? [
          row('Longest episode', (c) =>
            typeof c.longestEpisodeMinutes === 'number' ? duration(c.longestEpisodeMinutes / 60) : '',
          ),
        ]
      : []),
    row(`ICP below ${low} mmHg`, (c) => duration(c.icp.hoursBelowBand)),
    row(`ICP ${low} to ${high} mmHg`, (c) => duration(c.icp.hoursWithinBand)),
    row(`ICP above ${high} mmHg`, (c) => duration(c.icp.hoursAboveBand)),
  ];
  if (columns.every(({ cpp }) => cpp.meanMmHg === null)) return { icp: icpRows, cpp: [] };
  const cppRows = [
    row('CPP known', (c) => (c.monitoredHours ? duration(c.monitoredHours.cpp) : '')),
    cpp('Mean CPP', 'meanMmHg'),
    cpp('Lowest 5-min mean CPP', 'lowest5MinMmHg'),
    row(`CPP below ${cppFloorMmHg} mmHg`, (c) => duration(c.cpp.hoursBelowFloor)),
    row(`CPP dose below ${cppFloorMmHg}, mmHg·h`, (c) => dose(c.cpp.doseBelowFloorMmHgHours)),
    ...bands.map((band, i) =>
      row(`${bandName(band, i === bands.length - 2)} mmHg`, (c) => duration(c.cpp.bands[i]?.hours ?? null)),
    ),
  ];
  return { icp: icpRows, cpp: cppRows };
}

/** The reasons behind figures that are missing, each once. */
export function missingReasons(figures: readonly (Icp | Cpp)[]): string[] {
  const reasons = figures.flatMap((one) =>
    Object.entries(one).flatMap(([key, value]) =>
      key.endsWith('Reason') && typeof value === 'string' ? [value] : [],
    ),
  );
  return [...new Set(reasons)];
}
