import { Buffer } from 'node:buffer';
import { gunzipSync, gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { expect } from 'vitest';
import { headerScorer } from '../../../src/ingest/columns/header-score.js';
import { type Ingested, ingestGroup } from '../../../src/ingest/ingest.js';
import type { IngestSettings } from '../../../src/ingest/settings.js';
import { TextDecoding } from '../../../src/ingest/text/decode.js';
import { findLayout, type Layout } from '../../../src/ingest/text/layout.js';
import { Problem } from '../../../src/recording/problem.js';
import { rowsSetAside, settingsWith, wall } from '../support.js';

const MINUTE = 60_000;
const NIGHT = Date.UTC(2031, 1, 11, 23, 30);
const lines = (count: number, line: (i: number) => string, ending = '\n'): string =>
  Array.from({ length: count }, (_, i) => line(i) + ending).join('');
const minute = (i: number): string => wall(NIGHT + i * MINUTE);
/** `13/02/2031 19:05:00` */
const dayFirst = (i: number): string =>
  minute(i).replace(/(\d+)-(\d+)-(\d+)/, (_, year, month, day) => `${day}/${month}/${year}`);

/** Files of all dialects that are read. */
const DIALECTS = {
  plain: `Time,ICP (mmHg),ABP mean (mmHg),Bed\n${lines(40, (i) => `${wall(Date.UTC(2031, 1, 11, 23, 59, 40 + i))},${10 + (i % 5)}.5,${80 + (i % 7)},${1 + (i % 3)}`)}`,
  quoted: `\ufeff"Bed";"Time";"ICP [kPa]";"Note"\r\n${lines(30, (i) => `B1;${wall(Date.UTC(2031, 9, 26, 0, 5 * i)).slice(0, 16)};1.${i % 10};"a, ""b""\r\nc"`, '\r\n')}`,
  tabs: `Bed\tTime\tICP cmH2O\tMAP (mmHg)\n${lines(30, (i) => `7\t2031-02-11T02:${10 + i}:00+01:00\t${i % 3 === 0 ? '--' : 20 + i}\t${i % 4 === 0 ? '' : 80}`)}`,
  utf16: Buffer.from(
    `\ufeffTime,ICP (mmHg),T (\u00b0C),Bed\r\n${lines(30, (i) => `${minute(i)},${10 + i},37.${i % 3},1`, '\r\n')}`,
    'utf16le',
  ),
  latin1: Buffer.from(
    `Zeit|ICP (mmHg)|Temp \u00b0C|Bed\n${lines(30, (i) => `${minute(i)}|${10 + i}|37.${i % 3}|B\u00f8`)}`,
    'latin1',
  ),
  commas: `Zeit;ICP (mmHg);MAP (mmHg);Bed\r\n${lines(30, (i) => `${minute(i).slice(0, 16)};1${i % 10},5;${80 + i};1`, '\r\n')}`,
  preamble: `Export of a night\nWard;4\n\nTime;ICP;ABP mean;Bed\n;mmHg;kPa;\n${lines(30, (i) => `${minute(i)};${10 + i};10.${i % 10};1`)}Rows: 30\n`,
  long: `Time,Parameter,Value,Unit,Bed\n${lines(20, (i) => `${minute(i)},ICP,${10 + i},mmHg,1\n${minute(i)},ABP mean,${i % 4 === 0 ? '---' : 80},mmHg,1\n${minute(i)},CVP,8,mmHg,1`)}`,
  elapsed: `Start: 2031-02-11 19:00\nElapsed (s),ICP (mmHg),HR,Bed\n${lines(40, (i) => `${i * 5},${10 + (i % 7)},${70 + (i % 9)},1`)}`,
  dates: `Time,ICP (mmHg),Bed\n${lines(60, (i) => `${dayFirst(i)},${10 + (i % 7)},1`)}${lines(3, (i) => `13/02/2031 19:0${i}:00,12,1`)}`,
  newestFirst: `Date,Time of day,ICP (mmHg),Bed\n${lines(40, (i) => `${minute(40 - i).replace(' ', ',')},${10 + (i % 7)},1`)}`,
};
const SEEDS = Object.values(DIALECTS).map((file) => (typeof file === 'string' ? Buffer.from(file) : file));

const TOKENS = [
  ...[
    '"',
    '""',
    '","',
    ',',
    ';',
    '\t',
    '\n',
    '\r',
    '\r\n',
    '\n\n',
    '\u0000',
    '\ufffd',
    '\ufeff',
    '\u2028',
    '\u00b0',
  ],
  ...['-', '.', 'e', '1e999', '-0', 'NaN', 'Infinity', '0x10', '99999999999999999999', '__proto__', 'Time'],
  ...[
    '2031-02-29 02:10:00',
    '1900-01-01 00:00:00',
    '9999-12-31 23:59:59',
    '2031-03-30 02:30:00',
    'Z',
    '+99:99',
  ],
  ...[
    'sep=;\n',
    'mmHg',
    '12,5',
    '13/02/2031',
    '02/13/2031',
    '11.02.31',
    '24:00:00',
    ' PM',
    '----',
    '\u2212',
    'Bed',
  ],
  ...['Time,ICP (mmHg),ABP mean (mmHg),Bed\n', 'ICP (mmHg)', 'ICP', '(Torr)', 'B2', ' ', '\u0000\u0000'],
].map((text) => Buffer.from(text));

/** A change of a file; positions are shares of its length. */
type Mutation = (bytes: Buffer) => Buffer;
// Not fc.double, whose values nearly all lie close to 0: the header would take all the blows.
const position = fc.integer({ min: 0, max: 9_999 }).map((n) => n / 10_000);
const at = (bytes: Buffer, share: number): number => Math.floor(share * bytes.length);
const splice = (bytes: Buffer, from: number, to: number, insert: Uint8Array): Buffer =>
  Buffer.concat([bytes.subarray(0, from), insert, bytes.subarray(to)]);

const insertion = fc.tuple(position, fc.constantFrom(...TOKENS)).map(
  ([p, token]): Mutation =>
    (bytes) => {
      const i = at(bytes, p);
      return splice(bytes, i, i, token);
    },
);
const replacement = fc.tuple(position, fc.integer({ min: 0, max: 255 })).map(
  ([p, byte]): Mutation =>
    (bytes) =>
      splice(bytes, at(bytes, p), at(bytes, p) + 1, Buffer.from([byte])),
);
const deletion = fc.tuple(position, fc.integer({ min: 1, max: 120 })).map(
  ([p, length]): Mutation =>
    (bytes) =>
      splice(bytes, at(bytes, p), at(bytes, p) + length, Buffer.alloc(0)),
);
const repetition = fc.tuple(position, position, position).map(
  ([from, to, target]): Mutation =>
    (bytes) => {
      const part = bytes.subarray(at(bytes, Math.min(from, to)), at(bytes, Math.max(from, to)));
      return splice(bytes, at(bytes, target), at(bytes, target), part);
    },
);
const truncation = position.map(
  (p): Mutation =>
    (bytes) =>
      bytes.subarray(0, at(bytes, p)),
);
const cutPacking = position.map(
  (p): Mutation =>
    (bytes) => {
      const packed = gzipSync(bytes);
      return packed.subarray(0, at(packed, p));
    },
);
const mutations = fc.array(
  fc.oneof(
    { weight: 8, arbitrary: insertion },
    { weight: 4, arbitrary: replacement },
    { weight: 3, arbitrary: deletion },
    { weight: 2, arbitrary: repetition },
    { weight: 1, arbitrary: truncation },
    { weight: 1, arbitrary: cutPacking },
    { weight: 1, arbitrary: fc.constant<Mutation>((bytes) => gzipSync(bytes)) },
  ),
  { minLength: 1, maxLength: 3 },
);

const patientSource = fc.constantFrom<IngestSettings['patient']>(
  undefined,
  { id: 'p' },
  { column: 'Bed' },
  { fileName: '^(.)' },
);

/** A file as the project's own parts lay it out, and its lines from the first that may hold data. */
interface Laid {
  readonly layout: Layout;
  /** By line number; only lines that hold a text. */
  readonly rows: ReadonlyMap<number, readonly string[]>;
}

/** Null where quotes, lone CRs or another unpacking make it more than cutting lines. */
function laidOut(bytes: Buffer, settings: IngestSettings): Laid | null {
  let whole: Uint8Array;
  try {
    whole = bytes[0] === 0x1f && bytes[1] === 0x8b ? gunzipSync(bytes) : bytes;
  } catch {
    return null;
  }
  // Which encoding it is has tests of its own.
  const decoding = new TextDecoding();
  const text = decoding.push(whole) + decoding.end();
  if (/"|\r(?!\r*\n)/.test(text)) return null;
  const unified = text.replace(/\r+\n/g, '\n');
  const layout = findLayout(unified, headerScorer(settings));
  const rows = new Map<number, readonly string[]>();
  for (const [i, line] of unified.split('\n').entries()) {
    const cells = line.split(layout.delimiter);
    if (i + 1 >= layout.dataLine && cells.some((cell) => cell.trim() !== '')) rows.set(i + 1, cells);
  }
  return { layout, rows };
}

function expectSound(outcome: Ingested): void {
  const { recording, problem, rowsRead, setAside } = outcome;
  expect(recording === null).toBe(problem !== null || outcome.isStray);
  // One line, which says where and ends in what to do.
  if (problem !== null) expect(problem).toMatch(/^[^\n\r]*\.csv[^\n\r]*: [^\n\r]+\. [^\n\r]+[.}]$/);
  for (const { file, line, rows, reason, row } of setAside) {
    expect([file, typeof row]).toEqual(['a.csv', 'string']);
    expect(line).toBeGreaterThanOrEqual(2);
    expect(rows).toBeGreaterThanOrEqual(1);
    expect(reason).toMatch(/^[^\n\r]+$/);
  }
  const aside = rowsSetAside(outcome);
  if (!recording) {
    expect(aside).toBe(rowsRead);
    return;
  }
  expect(new Set(setAside.map(({ line }) => line)).size).toBe(setAside.length);
  const used = new Set<number>();
  for (const { signal } of Object.values(recording.channels)) {
    const { times, values, known } = signal;
    expect([values.length, known.length]).toEqual([times.length, times.length]);
    for (let i = 0; i < times.length; i++) {
      // Plain comparisons: an assertion for each sample would take most of the time.
      const isSound =
        Number.isFinite(times[i]) &&
        Number.isFinite(values[i]) &&
        (i === 0 || times[i] > times[i - 1]) &&
        times[i] >= recording.extent.start &&
        times[i] <= recording.extent.end;
      if (!isSound) expect([i, times[i], values[i], times[i - 1], recording.extent]).toEqual('sound');
      used.add(times[i]);
    }
  }
  expect(used.size).toBeLessThanOrEqual(rowsRead - aside);
}

/** Checks that the rows that are said to be used are those whose values stand in the recording, counted in the file itself. */
function expectUsed(outcome: Ingested, { layout, rows }: Laid): void {
  const { recording, setAside, files } = outcome;
  if (!recording || setAside.some(({ rows: count }) => count > 1)) return;
  const aside = new Set(setAside.map(({ line }) => line));
  const isLong = layout.headers.includes('Parameter');
  const headers = isLong ? ['Value'] : files[0].columns.map(({ header }) => header);
  const columns = headers.map((header) => layout.headers.indexOf(header));
  let usedRows = 0;
  let blankRows = 0;
  let values = 0;
  for (const [line, cells] of rows) {
    if (aside.has(line)) continue;
    const filled = columns.filter((i) => /\d/.test(cells[i] ?? '')).length;
    usedRows++;
    if (filled === 0) blankRows++;
    values += filled;
  }
  expect(outcome.rowsRead - rowsSetAside(outcome)).toBe(usedRows);
  const samples = Object.values(recording.channels)
    .filter(({ derivedFrom }) => derivedFrom === null)
    .reduce((sum, { signal }) => sum + signal.times.length, 0);
  expect(samples).toBeLessThanOrEqual(values);
  expect(samples).toBeGreaterThanOrEqual(usedRows - blankRows);
}

/** Checks what came of a file against the file itself. */
function expectAccount(outcomes: readonly Ingested[], bytes: Buffer, settings: IngestSettings): void {
  outcomes.forEach(expectSound);
  const isBroken = outcomes.some(({ problem, files }) => problem !== null && files.length === 0);
  const laid = isBroken ? null : laidOut(bytes, settings);
  if (!laid) return;
  expect(outcomes.reduce((sum, { rowsRead }) => sum + rowsRead, 0)).toBe(laid.rows.size);
  if (settings.patient?.column === undefined) expectUsed(outcomes[0], laid);
}

/**
 * Mutates small files of all dialects and reads them: each ends in recordings whose rows add up or in a Problem.
 *
 * @param part which of several runs with other files this is
 */
export async function tryMutatedFiles(part: number, runs: number): Promise<void> {
  let problems = 0;
  const recordings = new Map<Buffer, number>();
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...SEEDS),
      mutations,
      patientSource,
      fc.constantFrom('UTC', 'Europe/Oslo'),
      async (seed, changes, patient, zone) => {
        const bytes = changes.reduce<Buffer>((file, change) => change(file), seed);
        const settings = settingsWith({ patient, zone });
        const id = patient?.column === undefined ? 'p' : null;
        const open = async function* () {
          yield bytes;
        };
        let outcomes: Ingested[];
        try {
          outcomes = await ingestGroup({ id, files: [{ path: 'a.csv', name: 'a.csv', open }] }, settings);
        } catch (error) {
          if (!(error instanceof Problem)) throw error;
          problems++;
          return;
        }
        try {
          expectAccount(outcomes, bytes, settings);
        } catch (error) {
          throw new Error(`${(error as Error).message}\nThe file:\n${bytes.toString()}`);
        }
        if (outcomes.some(({ recording }) => recording)) {
          recordings.set(seed, (recordings.get(seed) ?? 0) + 1);
        } else problems++;
      },
    ),
    { numRuns: runs, seed: 20_310_211 + part },
  );
  // Were nearly all files of a dialect refused at once, little would have been tried.
  for (const seed of SEEDS) expect(recordings.get(seed)).toBeGreaterThan(runs / SEEDS.length / 10);
  expect(problems).toBeGreaterThan(runs / 10);
}
