/** Random recordings, and random ways in which a monitor may write them. The reader's own code is not used here. */
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import type { IngestSettings, TimeChoice } from '../../src/ingest/settings.js';
import type { ChannelKind } from '../../src/recording/channel.js';

export interface Row {
  /** Milliseconds since 1970-01-01 UTC. */
  readonly at: number;
  /** In the channels' own units; null is a blank. */
  readonly values: readonly (number | null)[];
}

export const ZONES = [
  'UTC',
  'Europe/Oslo',
  'Europe/Lisbon',
  'America/Halifax',
  'America/Los_Angeles',
  'America/Sao_Paulo',
  'Asia/Kathmandu',
  'Asia/Tokyo',
  'Australia/Lord_Howe',
  'Pacific/Auckland',
] as const;

const [SECOND, MINUTE, HOUR, DAY] = [1000, 60_000, 3_600_000, 86_400_000];

/** The instants from 2024 to 2035 at which the clocks of a zone change. */
export function changesOf(zone: string): number[] {
  const changes: number[] = [];
  let at: Temporal.ZonedDateTime | null = Temporal.Instant.fromEpochMilliseconds(
    Date.UTC(2024),
  ).toZonedDateTimeISO(zone);
  for (;;) {
    at = at.getTimeZoneTransition('next');
    if (!at || at.epochMilliseconds >= Date.UTC(2036)) return changes;
    changes.push(at.epochMilliseconds);
  }
}

export const offsetAt = (zone: string, at: number): number =>
  Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone).offsetNanoseconds / 1e6;

/** How times are written; `step` is the finest that the form can show. */
export interface TimeForm {
  readonly name: string;
  readonly step: number;
  /** A column of its own for the date, or none. */
  readonly headers: readonly [string] | readonly [date: string, time: string];
  readonly write: (at: number, moment: Moment) => readonly string[];
  /** True where the wall clock alone is written, so that an hour that it shows twice is in doubt. */
  readonly isLocal: boolean;
  /** The order of day and month, where it has to be known. */
  readonly order?: 'dayFirst' | 'monthFirst';
  /** What the pipeline file has to say. */
  readonly choice?: (first: Moment) => TimeChoice;
  /** A line above the header that says it instead. */
  readonly above?: (first: Moment) => string;
  /** True where the form's numbers have a decimal mark. */
  readonly isDecimal?: boolean;
}

interface Moment {
  readonly zone: string;
  readonly offset: number;
  readonly at: number;
  /** The start of elapsed time. */
  readonly start: number;
}

const pad = (n: number, width = 2): string => String(n).padStart(width, '0');
const signed = (offset: number): string =>
  `${offset < 0 ? '-' : '+'}${pad(Math.floor(Math.abs(offset) / HOUR))}:${pad((Math.abs(offset) / MINUTE) % 60)}`;

interface Wall {
  readonly y: number;
  readonly mo: number;
  readonly d: number;
  readonly h: number;
  readonly hms: string;
  readonly hm: string;
  readonly ms: string;
}

function wall(at: number, offset: number): Wall {
  const date = new Date(at + offset);
  const [h, mi, s] = [date.getUTCHours(), date.getUTCMinutes(), date.getUTCSeconds()];
  return {
    y: date.getUTCFullYear(),
    mo: date.getUTCMonth() + 1,
    d: date.getUTCDate(),
    h,
    hm: `${pad(h)}:${pad(mi)}`,
    hms: `${pad(h)}:${pad(mi)}:${pad(s)}`,
    ms: pad(date.getUTCMilliseconds(), 3),
  };
}

const isoDate = ({ y, mo, d }: Wall): string => `${y}-${pad(mo)}-${pad(d)}`;
const twelve = ({ h, hms }: Wall): string => `${pad(h % 12 || 12)}${hms.slice(2)} ${h < 12 ? 'AM' : 'PM'}`;
const ENGLISH = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');
const GERMAN = 'Januar Februar März April Mai Juni Juli August September Oktober November Dezember'.split(
  ' ',
);

const local = (
  name: string,
  step: number,
  write: (w: Wall) => string,
  more: Partial<TimeForm> = {},
): TimeForm => ({
  name,
  step,
  headers: ['Time'],
  isLocal: true,
  write: (at, { offset }) => [write(wall(at, offset))],
  ...more,
});
const apart = (name: string, date: (w: Wall) => string, more: Partial<TimeForm> = {}): TimeForm => ({
  ...local(name, SECOND, () => '', more),
  headers: ['Date', 'Time'],
  write: (at, { offset }) => [date(wall(at, offset)), wall(at, offset).hms],
});
const startText = ({ zone, start }: Moment): string => {
  const w = wall(start, offsetAt(zone, start));
  return `${isoDate(w)} ${w.hms}${signed(offsetAt(zone, start))}`;
};
const elapsed = (header: string, unit: number, digits: number, step: number, isAbove: boolean): TimeForm => ({
  name: `${header}, start ${isAbove ? 'above the header' : 'declared'}`,
  step,
  headers: [header],
  isLocal: false,
  isDecimal: digits > 0,
  write: (at, { start }) => [((at - start) / unit).toFixed(digits)],
  ...(isAbove
    ? { above: (first) => `Start: ${startText(first)}` }
    : { choice: (first) => ({ start: startText(first) }) }),
});

export const TIME_FORMS: readonly TimeForm[] = [
  local('ISO with a space', SECOND, (w) => `${isoDate(w)} ${w.hms}`),
  local('ISO with T and milliseconds', 1, (w) => `${isoDate(w)}T${w.hms}.${w.ms}`),
  local('ISO to the minute', MINUTE, (w) => `${isoDate(w)} ${w.hm}`),
  local('year first with slashes', SECOND, (w) => `${w.y}/${pad(w.mo)}/${pad(w.d)} ${w.hms}`),
  local('digits only', SECOND, (w) => `${isoDate(w)}${w.hms}`.replace(/[-:]/g, '')),
  local('24:00 at midnight', SECOND, (w) => `${isoDate(w)} ${w.hms}`, {
    write: (at, { offset }) => {
      const w = wall(at, offset);
      return [
        w.hms === '00:00:00' ? `${isoDate(wall(at - HOUR, offset))} 24:00:00` : `${isoDate(w)} ${w.hms}`,
      ];
    },
  }),
  local('day first with points', SECOND, (w) => `${pad(w.d)}.${pad(w.mo)}.${w.y} ${w.hms}`, {
    order: 'dayFirst',
  }),
  local('day first with slashes', 1, (w) => `${w.d}/${w.mo}/${w.y} ${w.hms}.${w.ms}`, { order: 'dayFirst' }),
  local('month first, AM and PM', SECOND, (w) => `${pad(w.mo)}/${pad(w.d)}/${w.y} ${twelve(w)}`, {
    order: 'monthFirst',
  }),
  local('English months', SECOND, (w) => `${pad(w.d)}-${ENGLISH[w.mo - 1]}-${w.y} ${w.hms}`),
  local('German months', SECOND, (w) => `${w.d}. ${GERMAN[w.mo - 1]} ${w.y} ${w.hms}`),
  apart('date and time apart', isoDate),
  apart('date and time apart, day first', (w) => `${pad(w.d)}.${pad(w.mo)}.${w.y}`, { order: 'dayFirst' }),
  {
    name: 'with an offset',
    step: 1,
    headers: ['Timestamp'],
    isLocal: false,
    write: (at, { offset }) => {
      const w = wall(at, offset);
      return [`${isoDate(w)}T${w.hms}.${w.ms}${signed(offset)}`];
    },
  },
  {
    name: 'with Z',
    step: SECOND,
    headers: ['Timestamp'],
    isLocal: false,
    write: (at) => [`${isoDate(wall(at, 0))}T${wall(at, 0).hms}Z`],
  },
  {
    name: 'UTC by the header',
    step: SECOND,
    headers: ['Time (UTC)'],
    isLocal: false,
    write: (at) => [`${isoDate(wall(at, 0))} ${wall(at, 0).hms}`],
  },
  elapsed('Elapsed (s)', SECOND, 1, 100, false),
  elapsed('Elapsed (s)', SECOND, 0, SECOND, true),
  elapsed('Elapsed (ms)', 1, 0, 1, true),
  elapsed('Elapsed (min)', MINUTE, 9, SECOND, false),
  elapsed('Elapsed (h)', HOUR, 10, SECOND, true),
  local('days of a spreadsheet', SECOND, () => '', {
    isDecimal: true,
    write: (at, { offset }) => [((at + offset) / DAY + 25_569).toFixed(10)],
  }),
  {
    name: 'epoch seconds',
    step: 100,
    headers: ['Time'],
    isLocal: false,
    isDecimal: true,
    write: (at) => [(at / 1000).toFixed(1)],
  },
  {
    name: 'epoch milliseconds',
    step: 1,
    headers: ['Timestamp'],
    isLocal: false,
    write: (at) => [String(at)],
  },
];

interface ChannelForm {
  readonly kind: ChannelKind;
  readonly names: readonly string[];
  /** Spellings of its units, each with what a value is multiplied with to stand in it; digits where not its own. */
  readonly units: readonly (readonly [text: string, factor: number])[];
}

const PRESSURE_UNITS = [
  ['mmHg', 1],
  ['mm[Hg]', 1],
  ['kPa', 0.1333224],
  ['cmH2O', 133.3224 / 98.0665],
] as const;
export const CHANNELS: readonly ChannelForm[] = [
  { kind: 'icp', names: ['ICP', 'ICP mean', 'Intracranial pressure', 'PIC'], units: PRESSURE_UNITS },
  { kind: 'map', names: ['MAP', 'ABP mean', 'ARTm', 'Mean arterial pressure'], units: PRESSURE_UNITS },
  {
    kind: 'hr',
    names: ['HR', 'Heart rate', 'Pulse'],
    units: [
      ['/min', 1],
      ['bpm', 1],
    ],
  },
  { kind: 'spo2', names: ['SpO2'], units: [['%', 1]] },
  {
    kind: 'temp',
    names: ['Temp', 'Temperature'],
    units: [
      ['°C', 1],
      ['Cel', 1],
    ],
  },
  { kind: 'etco2', names: ['EtCO2'], units: PRESSURE_UNITS },
];

/** How the file is written. */
export const styles = fc.record({
  isLong: fc.boolean(),
  delimiter: fc.constantFrom(',', ';', '\t', '|'),
  decimalMark: fc.constantFrom('.', '.', ','),
  quotes: fc.constantFrom('needed', 'needed', 'all', 'texts'),
  lineBreak: fc.constantFrom('\n', '\r\n', '\r'),
  hasLastBreak: fc.boolean(),
  encoding: fc.constantFrom('utf8', 'utf8', 'utf8 marked', 'utf16le', 'utf16be', 'latin1'),
  isPacked: fc.boolean(),
  form: fc.constantFrom(...TIME_FORMS),
  unitsRow: fc.boolean(),
  preamble: fc.subarray(
    [
      'Export of pressures',
      'Bed 4',
      'Time',
      'ICP',
      'Time zone: of the unit',
      'ICP zeroed at 18:00; level checked',
      'Parameter, Value, Remark',
      '',
      'Sampling | as recorded',
      'Made on 2036-01-01 07:00:00',
    ],
    { maxLength: 8 },
  ),
  footer: fc.subarray(['End of export', 'No more rows', 'Checked by nobody']),
  isNewestFirst: fc.integer({ min: 0, max: 9 }).map((n) => n === 0),
  missing: fc.constantFrom('', '', '---', 'NaN', '-', 'n/a'),
  chunkBytes: fc.constantFrom(3, 64, 1000, 100_000),
  isOrderSaid: fc.boolean(),
});
type ValueOf<T> = T extends fc.Arbitrary<infer U> ? U : never;
export type Style = ValueOf<typeof styles>;

const STEPS = [100, 500, SECOND, 5 * SECOND, MINUTE, 5 * MINUTE, 30 * MINUTE];

/** A recording before the form of its times has said how fine they can be. */
export const drafts = fc.record({
  zone: fc.constantFrom(...ZONES),
  kinds: fc
    .subarray(CHANNELS.slice(1), { maxLength: 2 })
    .map((others): readonly ChannelForm[] => [CHANNELS[0], ...others]),
  isTenths: fc.boolean(),
  isNearChange: fc.boolean(),
  place: fc.double({ min: 0, max: 0.999, noNaN: true }),
  /** So many rows before a change the recording begins. */
  rowsBefore: fc.integer({ min: -8, max: 30 }),
  stepMs: fc.constantFrom(...STEPS),
  jitter: fc.boolean(),
  /** Milliseconds by which elapsed time begins before the first row. */
  lead: fc.integer({ min: 0, max: 5000 }).map((n) => n * SECOND),
  rows: fc.array(
    fc.record({
      /** Missing rows before this one. */
      hole: fc.oneof(
        { weight: 12, arbitrary: fc.constant(0) },
        { weight: 1, arbitrary: fc.integer({ min: 1, max: 40 }) },
      ),
      late: fc.integer({ min: 0, max: 40 }),
      values: fc.array(
        fc.oneof(
          { weight: 8, arbitrary: fc.integer({ min: -120, max: 999 }) },
          { weight: 1, arbitrary: fc.constant(null) },
        ),
        { minLength: 3, maxLength: 3 },
      ),
      unit: fc.nat(3),
    }),
    { minLength: 5, maxLength: 40 },
  ),
  names: fc.tuple(fc.nat(9), fc.nat(9), fc.nat(9)),
  units: fc.tuple(fc.nat(9), fc.nat(9), fc.nat(9)),
  cuts: fc.uniqueArray(fc.double({ min: 0.1, max: 0.9, noNaN: true }), { maxLength: 2 }),
  overlaps: fc.tuple(fc.nat(4), fc.nat(4)),
  fileNames: fc.shuffledSubarray(['a.csv', 'b.csv', 'c.csv'], { minLength: 3 }),
});
export type Draft = ValueOf<typeof drafts>;

/** A recording whose times the form can show. */
export function rowsOf(draft: Draft, { step }: TimeForm): Row[] {
  const { zone, isNearChange, place, rowsBefore, isTenths, kinds } = draft;
  const stepMs = Math.ceil(draft.stepMs / step) * step;
  const changes = changesOf(zone);
  const anywhere = Date.UTC(2024) + place * (Date.UTC(2035, 11, 1) - Date.UTC(2024));
  const near = changes[Math.floor(place * changes.length)];
  const from = isNearChange && near !== undefined ? near - rowsBefore * stepMs : anywhere;
  let at = Math.floor(from / Math.max(step, 100)) * Math.max(step, 100);
  return draft.rows.map(({ hole, late, values }, i) => {
    if (i > 0) at += (hole + 1) * stepMs;
    const shown = step === 1 && draft.jitter && stepMs >= 500 ? at + late : at;
    return {
      at: shown,
      values: kinds.map(({ kind }, c) => {
        const n = values[c];
        if (n === null) return null;
        const size = kind === 'icp' ? n : Math.abs(n);
        return isTenths ? size / 10 : Math.round(size / 10);
      }),
    };
  });
}

/** The rows of each file, in the order of their times; neighbours may overlap. */
export function partsOf(draft: Draft, rows: readonly Row[]): Row[][] {
  const wanted = draft.cuts.map((cut) => Math.max(1, Math.floor(cut * rows.length)));
  const cuts = [...new Set(wanted)].sort((a, b) => a - b);
  const starts = [0, ...cuts];
  return starts.map((start, i) =>
    rows.slice(Math.max(0, start - (i === 0 ? 0 : draft.overlaps[i - 1])), starts[i + 1] ?? rows.length),
  );
}

/** A step back of so little may as well be a clock that was set back. */
const SET_BACK_MS = 5 * MINUTE;

/** True where the wall clock alone tells when each row was: no step is in doubt. */
export function isDecidable(rows: readonly Row[], zone: string): boolean {
  const shows = rows.map(({ at }) => at + offsetAt(zone, at));
  if (shows.some((show, i) => i > 0 && show <= shows[i - 1] && shows[i - 1] - show <= SET_BACK_MS))
    return false;
  const other = rows.map(({ at }, i) => {
    for (const back of [30 * MINUTE, HOUR]) {
      if (at + back + offsetAt(zone, at + back) === shows[i]) return at + back;
      if (at - back + offsetAt(zone, at - back) === shows[i]) return at - back;
    }
    return null;
  });
  const inside = other.flatMap((o, i) => (o === null ? [] : [i]));
  if (inside.length === 0) return true;
  const [first, last] = [inside[0], inside[inside.length - 1]];
  // Every way of giving the first so many rows to the first pass and the rest to the second.
  let ways = 0;
  for (let split = first; split <= last + 1; split++) {
    const times = rows.map(({ at }, i) => {
      const o = other[i];
      return o === null ? at : i < split ? Math.min(at, o) : Math.max(at, o);
    });
    if (times.every((t, i) => i === 0 || t > times[i - 1])) ways++;
  }
  if (ways === 1) return true;
  // Otherwise only rows that run on without a hole, from before the hour or to behind it, tell.
  if (first === 0 && last === rows.length - 1) return false;
  const step = usualStep(rows);
  for (let i = Math.max(1, first); i <= Math.min(rows.length - 1, last + 1); i++) {
    if (rows[i].at - rows[i - 1].at > Math.max(1.5 * step, step + 100)) return false;
  }
  return true;
}

function usualStep(rows: readonly Row[]): number {
  const steps = rows.slice(1).map(({ at }, i) => at - rows[i].at);
  return steps.sort((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 0;
}

/** True where a day over 12 tells which number is the day. */
const tellsOrder = (rows: readonly Row[], zone: string): boolean =>
  rows.some(({ at }) => wall(at, offsetAt(zone, at)).d > 12);

export interface WrittenFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  /** Rows of data, and lines behind them. */
  readonly rows: number;
  readonly footers: number;
}

const encoded = (text: string, encoding: Style['encoding']): Uint8Array => {
  switch (encoding) {
    case 'utf8 marked':
      return Buffer.from(`\ufeff${text}`, 'utf8');
    case 'utf16le':
      return Buffer.from(`\ufeff${text}`, 'utf16le');
    case 'utf16be':
      return Buffer.from(`\ufeff${text}`, 'utf16le').swap16();
    default:
      return Buffer.from(text, encoding);
  }
};

/** The recording as files, and what the pipeline file has to say of them. */
export function write(
  draft: Draft,
  style: Style,
  parts: readonly Row[][],
): { files: WrittenFile[]; settings: Partial<IngestSettings> } {
  const { zone, kinds, isTenths } = draft;
  const { form, delimiter, isLong, unitsRow } = style;
  const start = Math.floor(parts[0][0].at / SECOND) * SECOND - draft.lead;
  const momentOf = (at: number): Moment => ({ zone, at, start, offset: offsetAt(zone, at) });
  const channels = kinds.map(({ kind, names, units }, c) => {
    const [unit, factor] = units[draft.units[c] % units.length];
    return { kind, unit, factor, name: names[draft.names[c] % names.length] };
  });
  const marked = (text: string): string => text.replace('.', style.decimalMark);
  const isText = (cell: string): boolean => !/^[-+]?[\d.,]+$/.test(cell);
  const cellText = (cell: string): string =>
    style.quotes === 'all' || (style.quotes === 'texts' && isText(cell)) || cell.includes(delimiter)
      ? `"${cell}"`
      : cell;
  const valueText = (value: number | null, factor: number): string => {
    if (value === null) return style.missing;
    return marked(factor === 1 ? value.toFixed(isTenths ? 1 : 0) : (value * factor).toPrecision(15));
  };
  const timeCells = (at: number): string[] =>
    form.write(at, momentOf(at)).map((text) => (form.isDecimal ? marked(text) : text));
  const headers = isLong
    ? [...form.headers, 'Parameter', 'Value', ...(unitsRow ? ['Unit'] : [])]
    : [...form.headers, ...channels.map(({ name, unit }) => (unitsRow ? name : `${name} (${unit})`))];
  const unitCells =
    unitsRow && !isLong ? [[...form.headers.map(() => ''), ...channels.map(({ unit }) => unit)]] : [];
  const records = (row: Row): string[][] =>
    isLong
      ? channels.flatMap(({ name, unit, factor }, c) =>
          row.values[c] === null && style.missing === ''
            ? []
            : [
                [
                  ...timeCells(row.at),
                  unitsRow ? name : `${name} (${unit})`,
                  valueText(row.values[c], factor),
                  ...(unitsRow ? [unit] : []),
                ],
              ],
        )
      : [[...timeCells(row.at), ...channels.map(({ factor }, c) => valueText(row.values[c], factor))]];
  const above = [...style.preamble, ...(form.above ? [form.above(momentOf(parts[0][0].at))] : [])];
  const files = parts.map((part, p): WrittenFile => {
    const data = (style.isNewestFirst ? [...part].reverse() : part).flatMap(records);
    const lines = [
      ...above,
      ...[headers, ...unitCells, ...data].map((cells) => cells.map(cellText).join(delimiter)),
      ...style.footer,
    ];
    const text = lines.join(style.lineBreak) + (style.hasLastBreak ? style.lineBreak : '');
    const bytes = encoded(text, style.encoding);
    return {
      name: draft.fileNames[p],
      bytes: style.isPacked ? gzipSync(bytes, { level: 1 }) : bytes,
      rows: data.length,
      footers: style.footer.length,
    };
  });
  const isSaid = form.order && (style.isOrderSaid || !parts.every((part) => tellsOrder(part, zone)));
  const time: TimeChoice = {
    ...form.choice?.(momentOf(parts[0][0].at)),
    ...(isSaid ? { order: form.order } : {}),
  };
  return { files, settings: { zone, patient: { id: 'p' }, columns: { time } } };
}
