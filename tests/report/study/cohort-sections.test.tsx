import type { Browser } from 'playwright-core';
import type { JSX } from 'preact';
import { renderToStaticMarkup } from 'preact-render-to-string';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { renderSvg } from '../../../src/report/charts/render.js';
import { studyDaysSpec } from '../../../src/report/charts/study-days.js';
import { renderPage } from '../../../src/report/page/page.js';
import { drawCohort } from '../../../src/report/study/cohort-drawings.js';
import { criteriaResult } from '../../../src/report/study/criteria-result.js';
import { CriteriaSection } from '../../../src/report/study/criteria-section.js';
import { daysResult } from '../../../src/report/study/days-result.js';
import { DaysSection } from '../../../src/report/study/days-section.js';
import { flowResult } from '../../../src/report/study/flow-result.js';
import { FlowSection } from '../../../src/report/study/flow-section.js';
import { outcomeResult } from '../../../src/report/study/outcome-result.js';
import { OutcomeSection } from '../../../src/report/study/outcome-section.js';
import { tableOneResult } from '../../../src/report/study/table-one-result.js';
import { TableOneSection } from '../../../src/report/study/table-one-section.js';
import { windowsResult } from '../../../src/report/study/windows-result.js';
import type { StudyCohort, StudyMember } from '../../../src/summarize/study/study-cohort.js';
import { openChromium } from '../../support/chromium.js';
import { inventedStudy } from '../../support/invented-study.js';
import { LABEL_FAULTS } from '../../support/label-faults.js';
import { textOf } from './small-cohort.js';

async function sectionsOf(cohort: StudyCohort): Promise<JSX.Element> {
  const outcome = outcomeResult(cohort);
  const days = daysResult(cohort);
  const svgs = await drawCohort({ outcome, days }, renderSvg);
  return (
    <>
      <FlowSection flow={flowResult(cohort)} notRead={1} />
      <CriteriaSection criteria={criteriaResult(cohort)} />
      <OutcomeSection outcome={outcome} windows={windowsResult(cohort)} svg={svgs.outcome} />
      <TableOneSection tableOne={tableOneResult(cohort)} outcome={outcome} />
      <DaysSection days={days} outcome={outcome} svgs={svgs.days} />
    </>
  );
}

const withRow = (change: object) => (member: StudyMember) => ({
  ...member,
  row: member.row && { ...member.row, ...change },
});
const BLANK = {
  ageYears: null,
  gcsTotal: null,
  gcsMotor: null,
  ct: null,
  pupilsReacting: null,
  posturing: null,
  sbpMmHg: null,
  injury: null,
  therapyIntensity: null,
  craniectomy: null,
  withdrawn: null,
  death: null,
};

const COHORTS: readonly (readonly [string, Parameters<typeof inventedStudy>[0]])[] = [
  ['twenty patients', { patients: 20 }],
  ['five patients', { patients: 5 }],
  ['nobody', { patients: 0 }],
  ['nobody with an outcome', { patients: 8, change: withRow({ outcome: null }) }],
  ['mortality at a month', { patients: 10, study: { outcome: { scale: 'mortality', months: 1 } } }],
  ['the GOS, cut higher', { patients: 10, study: { outcome: { scale: 'gos', favourableFrom: 5 } } }],
  ['blank fields', { patients: 8, change: withRow(BLANK) }],
];

describe('the sections on who the patients are', () => {
  it.each(COHORTS)('show no missing figure as a figure: %s', async (_, given) => {
    const text = textOf(await sectionsOf(inventedStudy(given)));
    expect(text).not.toMatch(/NaN|undefined|null|Infinity|\[object/);
    expect(text).not.toMatch(/\b1 (patients|rows|months)\b/);
  });

  it('never show whose figures they are, nor any text of the table', async () => {
    const hostile = '<script>alert(1)</script>"\u202e';
    const cohort = inventedStudy({
      patients: 12,
      change: (member) => {
        const id = `${hostile}${member.id}`;
        return {
          ...member,
          id,
          row: member.row && { ...member.row, id, file: hostile },
          study: member.study && {
            ...member.study,
            id,
            rows: member.study.rows.map((row) => ({ ...row, patient: id })),
          },
        };
      },
    });
    const plain = renderToStaticMarkup(await sectionsOf(inventedStudy({ patients: 12 })));
    expect(renderToStaticMarkup(await sectionsOf(cohort))).toBe(plain);
    expect(plain).not.toContain('script');
    expect(plain).not.toContain('cohort.csv');
  });

  it('are the same each time they are made', async () => {
    const [first, second] = [
      await sectionsOf(inventedStudy({ patients: 4 })),
      await sectionsOf(inventedStudy({ patients: 4 })),
    ];
    expect(renderToStaticMarkup(first)).toBe(renderToStaticMarkup(second));
  });
});

describe('in a browser', () => {
  let browser: Browser;
  let html: string;
  beforeAll(async () => {
    browser = await openChromium();
    html = renderPage({
      title: 'A study',
      subtitle: 'invented',
      running: 'A study',
      children: await sectionsOf(inventedStudy({ patients: 20 })),
    });
  });
  afterAll(() => browser.close());

  it.each([1000, 400, 360])(
    'at %i px no label is cut or stands on another, and no box leaves the page',
    async (width) => {
      const page = await browser.newPage({ viewport: { width, height: 900 } });
      await page.setContent(html);
      expect(await page.evaluate(LABEL_FAULTS)).toEqual([]);
      expect(
        await page.evaluate(`(() => {
        const right = document.documentElement.clientWidth;
        return [...document.querySelectorAll('.flow *')].filter((one) => one.getBoundingClientRect().right > right + 0.5).length;
      })()`),
      ).toBe(0);
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
      expect(
        await page.evaluate(`(() => {
        const stages = [...document.querySelectorAll('.flow .stage')].map((one) => one.getBoundingClientRect());
        const outs = [...document.querySelectorAll('.flow .out')].map((one) => one.getBoundingClientRect());
        return [
          stages.every((box, i) => i === 0 || box.top > stages[i - 1].bottom),
          outs.every((box, i) => box.left > stages[i].right && box.top > stages[i].bottom && box.bottom < stages[i + 1].top),
          outs.length,
        ];
      })()`),
      ).toEqual([true, true, 3]);
      await page.close();
    },
  );

  it('fourteen days of hundreds of patients fit below the chart', async () => {
    const spread = (known: number) => ({
      median: 1000.5,
      lowerQuartile: 900,
      upperQuartile: 1200,
      known,
      missing: 0,
    });
    const days = Array.from({ length: 14 }, (_, i) => ({
      day: i + 1,
      favourable: spread(999 - i),
      unfavourable: spread(888 - i),
    }));
    const feature = { key: 'icpMeanMmHg', title: 'Mean ICP', unit: 'mm[Hg]', days };
    const page = await browser.newPage({ viewport: { width: 1000, height: 900 } });
    await page.setContent(await renderSvg(studyDaysSpec(feature, 'mmHg', false), 'days'));
    expect(await page.evaluate(LABEL_FAULTS)).toEqual([]);
    expect(await page.evaluate("document.querySelectorAll('text').length")).toBeGreaterThan(14 * 3);
    await page.close();
  });
});
