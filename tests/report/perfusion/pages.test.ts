import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runPipeline } from '../../../src/pipeline/run-pipeline.js';
import type { Results } from '../../../src/report/results-schema.js';
import { describeAccessible } from '../../support/accessible-pages.js';
import { openChromium } from '../../support/chromium.js';
import { folderWith, ROOT } from '../../support/cistern.js';
import { textOf } from '../../support/pages-of.js';
import { feet, type Printed } from '../../support/print-checks.js';
import { printMarked } from '../../support/print-marked.js';
import { itPrintsWhole } from '../../support/printed-pages.js';
import { regulated } from '../../support/regulated.js';

/** Patients whose limits of regulation are known, and those of the demo: without MAP, suspect, by the minute. */
const UNITS = ['perfusion-unit', 'demo-unit'].map((name) => join(ROOT, 'fixtures', name));
const ids = UNITS.flatMap((unit) =>
  readdirSync(join(unit, 'exports')).flatMap((name) => /^patient-(\d+)/.exec(name)?.[1] ?? []),
);
/** Over two days, with a gap of arterial pressure. */
const LONG = '401';
const longCsv = (): string => {
  const { icp, map } = regulated(3, 60, { lower: 62, upper: 95, from: 48, to: 105, sweepHours: 9 });
  const rows = Array.from(icp.times, (time, i) => {
    const at = new Date(time).toISOString().slice(0, 19);
    return `${at},${icp.values[i].toFixed(1)},${i > 9000 && i < 10_000 ? '---' : map.values[i].toFixed(1)}`;
  });
  return `Time,ICP (mmHg),ABP mean (mmHg)\n${rows.join('\n')}\n`;
};
const pages = ['index.html', ...[...new Set([...ids, LONG])].sort().map((id) => `patient-${id}.html`)];

let out: string;
let results: Results;
beforeAll(async () => {
  const folder = folderWith({
    [`patient-${LONG}.csv`]: longCsv(),
    // JSON is YAML.
    'unit.yaml': JSON.stringify({
      title: 'Lantern Bay (invented)',
      exports: [...UNITS.map((unit) => join(unit, 'exports')), `patient-${LONG}.csv`],
      care: UNITS.map((unit) => join(unit, 'care-log.csv')),
      alarms: join(UNITS[1], 'alarm-log.csv'),
      targets: join(UNITS[0], 'cpp-targets.csv'),
      expected: ['111'],
      timezone: 'Europe/Oslo',
      patient: { fileName: '^patient-(\\d+)' },
      period: 'all',
      report: 'perfusion',
    }),
  });
  out = join(folder, 'report');
  results = (await runPipeline(join(folder, 'unit.yaml'), { out, threads: 1 })).results as Results;
}, 120_000);

const read = (name: string): string => readFileSync(join(out, name), 'utf8');
/** The text of a page between two headings. */
const section = (html: string, heading: RegExp): string => {
  const parts = html.split('<h2>');
  return textOf(parts.find((part) => heading.test(part)) ?? '');
};

describe('the perfusion report', () => {
  it('has a page a patient and one of the unit, and no handover', () => {
    const names = readdirSync(out).filter((name) => !/^(tables|results\.json|run\.json)$/.test(name));
    expect(names.sort()).toEqual(pages);
    expect(results.recordings.map(({ page, detailPage, handover }) => [page, detailPage, handover])).toEqual(
      pages.slice(1).map((page) => [page, null, []]),
    );
    expect(results.pipeline.report).toBe('perfusion');
  });

  it('lists who has no MAP, and who has no data, first and with the reason', () => {
    expect(results.unit.order.slice(0, 3)).toEqual(['105', '110', '111']);
    const index = textOf(read('index.html'));
    expect(index).toContain('Cannot say: CPP is not known: there is no arterial pressure.');
    expect(index).toContain('Cannot say: expected, but nothing was exported.');
    expect(index).not.toContain('handover');
    const page = textOf(read('patient-110.html'));
    expect(page).toContain('CPP is not known: there is no arterial pressure.');
    expect(page).toContain('PRx cannot be computed: there is no arterial pressure.');
  });

  it('says on each page what stands in results.json', () => {
    for (const { page, sentence, perfusion } of results.recordings) {
      const text = textOf(read(page ?? ''));
      for (const said of [sentence, perfusion.prx.sentence, perfusion.minuteIndex.sentence])
        expect(text).toContain(said.replaceAll('<', '&lt;'));
    }
  });

  it('gives the two indices their own names, and a limit to PRx alone', () => {
    const text = section(read('patient-304.html'), /^Autoregulation/);
    expect(text).toContain('PRx cannot be computed: not resolvable at this sampling');
    expect(text).toContain('The low-frequency index from minute data could be computed');
    expect(read('patient-304.html')).not.toContain('PRx above');
    expect(section(read('patient-301.html'), /^Autoregulation/)).toMatch(/PRx averaged|It averaged/);
  });

  it('shows no figures of optimal CPP, and PRx in brackets, where the clocks may be apart', () => {
    const { perfusion, sentence } = results.recordings.find(({ id }) => id === '305')!;
    const doubt = 'PRx cannot be judged: the clocks of ICP and MAP may be apart by 1 min.';
    expect(perfusion.prxDoubt).toBe(doubt);
    expect(sentence.startsWith(doubt)).toBe(true);
    expect(sentence).not.toMatch(/PRx averaged|impaired/);
    expect(perfusion.optimal).toMatchObject({ meanOptimalMmHg: null, yieldShare: null, whyWithheld: doubt });
    expect(perfusion.curve).toEqual({ bins: [], fit: null, whyNoFit: doubt });
    const html = read('patient-305.html');
    expect(section(html, /^Investigational: optimal CPP/)).toMatch(/no figures are shown/);
    expect(section(html, /^Investigational: optimal CPP/)).not.toMatch(/\d mmHg|%/);
    expect(section(html, /^How far to trust it/)).toContain(doubt);
    expect(section(html, /^ICP high and CPP low/)).toMatch(/\(−?0\.\d\d\)/);
    expect(textOf(read('index.html'))).toContain(doubt);
    expect(read('index.html')).toMatch(new RegExp(`<strong>${doubt}`));
    expect(results.unit.sentence).toMatch(/It cannot be judged in 305\./);
    expect(read('tables/perfusion.csv')).toContain(doubt);
  });

  it('has hours and dose below a target that is not the floor', () => {
    const text = textOf(read('patient-302.html'));
    expect(text).toContain('Below its target (60, from 07:00 on 65)');
    expect(textOf(read('index.html'))).toContain('CPP was below its target (60, from 07:00 on 65) for');
  });

  it('says on top that the monitor does not level, or that nobody said at what level MAP was zeroed', () => {
    expect(textOf(read('patient-303.html'))).toContain(
      'Not levelled: if the line was zeroed at the heart and the head was up, CPP at the ear was lower than shown (about 11 mmHg at 30 degrees and 28 cm).',
    );
  });

  it('has PRx by bands of CPP, of as many minutes as there are', () => {
    const { perfusion } = results.recordings.find(({ id }) => id === '301')!;
    const minutes = perfusion.prxByCpp.reduce((sum, band) => sum + band.minutes, 0);
    expect(minutes / 60).toBeCloseTo(perfusion.prx.computableHours, 1);
    expect(section(read('patient-301.html'), /^Autoregulation/)).toContain('PRx by CPP, as measured');
  });

  it('calls optimal CPP investigational wherever it stands, and no target', () => {
    for (const name of pages) {
      const html = read(name);
      const told = html
        .split(/<(?:h2|p|figcaption|caption|table|summary|footer)\b/)
        .map((part) => part.replaceAll(/<[^>]+>/g, ' '))
        .filter((part) => /optimal CPP|optimum \d/i.test(part));
      for (const part of told) expect(part, name).toMatch(/investigational/i);
    }
    const html = read('patient-301.html');
    expect(section(html, /^Investigational: optimal CPP/)).toContain(
      'Investigational: optimal CPP is no target. Targets follow local protocol and the treating team.',
    );
    const charts = [...html.matchAll(/<figcaption>(.*?)<\/figcaption>/gs)].map(([, title]) => textOf(title));
    expect(charts.filter((title) => /optimal CPP|PRx by CPP/.test(title))).toHaveLength(2);
    for (const title of charts.filter((one) => /optimal CPP|PRx by CPP/.test(one)))
      expect(title).toMatch(/^Investigational: /);
  });

  it('tells by days what is longer than two days, with the hours folded below, and by hours what is not', () => {
    const isLong = results.recordings.filter(({ days }) => days.length > 0);
    expect(isLong.map(({ id }) => id)).toEqual([LONG]);
    const byDay = section(read(`patient-${LONG}.html`), /^ICP high and CPP low/);
    expect(byDay).toMatch(/day by day/);
    expect(byDay).toMatch(/Hour by hour, as a table/);
    for (const day of ['11 February from 18:00', '12 February', '13 February', '14 February to 05:59'])
      expect(byDay).toContain(day);
    expect(section(read('patient-301.html'), /^ICP high and CPP low/)).toMatch(/hour by hour/);
  });

  it('has the tables, with a unit for each figure', () => {
    const dictionary = read('tables/dictionary.csv');
    for (const table of ['perfusion', 'joint-hours', 'curve', 'minutes', 'patients', 'episodes', 'marked']) {
      expect(dictionary).toContain(`\r\n${table},`);
      expect(read(`tables/${table}.csv`).split('\r\n').length).toBeGreaterThan(2);
    }
    const rows = read('tables/perfusion.csv').trimEnd().split('\r\n');
    expect(rows).toHaveLength(results.recordings.length + 1);
  });
});

/** One of each kind: with all channels, with targets, by the minute, of days, suspect, without MAP. */
const ofEachKind = [
  'index.html',
  ...['301', '302', '304', LONG, '105', '110'].map((id) => `patient-${id}.html`),
];

describeAccessible('the pages of perfusion, to those who cannot see or point', ofEachKind, () => out);

describe.each(['A4', 'Letter'] as const)('the pages of perfusion on %s', (format) => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openChromium();
  });
  afterAll(() => browser?.close());
  const printed = new Map<string, Promise<Printed>>();
  const print = (name: string): Promise<Printed> => {
    const known = printed.get(name) ?? printMarked(browser, pathToFileURL(join(out, name)).href, format);
    printed.set(name, known);
    return known;
  };

  itPrintsWhole(ofEachKind, print, format);

  it('take at most six sheets a patient and two for the unit, with the patient at each foot', async () => {
    for (const name of ofEachKind) {
      const { marked, sheets } = await print(name);
      expect(sheets.length, name).toBeLessThanOrEqual(name === 'index.html' ? 2 : 6);
      const whom = name === 'index.html' ? 'Lantern Bay' : `Patient ${/\d+/.exec(name)?.[0]}, perfusion`;
      for (const foot of feet({ marked, sheets })) expect(foot.startsWith(whom), foot).toBe(true);
    }
  });
});
