import type { Channel, ChannelKind } from '../recording/channel.js';
import type { Interval } from '../recording/interval.js';
import type { Recording } from '../recording/recording.js';
import { maxGapMs, nominalIntervalMs, signalOf } from '../recording/sampling.js';
import { firstAfter } from '../recording/search.js';
import { GrowingFloats } from './growing.js';
import type { PatientRows, RowSetAside } from './patient-rows.js';

/** A row of one of the files. */
interface RowRef {
  readonly rows: PatientRows;
  readonly index: number;
}

/** Rows of all files in time order; rows at the same time keep the order of the files. */
function* inTimeOrder(files: readonly PatientRows[]): Generator<RowRef> {
  const next = files.map(() => 0);
  for (;;) {
    let earliest = -1;
    let at = Number.POSITIVE_INFINITY;
    for (let f = 0; f < files.length; f++) {
      if (next[f] < files[f].times.length && files[f].times.at(next[f]) < at) {
        at = files[f].times.at(next[f]);
        earliest = f;
      }
    }
    if (earliest < 0) return;
    yield { rows: files[earliest], index: next[earliest]++ };
  }
}

/** Samples of one channel while the files are joined. */
class ChannelBuilder {
  readonly times = new GrowingFloats();
  readonly values = new GrowingFloats();
  /** Times of rows in which the channel's cell was blank or held a missing mark. */
  readonly blankTimes = new GrowingFloats();
  decimals = 0;

  constructor(
    readonly kind: ChannelKind,
    readonly header: string,
  ) {}

  /** A row's cell; NaN is a blank. A value that stands already is not taken twice. */
  add(time: number, value: number): void {
    if (Number.isNaN(value)) this.blankTimes.push(time);
    else if (this.times.last() !== time) {
      this.times.push(time);
      this.values.push(value);
    }
  }

  build(extent: Interval): Channel {
    const times = this.times.values().slice();
    const nominal = nominalIntervalMs(times);
    return {
      kind: this.kind,
      header: this.header,
      signal: signalOf(times, this.values.values().slice()),
      nominalIntervalMs: nominal,
      decimals: this.decimals,
      blanks: this.blankStretches(extent, maxGapMs(Number.isNaN(nominal) ? 0 : nominal)),
    };
  }

  private blankStretches(extent: Interval, longestGapMs: number): Interval[] {
    const times = this.times.values();
    const blanks = this.blankTimes.values();
    const stretches: Interval[] = [];
    let start = extent.start;
    for (let i = 0; i <= times.length; i++) {
      const end = i < times.length ? times[i] : extent.end;
      const isBlank = end - start > longestGapMs && blanks[firstAfter(blanks, start - 1)] <= end;
      if (isBlank) stretches.push({ start, end });
      start = end;
    }
    return stretches;
  }
}

/** A patient's recording, with the account of its rows. */
export interface JoinedRecording {
  readonly recording: Recording;
  readonly setAside: readonly RowSetAside[];
}

/** Why a row adds nothing to the rows kept at the same time, or contradicts one; null where it may be used. */
function clash(kept: readonly RowRef[], row: RowRef): string | null {
  if (kept.length === 0) return null;
  const place = ({ rows, index }: RowRef): string =>
    `same time as line ${rows.lines.at(index)} of ${rows.file}`;
  const valueIn = ({ rows, index }: RowRef, kind: ChannelKind): number =>
    rows.channels.find((c) => c.kind === kind)?.values.at(index) ?? Number.NaN;
  let adds = false;
  for (const { kind, values } of row.rows.channels) {
    const value = values.at(row.index);
    if (Number.isNaN(value)) continue;
    const holder = kept.find((other) => !Number.isNaN(valueIn(other, kind)));
    if (!holder) adds = true;
    else if (valueIn(holder, kind) !== value) return `${place(holder)}, which is kept, with other values`;
  }
  return adds ? null : `${place(kept[0])}, and nothing new`;
}

/** Takes rows of overlapping files in time order; gives those that add nothing or contradict. */
function takeOverlapping(
  files: readonly PatientRows[],
  extent: { start: number; end: number },
  take: (rows: PatientRows, index: number, time: number) => void,
): RowSetAside[] {
  const setAside: RowSetAside[] = [];
  let kept: RowRef[] = [];
  for (const row of inTimeOrder(files)) {
    const { rows, index } = row;
    const time = rows.times.at(index);
    if (time !== extent.end) kept = [];
    const reason = clash(kept, row);
    if (reason !== null) {
      setAside.push({ file: rows.file, line: rows.lines.at(index), reason });
      continue;
    }
    kept.push(row);
    extent.start = Math.min(extent.start, time);
    extent.end = time;
    take(rows, index, time);
  }
  return setAside;
}

/** The files by their first row, where each ends before the next begins; null where they overlap. */
function inSequence(files: readonly PatientRows[]): PatientRows[] | null {
  const ordered = files.filter(({ times }) => times.length > 0).sort((a, b) => a.times.at(0) - b.times.at(0));
  const apart = ordered.every(({ times }, f) => f === 0 || (ordered[f - 1].times.last() ?? 0) < times.at(0));
  return apart ? ordered : null;
}

/** Joins the files of one patient in time order; rows that stand twice are set aside. */
export function joinRows(id: string, files: readonly PatientRows[]): JoinedRecording {
  const setAside: RowSetAside[] = files.flatMap((file) => file.setAside);
  const builders = new Map<ChannelKind, ChannelBuilder>();
  for (const { channels } of files) {
    for (const { kind, header, decimals } of channels) {
      const builder = builders.get(kind) ?? new ChannelBuilder(kind, header);
      builder.decimals = Math.max(builder.decimals, decimals);
      builders.set(kind, builder);
    }
  }
  const take = ({ channels }: PatientRows, index: number, time: number): void => {
    for (const { kind, values } of channels) builders.get(kind)?.add(time, values.at(index));
  };
  const extent = { start: Number.POSITIVE_INFINITY, end: Number.NEGATIVE_INFINITY };
  const sequence = inSequence(files);
  if (sequence) {
    for (const rows of sequence) {
      for (let i = 0; i < rows.times.length; i++) take(rows, i, rows.times.at(i));
    }
    extent.start = sequence[0]?.times.at(0) ?? extent.start;
    extent.end = sequence.at(-1)?.times.last() ?? extent.end;
  } else setAside.push(...takeOverlapping(files, extent, take));
  const channels = Object.fromEntries([...builders.values()].map((b) => [b.kind, b.build(extent)]));
  setAside.sort((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : a.line - b.line));
  return { recording: { id, channels, extent }, setAside };
}
