import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { runPipeline } from '../../src/index.js';
import type { Results } from '../../src/report/results-schema.js';
import { folderWith } from '../support/cistern.js';
import { WAVE_START, waveCsv } from '../support/waves.js';

const RATE = 50;
const HOURS = 2;
const SECONDS = HOURS * 3600;
const YAML = 'exports: exports\ntimezone: UTC\nperiod: all\nreport: morning\n';

/** Invented: ICP rises by 16 mmHg within a minute from 30 min on, and falls within one from 40 min on. */
const raised = (t: number): number => 16 * Math.max(0, Math.min(1, (t - 1800) / 60, (2460 - t) / 60));
/** One artifact of each kind, at these seconds. */
const AT = { outside: 600, spike: 700, frozen: 800, dropout: 900, lost: 5000 } as const;

const text = waveCsv({
  samplesPerSecond: RATE,
  seconds: SECONDS,
  edit: ({ i, t, icp, abp }) => {
    const value = ((): number => {
      if (i === AT.outside * RATE + 7) return 999;
      if (i === AT.spike * RATE + 9) return 80;
      if (t >= AT.frozen && t < AT.frozen + 20) return 12.3;
      if (i >= AT.dropout * RATE + 3 && i < AT.dropout * RATE + 12) return -0.5;
      // The mean level stays, the pulse goes.
      if (t >= AT.lost && t < AT.lost + 300)
        return Math.round(10 * (12 + 2 * Math.sin((2 * Math.PI * t) / 61) + 0.2 * Math.sin(i))) / 10;
      return icp + raised(t);
    })();
    return { icp: value, abp };
  },
});

const resultsOf = (out: string): Results => JSON.parse(readFileSync(join(out, 'results.json'), 'utf8'));
const iso = (s: number): string => new Date(WAVE_START + 1000 * s).toISOString().replace('.000Z', '+00:00');

/** Runs the morning report over the waveform. */
async function reported(yaml = YAML, folder = folderWith({ 'exports/a.csv.gz': gzipSync(text) })) {
  const out = join(folder, 'report');
  const pipeline = join(
    folderWith({ 'unit.yaml': yaml.replace('exports: exports', `exports: ${folder}/exports`) }),
    'unit.yaml',
  );
  const { patients } = await runPipeline(pipeline, { out, threads: 1 });
  const results = resultsOf(out);
  return { folder, out, patients, results, recording: results.recordings[0] };
}

describe('a report on two hours of a waveform', () => {
  let report: Awaited<ReturnType<typeof reported>>;
  beforeAll(async () => {
    report = await reported();
  });

  it('uses every row, at one sample a second', () => {
    const { recording } = report;
    expect(recording.counts).toEqual({
      rowsRead: SECONDS * RATE,
      rowsUsed: SECONDS * RATE,
      rowsSetAside: 0,
    });
    expect(recording.nominalIntervalSeconds).toEqual({ icp: 1, map: 1 });
  });

  it('marks the seconds of each artifact as wholes, each under its rule, and edits nothing', () => {
    const marks = report.recording.removed.map(({ channel, rule, start, end }) => [
      channel,
      rule,
      start,
      end,
    ]);
    const one = (rule: string, s: number): string[] => ['icp', rule, iso(s), iso(s)];
    expect(marks).toEqual([
      // One sample of 999 is a spike too, and lifts the mean of its second by 20 mmHg.
      one('outsideRange', AT.outside),
      one('transient', AT.outside),
      one('briefSpike', AT.outside),
      ['icp', 'transient', iso(AT.spike), iso(AT.spike)],
      ['icp', 'frozenWave', iso(AT.frozen), iso(AT.frozen + 19)],
      ['icp', 'transient', iso(AT.dropout), iso(AT.dropout)],
      ['icp', 'pulseLost', iso(AT.lost), iso(AT.lost + 299)],
    ]);
    // A mark takes the pieces on both sides of each of its seconds; what is suspect and not lower stays in.
    const seconds = 2 + 2 + 21 + 2;
    expect(report.recording.monitoredHours.map! - report.recording.monitoredHours.icp!).toBeCloseTo(
      seconds / 3600,
      9,
    );
  });

  it('finds the episode and means that the waveform was made of', () => {
    const { episodes, icp, cpp } = report.recording;
    expect(episodes.map(({ channel }) => channel)).toEqual(['icp']);
    expect(Math.abs(Date.parse(episodes[0].start) - WAVE_START - 1_830_000)).toBeLessThan(30_000);
    expect(Math.abs(episodes[0].minutes - 10)).toBeLessThan(1);
    expect(icp.meanMmHg).toBeCloseTo(12 + (16 * 600) / SECONDS, 1);
    expect(cpp.meanMmHg).toBeCloseTo(85 - 12 - (16 * 600) / SECONDS, 1);
  });

  it('reports what the same means give as a 1 Hz export, where nothing was artifact', async () => {
    const clean = waveCsv({ samplesPerSecond: RATE, seconds: 1800 });
    const [, ...rows] = clean.trimEnd().split('\n');
    const means = Array.from({ length: 1800 }, (_, s) => {
      const cells = rows.slice(s * RATE, (s + 1) * RATE).map((row) => row.split(',').map(Number));
      const mean = (c: number): number => cells.reduce((sum, row) => sum + row[c], 0) / RATE;
      return `${new Date(WAVE_START + 1000 * s).toISOString().slice(0, 19)},${mean(1)},${mean(2)}`;
    });
    const [wave, numbers] = await Promise.all(
      [clean, `Time,ICP (mmHg),MAP (mmHg)\n${means.join('\n')}\n`].map((file) =>
        reported(YAML, folderWith({ 'exports/a.csv': file })),
      ),
    );
    for (const key of ['meanMmHg', 'medianMmHg', 'highest5MinMmHg', 'hoursWithinBand'] as const) {
      expect(wave.recording.icp[key]).toBeCloseTo(numbers.recording.icp[key]!, 9);
    }
    expect(wave.recording.cpp.meanMmHg).toBeCloseTo(numbers.recording.cpp.meanMmHg!, 9);
  });

  it('says on its pages what the file is, and names the rules', () => {
    const page = readFileSync(join(report.out, 'patient-a.html'), 'utf8');
    expect(page).toContain(
      'a.csv.gz: the file is a waveform of 50 samples a second of ICP and arterial pressure, which is read as means over whole seconds.',
    );
    expect(page).toContain('spike or dropout');
    expect(page).toContain('pulse lost');
  });

  it('is done again where a rule is set otherwise, and then has no mark of it', async () => {
    const again = await reported(YAML, report.folder);
    expect(again.patients).toEqual({ done: 0, reused: 1 });
    const yaml = `${YAML}clean: {transient: off, outsideRange: {icpHighestMmHg: 1000}, pulseLost: off}\n`;
    const { patients, recording } = await reported(yaml, report.folder);
    expect(patients).toEqual({ done: 1, reused: 0 });
    expect(recording.removed.map(({ rule }) => rule)).toEqual(['briefSpike', 'frozenWave']);
    // The raw figures are as exported, whatever is removed.
    expect(recording.icpRaw).toEqual(report.recording.icpRaw);
  });
});
