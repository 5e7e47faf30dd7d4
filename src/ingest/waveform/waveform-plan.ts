import type { ChannelKind } from '../../recording/channel.js';
import { Problem, shorten } from '../../recording/problem.js';
import { median } from '../../recording/rolling-median.js';
import type { WaveKind } from '../../recording/waveform.js';
import type { Columns } from '../columns/columns.js';
import { fitted, type Layout } from '../text/layout.js';
import { timeReader, timeText } from '../time/time-cell.js';
import type { TimePlan } from '../time/time-plan.js';

/**
 * Rows that follow each other as closely as this are a waveform: about 10 a second. They show the pulse, which rules for
 * numbers would take for coughs; what fewer samples can be used for is told by `recording/waveform.ts`.
 */
export const WIDEST_INTERVAL_MS = 105;
/** Fewer rows than this do not show it. */
const LEAST_SPACINGS = 20;
/** A spacing longer than this many usual ones is a hole. */
const HOLE = 1.5;

const WAVE_KINDS: readonly ChannelKind[] = ['icp', 'icpDrain', 'map'];

/** How one column of a waveform file comes. */
export interface WaveColumn {
  /** Not null where the column is a waveform itself, and not a number that stands beside one. */
  readonly wave: WaveKind | null;
  /** Samples that a second should hold; null where the first rows do not tell. */
  readonly perSecond: number | null;
}

/** How the rows of a waveform file come. */
export interface WaveformPlan {
  /** From row to row, milliseconds. */
  readonly intervalMs: number;
  /** In the order of the channels. */
  readonly columns: readonly WaveColumn[];
}

/** The interval of rows that are close enough for a waveform, milliseconds; null where they are not. */
export function waveformInterval(localMs: readonly number[]): number | null {
  const spacings = localMs.slice(1).flatMap((time, i) => (time > localMs[i] ? [time - localMs[i]] : []));
  if (spacings.length < LEAST_SPACINGS) return null;
  const usual = median(Float64Array.from(spacings));
  if (usual > WIDEST_INTERVAL_MS) return null;
  // Times in whole milliseconds are uneven at 60 or 240 a second; their mean is not.
  const near = spacings.filter((spacing) => spacing < HOLE * usual);
  return near.reduce((sum, spacing) => sum + spacing, 0) / near.length;
}

/** The times of the first rows of a file with a column a channel, milliseconds; unreadable ones are left out. */
function firstTimes({ headers, samples }: Layout, { time }: Columns, plan: TimePlan): number[] {
  // Either order of day and month gives the same spacing.
  const read = timeReader({ ...plan, order: plan.order ?? 'dayFirst' }, 0);
  return samples.flatMap(({ cells }) => {
    const row = fitted(cells, headers);
    const text = row.length === headers.length ? timeText(row, time) : '';
    const written = text === '' ? 'unreadable' : read(text);
    return typeof written === 'string' || Number.isNaN(written.localMs) ? [] : [written.localMs];
  });
}

/** Refuses an export with a row a value whose values are a waveform: rows of each channel would be read as numbers. */
export function refuseLongWaveform(layout: Layout, columns: Columns, plan: TimePlan): void {
  const { long, patient, time } = columns;
  if (!long) return;
  const whose = (cells: readonly string[]): string =>
    `${cells[patient ?? -1] ?? ''}\n${cells[long.parameter]}`;
  const rows = layout.samples.filter(({ cells }) => cells.length === layout.headers.length);
  for (const one of new Set(rows.map(({ cells }) => whose(cells)))) {
    const samples = rows.filter(({ cells }) => whose(cells) === one);
    const intervalMs = waveformInterval(firstTimes({ ...layout, samples }, columns, plan));
    if (intervalMs === null) continue;
    const name = shorten(samples[0].cells[long.parameter].trim());
    throw new Problem(
      `rows of "${name}" follow each other every ${Number(intervalMs.toFixed(1))} ms: a waveform is not read from an export with a row a value`,
      'Export it with a column a channel and a row a time; it is then read as means over whole seconds.',
      { column: layout.headers[time.index] },
    );
  }
}

/** The interval of a file's first rows where they are a waveform; null where they are not. */
export const intervalOfWaveform = (layout: Layout, columns: Columns, plan: TimePlan): number | null =>
  columns.long ? null : waveformInterval(firstTimes(layout, columns, plan));

/** How each column of a waveform file comes, as its first rows show: in one at half the rate every other cell is blank. */
export function waveformPlan(intervalMs: number, { samples }: Layout, { channels }: Columns): WaveformPlan {
  const columns = channels.map(({ kind, index }): WaveColumn => {
    const filled = samples.flatMap(({ cells }, row) => (/\d/.test(cells[index] ?? '') ? [row] : []));
    const strides = filled.slice(1).map((row, i) => row - filled[i]);
    const isWave = WAVE_KINDS.includes(kind);
    // A column that is blank at first is taken to come with each row.
    if (strides.length === 0) {
      return isWave
        ? { wave: kind as WaveKind, perSecond: 1000 / intervalMs }
        : { wave: null, perSecond: null };
    }
    const own = intervalMs * median(Float64Array.from(strides));
    const isFine = isWave && own <= WIDEST_INTERVAL_MS;
    return { wave: isFine ? (kind as WaveKind) : null, perSecond: 1000 / own };
  });
  return { intervalMs, columns };
}
