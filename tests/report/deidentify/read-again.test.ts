import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ingestGroup } from '../../../src/ingest/ingest.js';
import { careKinds } from '../../../src/ingest/tables/care-words.js';
import type { LoggedAlarm } from '../../../src/ingest/tables/logged-alarms.js';
import { loggedAlarms } from '../../../src/ingest/tables/logged-alarms.js';
import { readTable } from '../../../src/ingest/tables/read-table.js';
import { CARE_KINDS, type CareKind } from '../../../src/recording/care.js';
import {
  CHANNEL_UNITS,
  type Channel,
  EXPORTED_KINDS,
  type ExportedKind,
} from '../../../src/recording/channel.js';
import type { Recording } from '../../../src/recording/recording.js';
import { nominalIntervalMs, signalOf } from '../../../src/recording/sampling.js';
import { sharedExport, TIME_HEADERS } from '../../../src/report/deidentify/shared-export.js';
import { CARE_WORDS, sharedAlarms, sharedCare } from '../../../src/report/deidentify/shared-logs.js';
import { elapsedTimes } from '../../../src/report/deidentify/shared-times.js';

const START = Date.parse('2031-02-11T19:00:00Z');
const TIMES = elapsedTimes(START);
const WHOSE = { code: 'PAAAAAAAA', times: TIMES };
const bytes = (text: string) =>
  async function* () {
    yield Buffer.from(text);
  };
const file = (text: string) => ({ path: 'shared.csv', name: 'shared.csv', open: bytes(text) });

/** Typical values, by which reading has nothing to remark on. */
const TYPICAL: Readonly<Record<ExportedKind, number>> = {
  icp: 12,
  icpDrain: 11,
  map: 85,
  sbp: 120,
  dbp: 65,
  cpp: 73,
  hr: 80,
  spo2: 97,
  rr: 14,
  etco2: 36,
  temp: 37,
  pbto2: 25,
};

const channel = (
  kind: ExportedKind,
  times: number[],
  values: number[],
  more: Partial<Channel> = {},
): Channel => {
  const at = Float64Array.from(times, (s) => START + s * 1000);
  return {
    kind,
    header: 'whatever the export had',
    source: null,
    derivedFrom: null,
    signal: signalOf(at, Float64Array.from(values)),
    nominalIntervalMs: nominalIntervalMs(at),
    decimals: 1,
    blanks: [],
    ...more,
  };
};

async function readAgain(recording: Recording): Promise<Recording> {
  const text = [...sharedExport(recording, TIMES)].join('');
  const [{ recording: read, problem }] = await ingestGroup(
    { id: recording.id, files: [file(text)] },
    {
      zone: 'UTC',
      columns: {
        time: { header: TIME_HEADERS.elapsed, form: 'elapsed', unit: 's', start: '1970-01-01 00:00' },
      },
      missing: [],
    },
  );
  expect(problem).toBeNull();
  return read as Recording;
}

describe('a shared export', () => {
  it('is read again with every channel, sample and source', async () => {
    const seconds = Array.from({ length: 50 }, (_, i) => i * 5 + (i % 7 === 0 ? 0.25 : 0));
    const channels = Object.fromEntries(
      EXPORTED_KINDS.map((kind, k) => [
        kind,
        channel(
          kind,
          seconds.filter((_, i) => i % (k + 2) !== 1),
          seconds
            .filter((_, i) => i % (k + 2) !== 1)
            .map((s) => TYPICAL[kind] + (s % 3) / 10 + (k === 3 ? 1 / 3 : 0)),
          kind === 'icp' ? { source: 'probe' } : kind === 'icpDrain' ? { source: 'drain' } : {},
        ),
      ]),
    );
    const read = await readAgain({ id: '7', channels, extent: { start: START, end: START + 250_000 } });
    expect(Object.keys(read.channels).sort()).toEqual([...EXPORTED_KINDS].sort());
    for (const kind of EXPORTED_KINDS) {
      const [a, b] = [channels[kind], read.channels[kind]];
      expect(Array.from(b?.signal.times ?? [], (t) => t + START)).toEqual(Array.from(a.signal.times));
      expect(b?.signal.values).toEqual(a.signal.values);
      expect(b?.source).toBe(a.source);
      expect(b?.header).not.toContain('whatever');
    }
    expect(read.extent).toEqual({ start: 0, end: 250_000 });
  });

  it('gives back any samples to the last bit', async () => {
    const value = fc.double({ min: -15, max: 140, noNaN: true });
    const steps = fc.array(fc.tuple(fc.integer({ min: 200, max: 90_000 }), value), {
      minLength: 3,
      maxLength: 60,
    });
    await fc.assert(
      fc.asyncProperty(steps, async (list) => {
        let ms = 0;
        const times = list.map(([step]) => {
          ms += step;
          return ms / 1000;
        });
        const values = list.map(([, v]) => v);
        const icp = channel('icp', times, values);
        const extent = { start: START + times[0] * 1000, end: START + ms };
        const read = await readAgain({ id: '7', channels: { icp }, extent });
        expect(Array.from(read.channels.icp?.signal.times ?? [], (t) => t + START)).toEqual(
          Array.from(icp.signal.times),
        );
        expect(Array.from(read.channels.icp?.signal.values ?? [])).toEqual(values.map((v) => v + 0));
      }),
      { numRuns: 40 },
    );
  });

  it('tells a lead that was off from an export that had stopped', async () => {
    const times = [0, 60, 120, 180, 1800, 1860, 1920, 3600, 3660];
    const blanks = [{ start: START + 180_000, end: START + 1_800_000 }];
    const icp = channel(
      'icp',
      times,
      times.map(() => 12),
      { blanks },
    );
    const read = await readAgain({
      id: '7',
      channels: { icp },
      extent: { start: START, end: START + 3_660_000 },
    });
    expect(read.channels.icp?.blanks).toEqual([{ start: 180_000, end: 1_800_000 }]);
  });

  it('leaves MAP to be made again where reading has made it', async () => {
    const times = [0, 5, 10, 15, 20];
    const [sbp, dbp, icp] = [
      channel('sbp', times, [120, 121, 122, 121, 120]),
      channel('dbp', times, [65, 66, 67, 66, 65]),
      channel('icp', times, [9, 10, 11, 10, 9]),
    ];
    const map = channel('map', times, [83, 84, 85, 84, 83], { derivedFrom: 'sbp and dbp' });
    const extent = { start: START, end: START + 20_000 };
    expect([...sharedExport({ id: '7', channels: { icp, map, sbp, dbp }, extent }, TIMES)][0]).toBe(
      'Elapsed (s),ICP (mmHg),SBP (mmHg),DBP (mmHg)\r\n',
    );
    const shifted = { ...map, shiftSeconds: 5 };
    expect(
      [...sharedExport({ id: '7', channels: { icp, map: shifted, sbp, dbp }, extent }, TIMES)][0],
    ).toContain('MAP');
  });
});

describe('a shared care log', () => {
  it('has words that mean the same kinds again, alone and together', () => {
    for (const kind of CARE_KINDS) expect(careKinds(CARE_WORDS[kind])).toEqual([kind]);
    const kinds = fc.uniqueArray(
      fc.constantFrom(...CARE_KINDS.filter((kind) => kind !== 'other' && kind !== 'drainOpen')),
      { minLength: 1 },
    );
    fc.assert(
      fc.property(kinds, (list) => {
        expect(careKinds(list.map((kind) => CARE_WORDS[kind]).join('; '))).toEqual(list);
      }),
    );
  });

  it('is read again with times, kinds and angles', async () => {
    const entries: { start: number; end: number | null; kinds: CareKind[]; angleDegrees: number | null }[] = [
      { start: START - 60_000, end: null, kinds: ['turn', 'suction'], angleDegrees: null },
      { start: START + 90_500, end: START + 120_000, kinds: ['headOfBed'], angleDegrees: 30 },
      { start: START + 600_000, end: null, kinds: ['headOfBed'], angleDegrees: null },
      { start: START + 700_000, end: null, kinds: ['treatment'], angleDegrees: null },
      { start: START + 800_000, end: null, kinds: ['other'], angleDegrees: null },
    ];
    const csv = sharedCare(entries.map((entry) => ({ whose: WHOSE, entry })));
    const { rows, setAside } = await readTable('care', file(csv), {
      zone: 'UTC',
      missing: [],
      columns: { start: { form: 'epochSeconds' }, end: { form: 'epochSeconds' } },
    });
    expect(setAside).toEqual([]);
    expect(
      rows.map(({ patient, startUtcMs, endUtcMs, kind, also, angleDegrees }) => ({
        patient,
        start: startUtcMs + START,
        end: endUtcMs === null ? null : endUtcMs + START,
        kinds: [kind, ...also],
        angleDegrees,
      })),
    ).toEqual(entries.map((entry) => ({ patient: WHOSE.code, ...entry })));
  });
});

describe('a shared alarm log', () => {
  it('is read again with channel, side, limit, priority and times, and no free text', async () => {
    const alarm = (kind: ExportedKind | null, i: number): LoggedAlarm => ({
      start: START + i * 60_000,
      end: START + i * 60_000 + 30_500,
      acknowledged: i % 2 === 0 ? START + i * 60_000 + 10_000 : null,
      parameter: { text: 'Zebra, call Somebody', channel: kind, side: null },
      limit: { value: TYPICAL[kind ?? 'icp'], unit: kind && CHANNEL_UNITS[kind], side: null },
      side: i % 2 === 0 ? 'upper' : 'lower',
      priority: 'medium',
      message: 'Zebra was told',
    });
    const told = [...EXPORTED_KINDS, null].map(alarm);
    const csv = sharedAlarms(told.map((entry) => ({ whose: WHOSE, entry })));
    expect(csv).not.toMatch(/zebra|somebody/i);
    const form = { form: 'epochSeconds' as const };
    const { rows, setAside, warnings } = await readTable('alarms', file(csv), {
      zone: 'UTC',
      missing: [],
      columns: { onset: form, ended: form, acknowledged: form },
    });
    expect([setAside, warnings]).toEqual([[], []]);
    const read =
      loggedAlarms(rows.map((row) => ({ ...row, patient: row.patient ?? '' }))).get(WHOSE.code) ?? [];
    expect(
      read.map(({ start, end, acknowledged, parameter, limit, side, priority }) => ({
        start: start + START,
        end: (end ?? Number.NaN) + START,
        acknowledged: acknowledged === null ? null : acknowledged + START,
        channel: parameter.channel,
        value: limit?.value ?? null,
        side,
        priority,
      })),
    ).toEqual(
      told.map(({ start, end, acknowledged, parameter, limit, side, priority }) => ({
        ...{ start, end, acknowledged, side, priority },
        channel: parameter.channel,
        value: parameter.channel === null ? null : (limit?.value ?? null),
      })),
    );
  });
});
