import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inspectFile } from '../../src/pipeline/inspect-file.js';
import { pipelineOf } from '../../src/pipeline/load-pipeline.js';
import type { Inspection } from '../../src/report/inspect/inspection.js';
import { readyPipeline } from '../../src/report/inspect/ready-pipeline.js';
import { inColumns, stripText } from '../../src/report/inspect/strip.js';
import { settingsWith } from '../ingest/support.js';
import { CARDS, cardsOf, caseNames } from '../tools/cards.js';

describe('what inspect says of each case', () => {
  it.each(caseNames())('%s is what was read and found right (npm run cards writes it anew)', async (name) => {
    expect(await cardsOf(name)).toBe(readFileSync(join(CARDS, `${name}.txt`), 'utf8'));
  });
});

const inspected = (content: string, more = {}): Promise<Inspection> =>
  inspectFile(
    {
      path: 'bed-7.csv',
      name: 'bed-7.csv',
      open: async function* () {
        yield Buffer.from(content);
      },
    },
    { ...settingsWith(more), zoneIsGiven: true },
  );

const CONTENT = 'Time;ICP (mmHg);Note\n25.02.2031 02:10:00;12,5;a\n26.02.2031 02:10:00;13;b\n';

describe('the pipeline file that inspect writes', () => {
  const options = { exports: ['../exports'], zone: 'Europe/Oslo', given: {} };

  it('reads the file as inspect did, also on a night whose dates settle nothing', async () => {
    const text = readyPipeline([await inspected(CONTENT, { zone: 'Europe/Oslo' })], options);
    const { ingest, exports } = pipelineOf(text, 'unit.yaml');
    expect(exports).toEqual(['../exports']);
    expect(ingest).toMatchObject({ zone: 'Europe/Oslo', columns: { time: { order: 'dayFirst' } } });
    const next = await inspected('Time;ICP (mmHg);Note\n03.04.2031 02:10:00;12,5;a\n', ingest);
    expect(next.problem).toBeNull();
    expect(next.patients[0].start).toBe('2031-04-03T02:10:00+02:00');
  });

  it('tells what was understood as comments, whatever stands in the headers', async () => {
    const content = CONTENT.replace('Note', '"No""te: #1"');
    const text = readyPipeline([await inspected(content)], options);
    expect(text).toContain('#   "ICP (mmHg)" is ICP in mm[Hg] (by its name, unit from its name)');
    expect(text).toContain('#   "No"te: #1" is left alone: none of the names known here');
    expect(() => pipelineOf(text, 'unit.yaml')).not.toThrow();
  });

  it('names the patient column where the rows name several', async () => {
    const rows = '2031-02-11 02:10:00,7,12\n2031-02-11 02:10:00,8,13\n';
    const inspection = await inspected(`Time,Patient,ICP (mmHg)\n${rows}`);
    expect(inspection.patientFrom).toBe(
      'the column "Patient" names 2; the pipeline file has to say patient: {column: Patient}',
    );
    const { ingest } = pipelineOf(readyPipeline([inspection], options), 'unit.yaml');
    expect(ingest.patient).toEqual({ column: 'Patient' });
  });

  it('keeps what was given to inspect', async () => {
    const given = {
      columns: { icp: { header: 'P3', unit: 'mmHg' }, missing: ['OFF'] },
      patient: { id: '7' },
    };
    const { ingest } = pipelineOf(readyPipeline([], { ...options, given }), 'unit.yaml');
    expect(ingest.patient).toEqual({ id: '7' });
    expect(ingest.columns.icp).toEqual({ header: 'P3', unit: 'mmHg' });
    expect(ingest.missing).toContain('OFF');
  });
});

describe('a strip', () => {
  it('shows the range in eight steps, and nothing where nothing is known', () => {
    expect(stripText([0, 1, 2, 3, 4, 5, 6, 7])).toBe('▁▂▃▄▅▆▇█');
    expect(stripText([10, null, 20])).toBe('▁ █');
  });

  it('stands in the middle where a channel is flat', () => {
    expect(stripText([5, 5])).toBe('▄▄');
  });

  it('carries lines between samples, and leaves gaps open', async () => {
    const rows = [0, 10, 20, 1000, 1010].map(
      (s) =>
        `2031-02-11 02:${String(Math.floor(s / 60)).padStart(2, '0')}:${String(s % 60).padStart(2, '0')},${s}\n`,
    );
    const { patients } = await inspected(`Time,ICP (mmHg)\n${rows.join('')}`);
    const [{ strip, gaps }] = patients[0].channels;
    expect(strip).toHaveLength(40);
    expect(strip.slice(2, 38).every((value) => value === null)).toBe(true);
    expect(gaps).toEqual({ count: 1, longest: { start: '2031-02-11T02:00:20+00:00', seconds: 980 } });
  });
});

describe('text in columns', () => {
  it('is as wide as its widest cell, by characters', () => {
    expect(
      inColumns(
        [
          ['a', 'bb', 'c'],
          ['äöü', 'b', 'cc'],
        ],
        [1],
      ),
    ).toEqual(['a    bb  c', 'äöü   b  cc']);
  });
});
