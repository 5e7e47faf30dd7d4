/** What one kind of stays costs, as `npm run bench:plan` measured it. */
export interface MeasuredStay {
  readonly kind: string;
  readonly samplesPerSecond: number;
  /** Measured on so many stays of so many hours. */
  readonly stays: number;
  readonly hours: number;
  readonly rows: number;
  readonly bytes: number;
  /** Of one core, user and system: what starting takes, whoever is in the share. */
  readonly startSeconds: number;
  /** Of one core, starting included; `shard` without and with pages. */
  readonly shardSeconds: number;
  readonly shardSecondsWithPages: number;
  readonly mergeSeconds: number;
  /** Highest resident memory of a process with one thread. */
  readonly shardMb: number;
  readonly mergeMb: number;
  readonly storeBytes: number;
}

export interface MeasuredPlan {
  readonly machine: string;
  readonly kinds: readonly MeasuredStay[];
  /** What each stay of `STAY_HOURS` adds to what a merge holds in memory at once. */
  readonly mergeKbAStay: number;
}

/** A stay that is planned with. */
export const STAY_HOURS = 120;
const COHORTS = [10, 1000, 100_000] as const;
/** What a shard should take, on two cores. */
const SHARD_HOURS = 0.5;
const SHARD_CORES = 2;
/** Memory of a merge, in times of what it holds at once: V8 needs room to work in. */
const MERGE_ROOM = 2;

/** Two significant digits, plain. */
function round(value: number): string {
  if (value === 0) return '0';
  const digits = Math.max(0, 1 - Math.floor(Math.log10(value)));
  const scale = 10 ** (Math.floor(Math.log10(value)) - 1);
  const rounded = Math.round(value / scale) * scale;
  return digits > 0 ? rounded.toFixed(digits) : Math.round(rounded).toLocaleString('en-US');
}

function size(bytes: number): string {
  const units = ['kB', 'MB', 'GB', 'TB', 'PB'];
  let value = bytes / 1000;
  let unit = 0;
  while (value >= 1000 && unit < units.length - 1) {
    value /= 1000;
    unit++;
  }
  return `${round(value)} ${units[unit]}`;
}

const row = (cells: readonly string[]): string => `| ${cells.join(' | ')} |\n`;
const table = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  row(head) + row(head.map((_, i) => (i === 0 ? '---' : '--:'))) + rows.map(row).join('');

const rowsASecond = (one: MeasuredStay): number => one.rows / (one.shardSeconds - one.startSeconds);

/** What one stay of five days costs. */
function perStay(one: MeasuredStay) {
  const rows = STAY_HOURS * 3600 * one.samplesPerSecond;
  const share = rows / one.rows;
  return {
    rows,
    coreSeconds: (one.shardSeconds - one.startSeconds) * share,
    // Pages are drawn from what a pixel shows, whatever lies behind it.
    pageSeconds: (one.shardSecondsWithPages - one.shardSeconds) / one.stays,
    mergeSeconds: Math.max(0, one.mergeSeconds - one.startSeconds) / one.stays,
    exportBytes: one.bytes * share,
    // Each hour of a stay has figures of its own.
    storeBytes: (one.storeBytes / one.stays) * (STAY_HOURS / one.hours),
  };
}

const measuredTable = ({ kinds }: MeasuredPlan): string =>
  table(
    ['measured on one core', ...kinds.map(({ kind }) => kind)],
    [
      ['stays and hours each', ...kinds.map((k) => `${k.stays} x ${k.hours} h`)],
      ['rows', ...kinds.map((k) => k.rows.toLocaleString('en-US'))],
      ['core-seconds of the shards, figures alone', ...kinds.map((k) => k.shardSeconds.toFixed(1))],
      ['of it starting', ...kinds.map((k) => k.startSeconds.toFixed(1))],
      ['rows a core-second, without starting', ...kinds.map((k) => `${round(rowsASecond(k) / 1e6)} million`)],
      ['core-seconds with pages', ...kinds.map((k) => k.shardSecondsWithPages.toFixed(1))],
      ['core-seconds of the merge', ...kinds.map((k) => k.mergeSeconds.toFixed(1))],
      ['most memory of a shard, one thread', ...kinds.map((k) => `${Math.round(k.shardMb)} MB`)],
      ['most memory of the merge', ...kinds.map((k) => `${Math.round(k.mergeMb)} MB`)],
      ['bytes of an export row', ...kinds.map((k) => (k.bytes / k.rows).toFixed(1))],
      ['stored for such a stay', ...kinds.map((k) => size(k.storeBytes / k.stays))],
    ],
  );

function costTable(one: MeasuredStay, mergeKbAStay: number): string {
  const stay = perStay(one);
  const rows = COHORTS.map((stays) => {
    const coreHours = (stays * stay.coreSeconds) / 3600;
    const pageHours = (stays * stay.pageSeconds) / 3600;
    const shards = Math.min(stays, Math.max(1, Math.ceil(coreHours / (SHARD_CORES * SHARD_HOURS))));
    return [
      stays.toLocaleString('en-US'),
      (stays * STAY_HOURS).toLocaleString('en-US'),
      round((stays * stay.rows) / 1e6),
      round(coreHours),
      round(coreHours + pageHours),
      shards.toLocaleString('en-US'),
      round((stays * stay.mergeSeconds) / 60),
      size(one.mergeMb * 1e6 + stays * MERGE_ROOM * mergeKbAStay * 1000),
      size(stays * stay.exportBytes),
      size(stays * stay.storeBytes),
    ];
  });
  return table(
    [
      'stays',
      'hours',
      'million rows',
      'core-hours',
      'with pages',
      'shards of half an hour on 2 cores',
      'merge, min',
      'memory of the merge',
      'exports',
      'store',
    ],
    rows,
  );
}

/** One line of the arithmetic, with the figures of a cohort in it. */
function arithmetic(one: MeasuredStay, mergeKbAStay: number): string {
  const stay = perStay(one);
  const perSecond = rowsASecond(one);
  const hours = stay.rows / perSecond / 3600;
  return `One stay: ${STAY_HOURS} h x 3,600 s x ${one.samplesPerSecond} rows = ${stay.rows.toLocaleString('en-US')} rows; divided by ${Math.round(perSecond).toLocaleString('en-US')} rows a core-second and by 3,600 = ${hours.toPrecision(2)} core-hours; 1,000 stays: ${round(1000 * hours)}. Exports: rows x ${(one.bytes / one.rows).toFixed(1)} bytes. Store: stays x ${size(stay.storeBytes)}${one.hours === STAY_HOURS ? '' : ` (what was stored for ${one.hours} h, times ${STAY_HOURS} / ${one.hours})`}. Memory of a shard: ${Math.round(one.shardMb)} MB a thread with ${one.stays} such stays; of the merge: ${Math.round(one.mergeMb)} MB + stays x ${MERGE_ROOM} x ${round(mergeKbAStay)} kB.\n`;
}

/** The part of the page for planning that follows from what was measured. */
export const planPage = (measured: MeasuredPlan): string =>
  [
    `Measured with \`npm run bench:plan\` on ${measured.machine}. Other machines are faster or slower; run it on yours.\n`,
    measuredTable(measured),
    `A merge holds ${round(measured.mergeKbAStay)} kB of each stay of ${STAY_HOURS / 24} days at once, of 100,000 stays ${size(measured.mergeKbAStay * 1e8)}. Memory that is free is cleared late, so ask for ${MERGE_ROOM} times as much, as the tables do.\n`,
    ...measured.kinds.map(
      (one) =>
        `### ${one.kind}, stays of ${STAY_HOURS / 24} days\n\n${arithmetic(one, measured.mergeKbAStay)}\n${costTable(one, measured.mergeKbAStay)}`,
    ),
  ].join('\n');
