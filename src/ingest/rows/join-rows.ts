import type { Channel, ChannelKind } from '../../recording/channel.js';
import type { Interval } from '../../recording/interval.js';
import type { Recording } from '../../recording/recording.js';
import type { ZoneClock } from '../../recording/zone.js';
import { besideWaveforms } from '../waveform/numbers-beside.js';
import { ChannelBuilder } from './channel-builder.js';
import { clockSetBack } from './clock-set-back.js';
import { farOff } from './far-off.js';
import { interleaved } from './interleaved.js';
import type { PatientRows } from './patient-rows.js';
import type { RowSeries } from './row-series.js';
import { type RowRef, resolveSameTime } from './same-time.js';
import type { RowSetAside } from './set-aside.js';

/** A patient's recording, with the account of its rows. */
export interface JoinedRecording {
  readonly recording: Recording;
  readonly setAside: readonly RowSetAside[];
  /** What somebody should know of the times, in plain words. */
  readonly warnings: readonly string[];
}

/** Series in groups: those that share a channel can repeat or contradict each other, others cannot. */
function sharingChannels(series: readonly RowSeries[]): RowSeries[][] {
  let groups: { kinds: Set<ChannelKind>; members: RowSeries[] }[] = [];
  for (const one of series) {
    const kinds = new Set(one.channels.map(({ kind }) => kind));
    const touching = groups.filter((group) => [...kinds].some((kind) => group.kinds.has(kind)));
    groups = groups.filter((group) => !touching.includes(group));
    groups.push({
      kinds: new Set([...touching.flatMap((group) => [...group.kinds]), ...kinds]),
      members: [...touching.flatMap(({ members }) => members), one],
    });
  }
  return groups.map(({ members }) => members);
}

/** The series by their first row, where each rises and ends before the next begins; null where they overlap. */
function inSequence(series: readonly RowSeries[]): RowSeries[] | null {
  const ordered = series
    .filter(({ times }) => times.length > 0)
    .sort((a, b) => a.times.at(0) - b.times.at(0));
  const apart = ordered.every(
    ({ times, isRising }, s) => isRising && (s === 0 || (ordered[s - 1].times.last() ?? 0) < times.at(0)),
  );
  return apart ? ordered : null;
}

/** All rows in time order; rows at the same time keep the order in which they came. */
function inTimeOrder(series: readonly RowSeries[]): RowRef[] {
  const total = series.reduce((sum, { times }) => sum + times.length, 0);
  const times = new Float64Array(total);
  const refs: RowRef[] = new Array(total);
  let n = 0;
  for (const one of series) {
    for (let index = 0; index < one.times.length; index++) {
      times[n] = one.times.at(index);
      refs[n] = { series: one, index };
      n++;
    }
  }
  const order = Uint32Array.from({ length: total }, (_, i) => i).sort((a, b) => times[a] - times[b] || a - b);
  return Array.from(order, (i) => refs[i]);
}

const timeOf = ({ series, index }: RowRef): number => series.times.at(index);

/** Takes rows that overlap; gives those that are repeated, contradict, or stand in times that a clock showed twice. */
function takeOverlapping(
  series: readonly RowSeries[],
  outOfPlace: readonly ReadonlyMap<RowSeries, ReadonlyMap<number, string>>[],
  take: (row: RowRef) => void,
): RowSetAside[] {
  const setAside: RowSetAside[] = [];
  const rows = inTimeOrder(series);
  for (let from = 0; from < rows.length; ) {
    let to = from + 1;
    while (to < rows.length && timeOf(rows[to]) === timeOf(rows[from])) to++;
    const group = rows.slice(from, to).filter((row) => {
      const reason = outOfPlace.map((rows) => rows.get(row.series)?.get(row.index)).find(Boolean);
      if (reason === undefined) return true;
      setAside.push({ ...placeOf(row), rows: row.series.rowsAt(row.index), kind: 'clock', reason });
      return false;
    });
    const { kept, aside } = group.length === 1 ? { kept: group, aside: [] } : resolveSameTime(group);
    for (const entry of aside) setAside.push(entry);
    kept.forEach(take);
    from = to;
  }
  return setAside;
}

const placeOf = ({ series, index }: RowRef): { file: string; line: number } => ({
  file: series.file,
  line: series.lines.at(index),
});

/** The builders of all channels that the series hold. */
function buildersFor(series: readonly RowSeries[]): Map<ChannelKind, ChannelBuilder> {
  const builders = new Map<ChannelKind, ChannelBuilder>();
  for (const { channels } of series) {
    for (const { kind, header, source, decimals } of channels) {
      const builder = builders.get(kind) ?? new ChannelBuilder(kind, header, source);
      builder.decimals = Math.max(builder.decimals, decimals);
      builders.set(kind, builder);
    }
  }
  return builders;
}

/** What somebody should know of rows in the hour that a clock shows twice in autumn. */
function repeatedHourWarnings(series: RowSeries, clock: ZoneClock): string[] {
  const { file, secondPassAt, doubtfulAt, times, lines } = series;
  const wall = (index: number): string => clock.format(times.at(index)).slice(0, 16).replace('T', ' ');
  return [
    ...(secondPassAt < 0 || secondPassAt >= times.length
      ? []
      : [
          `${file}: from line ${lines.at(secondPassAt)} on (${wall(secondPassAt)}) the rows were taken for the second pass through the hour that the clock showed twice that night, behind a hole.`,
        ]),
    ...(doubtfulAt >= 0
      ? [
          `${file}: the clock shows the hour of ${wall(doubtfulAt)} twice that night, and nothing says which one is meant; it was taken for that of ${clock.format(times.at(doubtfulAt)).slice(19)}.`,
        ]
      : []),
  ];
}

/**
 * Joins the rows of one patient in time order; rows that stand twice are set aside.
 *
 * @throws Problem where two files hold the same channel over the same time, and neither repeats the other
 */
export function joinRows(id: string, files: readonly PatientRows[], clock: ZoneClock): JoinedRecording {
  const setAside: RowSetAside[] = files.flatMap((file) => file.setAside);
  const { series, ...beside } = besideWaveforms(
    files.flatMap((file) => file.series),
    clock,
  );
  for (const entry of beside.setAside) setAside.push(entry);
  const builders = buildersFor(series);
  const take = ({ channels, times }: RowSeries, index: number): void => {
    const time = times.at(index);
    for (const { kind, values } of channels) builders.get(kind)?.add(time, values.at(index));
  };
  const warnings: string[] = [...beside.warnings];
  const extent: { start: number; end: number } = {
    start: Number.POSITIVE_INFINITY,
    end: Number.NEGATIVE_INFINITY,
  };
  const far = farOff(series, clock);
  warnings.push(...far.warnings);
  for (const group of sharingChannels(series)) {
    const sequence = group.some((one) => far.rows.has(one)) ? null : inSequence(group);
    if (sequence) {
      for (const { channels, times } of sequence) {
        // Channels of the same rows share their times.
        const shared = times.values();
        for (const { kind, values } of channels) builders.get(kind)?.addAll(shared, values.values());
      }
      extent.start = Math.min(extent.start, sequence[0]?.times.at(0) ?? extent.start);
      extent.end = Math.max(extent.end, sequence.at(-1)?.times.last() ?? extent.end);
      continue;
    }
    interleaved(group);
    const back = clockSetBack(group, clock);
    warnings.push(...back.warnings);
    const aside = takeOverlapping(group, [back.doubled, far.rows], ({ series: one, index }) => {
      extent.start = Math.min(extent.start, one.times.at(index));
      extent.end = Math.max(extent.end, one.times.at(index));
      take(one, index);
    });
    for (const entry of aside) setAside.push(entry);
  }
  warnings.push(...series.flatMap((one) => repeatedHourWarnings(one, clock)));
  const channels = Object.fromEntries(
    [...builders.values()].map((b): [ChannelKind, Channel] => [b.kind, b.build(extent)]),
  );
  setAside.sort((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : a.line - b.line));
  return {
    recording: { id, channels, extent: extent as Interval },
    setAside,
    warnings: [...new Set(warnings)],
  };
}
