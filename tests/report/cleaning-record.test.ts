import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { runPipeline } from '../../src/index.js';
import type { RunOptions } from '../../src/pipeline/run-pipeline.js';
import type { RecordingResult } from '../../src/report/results-schema.js';
import { folderWith, newFolder, ROOT } from '../support/cistern.js';
import { pagesOf, textOf } from '../support/pages-of.js';

/** The pages of one patient, and what they are made from. */
interface Reported {
  readonly out: string;
  readonly morning: string;
  /** Of the page in detail. */
  readonly html: string;
  readonly text: string;
  readonly one: RecordingResult;
}

async function report(pipeline: string, options: Pick<RunOptions, 'data' | 'set'> = {}): Promise<Reported> {
  const out = join(newFolder(), 'report');
  const { results } = await runPipeline(pipeline, { out, threads: 1, ...options });
  const [one] = results.recordings;
  const { morning, detail } = pagesOf(out, one);
  return { out, morning, html: detail, text: textOf(detail), one };
}

const two = (n: number): string => String(n).padStart(2, '0');

/** ICP through a probe and a drain every 5 s over a night: coughs, an open drain, a zero that moves at 01:30. */
function twoSources(): string {
  const rows = Array.from({ length: 8641 }, (_, i) => {
    const t = 19 * 3600 + i * 5;
    const at = (hour: number, minute: number, seconds: number): boolean =>
      t >= hour * 3600 + minute * 60 && t < hour * 3600 + minute * 60 + seconds;
    const coughs = [20, 22, 27, 29].some((hour) => at(hour, 15, 10));
    const icp = 12 + ((i * 7) % 5) / 10 + (coughs ? 45 : 0);
    const drain = at(23, 0, 1200) ? 3 : icp - (t >= 25.5 * 3600 ? 9 : 1);
    const clock = `${two(Math.floor(t / 3600) % 24)}:${two(Math.floor(t / 60) % 60)}:${two(t % 60)}`;
    return `2031-02-${t < 86_400 ? 11 : 12} ${clock},${icp.toFixed(1)},${drain.toFixed(1)},${(85 + (coughs ? 12 : 0)).toFixed(0)}`;
  });
  return `Time,ICP probe (mmHg),EVD ICP (mmHg),ABP mean (mmHg)\n${rows.join('\n')}\n`;
}

describe('the page of a patient of the demo unit who coughs all night', () => {
  let page: Reported;
  beforeAll(async () => {
    page = await report(join(ROOT, 'pipelines/demo.yaml'), {
      data: [join(ROOT, 'fixtures/demo-unit/exports/patient-104.csv.gz')],
    });
  }, 60_000);

  it('shows the ten largest removals, each with a picture and with the figures of results.json', () => {
    const { html, text, one } = page;
    expect(one.largestRemovals).toHaveLength(10);
    const areas = one.largestRemovals.map(({ areaMmHgMinutes }) => areaMmHgMinutes);
    expect(areas).toEqual([...areas].sort((a, b) => b - a));
    expect(text).toContain('The ten largest removals of ICP');
    const table = html.slice(
      html.indexOf('class="removals"'),
      html.indexOf('</ol>', html.indexOf('class="removals"')),
    );
    expect(table.match(/<svg /g)).toHaveLength(10);
    for (const { start, areaMmHgMinutes } of one.largestRemovals) {
      expect(table).toContain(`<strong>${start.slice(11, 19)}</strong>`);
      expect(table).toContain(`${areaMmHgMinutes.toFixed(1)} mmHg·min`);
    }
  });

  it('says what else speaks for a cough, and where nothing does', () => {
    expect(page.text).toMatch(/mmHg·min; MAP rose by \d+ mmHg/);
    expect(page.text).toContain('mmHg·min; nothing else speaks for it');
  });

  it('lists every removed excursion of 40 mmHg or more, with its time', () => {
    const { one, text } = page;
    expect(one.largeExcursions.length).toBeGreaterThan(3);
    for (const { start, riseMmHg } of one.largeExcursions) {
      expect(riseMmHg).toBeGreaterThanOrEqual(40);
      expect(text).toContain(start.slice(11, 19));
    }
  });

  it('has the strip with a text that says the same, and the burden with each rule off', () => {
    expect(page.morning).toMatch(
      /aria-label="What was taken over the night: ICP: brief spikes, \d+ stretches/,
    );
    expect(page.text).toContain('As exported');
    const rules = new Set(page.one.cleaning.takes.map(({ rule }) => rule));
    expect(rules.size).toBeGreaterThan(0);
    for (const { without } of page.one.cleaning.takes) {
      expect(without.icpDoseMmHgHours).toBeGreaterThanOrEqual((page.one.icp.doseMmHgHours ?? 0) - 1e-9);
      expect(without.icpDoseMmHgHours).toBeLessThanOrEqual((page.one.icpRaw.doseMmHgHours ?? 0) + 1e-9);
    }
  });

  it('has no section on a second source of ICP, and says why in results.json', () => {
    expect(page.text).not.toContain('Probe and drain');
    expect(page.one.agreement).toBeNull();
    expect(page.one.agreementReason).toBe('the exports hold one source of ICP');
  });

  it('gives every id of its drawings to one element only, and stays a page that can be mailed', () => {
    for (const html of [page.morning, page.html]) {
      const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
      expect(ids.length).toBeGreaterThan(0);
      expect(new Set(ids).size).toBe(ids.length);
    }
    expect(statSync(join(page.out, page.one.page ?? '')).size).toBeLessThan(400_000);
    expect(statSync(join(page.out, page.one.detailPage ?? '')).size).toBeLessThan(2_000_000);
  });

  it('goes out as a tidy table too', () => {
    const lines = readFileSync(join(page.out, 'tables/removals.csv'), 'utf8').trimEnd().split('\r\n');
    const further = page.one.largeExcursions.filter(
      ({ start }) => !page.one.largestRemovals.some((one) => one.start === start),
    );
    expect(lines).toHaveLength(1 + 10 + further.length);
  });
});

describe('the page of a patient with a probe and a drain', () => {
  let page: Reported;
  let folder: string;
  beforeAll(async () => {
    folder = folderWith({
      'unit.yaml': 'exports: exports\ntimezone: Europe/Oslo\nreport: morning\ncare: care.csv\n',
      'care.csv': 'Patient,Start,End,Event\n007,2031-02-11 23:00,2031-02-11 23:20,EVD open\n',
      'exports/007.csv': twoSources(),
    });
    page = await report(join(folder, 'unit.yaml'));
  }, 60_000);

  it('says how far the two agree, and shows the difference over time', () => {
    const { text, html, one } = page;
    expect(one.agreement).toMatchObject({
      firstHeader: 'ICP probe (mmHg)',
      secondHeader: 'EVD ICP (mmHg)',
      isOpeningKnown: true,
      zeroMovesReason: null,
    });
    // 6 h 10 min 1 mmHg apart (the drain is open for 20 min, and reads the drip chamber), then 5 h 30 min 9 mmHg apart.
    expect(one.agreement?.minutes).toBeGreaterThan(690);
    expect(one.agreement?.minutes).toBeLessThan(702);
    expect(one.agreement?.meanDifferenceMmHg).toBeCloseTo((370 * 1 + 330 * 9) / 700, 1);
    expect(text).toMatch(
      /Probe and drain\n+ICP of the probe "ICP probe \(mmHg\)" reads 4\.[78] mmHg higher on average than/,
    );
    expect(html).toContain('Probe minus drain, 1-min means, local time.');
  });

  it('has the mean difference of each hour in the table of hours', () => {
    const [head] = page.morning.match(/<h2>Hour by hour<\/h2>.*?<\/table>/s) ?? [''];
    expect(head).toContain('Probe minus drain, mmHg');
    expect(head).toMatch(/<td class="n">\+1\.0<\/td><\/tr>/);
    expect(head).toMatch(/<td class="n">\+9\.0<\/td><\/tr>/);
  });

  it('says that a zero may have moved, at the top, in its section and on the page of the unit, and blames neither', () => {
    const { text, one, out } = page;
    const says = 'the difference between probe and drain went from +1.0 to +9.0 mmHg at 01:30';
    expect(text.split(says).length - 1).toBeGreaterThanOrEqual(2);
    expect(text).toContain('Which of the two is wrong cannot be told from this');
    expect(one.probeNote).toContain(says);
    expect(readFileSync(join(out, 'index.html'), 'utf8')).toContain(says);
  });

  it('accounts for the drain, and the shares of each channel add up', () => {
    const { takes, channels } = page.one.cleaning;
    expect(channels.map(({ channel }) => channel)).toEqual(['icp', 'icpDrain', 'map']);
    for (const { channel, keptShare, noDataShare } of channels) {
      const taken = takes.filter((take) => take.channel === channel && !take.staysIn);
      expect(
        taken.reduce((sum, { shareOfPeriod }) => sum + shareOfPeriod, keptShare + noDataShare),
      ).toBeCloseTo(1, 9);
    }
    expect(page.text).toContain('Drain: drain open');
  });

  it('follows the pipeline file in what it calls a moved zero', async () => {
    const { one, text } = await report(join(folder, 'unit.yaml'), { set: ['summarize.zeroMovedMmHg=8.5'] });
    expect(one.agreement?.zeroMoves).toEqual([]);
    expect(text).not.toContain('A zero may have moved');
  });

  it('goes out as a tidy table too', () => {
    const [header, row] = readFileSync(join(page.out, 'tables/agreement.csv'), 'utf8').split('\r\n');
    expect(header).toMatch(/^patient,firstHeader,secondHeader,minutes,meanDifferenceMmHg,sdMmHg/);
    expect(row).toMatch(/^007,ICP probe \(mmHg\),EVD ICP \(mmHg\),\d+,4\.7/);
  });
});
