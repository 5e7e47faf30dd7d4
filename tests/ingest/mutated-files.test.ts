import { Buffer } from 'node:buffer';
import { gunzipSync, gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Ingested } from '../../src/ingest/ingest.js';
import type { IngestSettings } from '../../src/ingest/settings.js';
import { Problem } from '../../src/recording/problem.js';
import { ingestFiles, rowsSetAside, seeded, wall } from './support.js';

const SEEDS = [
  `Time,ICP (mmHg),ABP mean (mmHg),Bed\n${Array.from({ length: 40 }, (_, i) => `${wall(Date.UTC(2031, 1, 11, 23, 59, 40 + i))},${10 + (i % 5)}.5,${80 + (i % 7)},${1 + (i % 3)}\n`).join('')}`,
  `\ufeff"Bed";"Time";"ICP [kPa]";"Note"\r\n${Array.from({ length: 30 }, (_, i) => `B1;${wall(Date.UTC(2031, 9, 26, 0, 5 * i)).slice(0, 16)};1.${i % 10};"a, ""b""\r\nc"\r\n`).join('')}`,
  `Bed\tTime\tICP cmH2O\tMAP (mmHg)\n${Array.from({ length: 30 }, (_, i) => `7\t2031-02-11T02:${10 + i}:00+01:00\t${i % 3 === 0 ? '--' : 20 + i}\t${i % 4 === 0 ? '' : 80}\n`).join('')}`,
].map((text) => Buffer.from(text));

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
  ...['Time,ICP (mmHg),ABP mean (mmHg),Bed\n', 'ICP (mmHg)', 'ICP', '(Torr)', 'B2', ' ', '\u0000\u0000'],
].map((text) => Buffer.from(text));

/** A change of a file; positions are shares of its length. */
type Mutation = (bytes: Buffer) => Buffer;
const position = fc.double({ min: 0, max: 1, noNaN: true });
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

/** Lines that are not blank behind the header; null where quotes or lone CRs make it more than counting. */
function rowsIn(bytes: Buffer): number | null {
  let text: string;
  try {
    text = (bytes[0] === 0x1f && bytes[1] === 0x8b ? gunzipSync(bytes) : bytes).toString();
  } catch {
    return null;
  }
  if (/"|\r(?!\r*\n)/.test(text)) return null;
  return Math.max(0, text.split('\n').filter((line) => line.replace('\ufeff', '').trim() !== '').length - 1);
}

function expectSound(outcome: Ingested): void {
  const { recording, problem, rowsRead, setAside } = outcome;
  expect(recording === null).toBe(problem !== null);
  // One line, which says where and ends in what to do.
  if (problem !== null) expect(problem).toMatch(/^[^\n\r]*\.csv[^\n\r]*: [^\n\r]+\. [^\n\r]+[.}]$/);
  for (const { file, line, reason } of setAside) {
    expect(file).toMatch(/\.csv$/);
    expect(line).toBeGreaterThanOrEqual(2);
    expect(reason).toMatch(/^[^\n\r]+$/);
  }
  const aside = rowsSetAside(outcome);
  if (!recording) expect(aside).toBe(rowsRead);
  if (!recording) return;
  const used = new Set<number>();
  for (const { signal } of Object.values(recording.channels)) {
    const { times, values, known } = signal;
    expect([values.length, known.length]).toEqual([times.length, times.length]);
    for (let i = 0; i < times.length; i++) {
      expect(Number.isFinite(times[i]) && Number.isFinite(values[i])).toBe(true);
      if (i > 0) expect(times[i]).toBeGreaterThan(times[i - 1]);
      expect(times[i] >= recording.extent.start && times[i] <= recording.extent.end).toBe(true);
      used.add(times[i]);
    }
  }
  expect(used.size).toBeLessThanOrEqual(rowsRead - aside);
}

describe('3,000 mutated files', () => {
  test('end in recordings whose rows add up or in a Problem, never in another error', async () => {
    let recordings = 0;
    let problems = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...SEEDS),
        mutations,
        patientSource,
        fc.constantFrom('UTC', 'Europe/Oslo'),
        async (seed, changes, patient, zone) => {
          const bytes = changes.reduce<Buffer>((file, change) => change(file), seed);
          let outcomes: Ingested[];
          try {
            outcomes = await ingestFiles({ 'a.csv': bytes }, { patient, zone });
          } catch (error) {
            if (!(error instanceof Problem)) throw error;
            problems++;
            return;
          }
          outcomes.forEach(expectSound);
          const rows = rowsIn(bytes);
          const broken = outcomes.some(({ problem, files }) => problem !== null && files.length === 0);
          if (rows !== null && !broken) {
            expect(outcomes.reduce((sum, { rowsRead }) => sum + rowsRead, 0)).toBe(rows);
          }
          if (outcomes.some(({ recording }) => recording)) recordings++;
          else problems++;
        },
      ),
      seeded(3_000),
    );
    // Were nearly all files refused at once, little would have been tried.
    expect(recordings).toBeGreaterThan(500);
    expect(problems).toBeGreaterThan(500);
  }, 120_000);
});
