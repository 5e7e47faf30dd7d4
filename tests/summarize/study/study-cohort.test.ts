import { describe, expect, it } from 'vitest';
import { patientOver, rowOver, studyCohort } from '../../../src/summarize/study/study-cohort.js';
import { type Given, gose, memberOf, smallStudy } from '../../report/study/small-cohort.js';
import { inventedStudy, moment } from '../../support/invented-study.js';

const gos = (value: number) => ({ outcome: { scale: 'gos' as const, value } });

describe('the patients of a study', () => {
  const people: readonly Given[] = [
    { id: '1', row: gose(8), features: { icpMeanMmHg: 12 } },
    { id: '2', row: gose(2), hours: 11 },
    { id: '3', row: {} },
    { id: '4', row: { ...gose(1), withdrawn: { happened: true, at: moment(0) } }, endsBy: 'withdrawn' },
    { id: '5', row: gose(4), exports: 'none' },
    { id: '6', row: null },
    { id: '7', row: gose(4), exports: 'failed' },
    { id: '8', row: gose(4), hasIcp: false },
  ];
  const cohort = smallStudy(people);

  it('are those who were monitored for long enough, with an outcome or without', () => {
    expect(cohort.patients.map(({ id }) => id)).toEqual(['1', '3', '4']);
    expect(cohort.groups.coded.map(({ patient: { id } }) => id)).toEqual(['1', '4']);
    expect(cohort.groups.withoutOutcome.map(({ id }) => id)).toEqual(['3']);
    expect(cohort.groups.coded.map(({ patient: { id } }) => id)).toEqual([...cohort.flow.withOutcome]);
    expect(Object.fromEntries(cohort.flow.stoppedAt)).toEqual({
      1: null,
      2: 'littleMonitored',
      3: 'noOutcome',
      4: 'withdrawn',
      5: 'noExports',
      7: 'notRead',
      8: 'noIcp',
    });
  });

  it('bring the features of the primary window and what ended it', () => {
    expect(cohort.patients[0]).toMatchObject({
      features: { icpMeanMmHg: 12, icpMonitoredHours: 72 },
      windowEndsBy: 'length',
    });
    expect(cohort.patients[2]).toMatchObject({ windowEndsBy: 'withdrawn', isWithdrawn: true, hasDied: true });
  });

  it('have a timing each who stands in the table, and are found by their ids', () => {
    expect([...cohort.timings]).toEqual([
      ['1', 'inTime'],
      ['2', 'inTime'],
      ['3', 'none'],
      ['4', 'inTime'],
      ['5', 'inTime'],
      ['7', 'inTime'],
      ['8', 'inTime'],
    ]);
    expect(cohort.memberOf.get('6')?.row).toBeNull();
    expect(cohort.memberOf.size).toBe(people.length);
  });

  it('lack an outcome that is of another time, in the flow as in the groups', () => {
    const late = smallStudy(
      [
        { id: '1', row: { ...gose(8), assessed: { months: 12 } } },
        { id: '2', row: { ...gose(7), assessed: { months: 6 } } },
        { id: '3', row: { ...gose(6), assessed: null } },
      ],
      { outcome: { months: 6 } },
    );
    expect(late.flow.stoppedAt.get('1')).toBe('noOutcome');
    expect(late.groups.withoutOutcome.map(({ id }) => id)).toEqual(['1']);
    expect(late.groups.coded.map(({ code }) => code)).toEqual([7, 6]);
    expect([...late.timings.values()]).toEqual(['otherTime', 'inTime', 'unknown']);
  });

  it('lack an outcome that is on a scale which does not tell that of the study', () => {
    const mixed = smallStudy([
      { id: '1', row: gose(8) },
      { id: '2', row: gose(3) },
      { id: '3', row: gos(5) },
    ]);
    expect(mixed.cut).toEqual({ scale: 'gose', favourableFrom: 5 });
    expect(mixed.flow.stoppedAt.get('3')).toBe('noOutcome');
    expect(mixed.groups.onAnotherScale).toBe(1);
  });

  it('are on the scale that most outcomes of the table are on, also of those who are not in the study', () => {
    const scale = (...given: Given[]) => smallStudy(given).cut;
    expect(scale({ id: '1', row: gose(8) }, { id: '2', row: gos(5) }, { id: '3', row: gos(1) })).toEqual({
      scale: 'gos',
      favourableFrom: 4,
    });
    expect(
      scale(
        { id: '1', row: gose(8) },
        { id: '2', row: gos(5), exports: 'none' },
        { id: '3', row: gos(5), exports: 'none' },
      ).scale,
    ).toBe('gos');
    // Of as many of each the finer one, and where there is none at all.
    expect(scale({ id: '1', row: gos(8 - 4) }, { id: '2', row: gose(5) }).scale).toBe('gose');
    expect(scale().scale).toBe('gose');
    const dead = { outcome: { scale: 'mortality' as const, isDead: true } };
    expect(scale({ id: '1', row: dead })).toEqual({ scale: 'mortality', favourableFrom: 1 });
  });

  it('are asked over the stay too, with the outcome at the time that is asked for', () => {
    const { settings } = cohort;
    const member = memberOf({ id: '1', row: { ...gose(8), assessed: { months: 24 } }, endsBy: 'data' });
    expect(patientOver(member, 'stay', settings)).toMatchObject({ id: '1', windowEndsBy: 'data' });
    const atSix = { ...settings, outcome: { ...settings.outcome, months: 6 } };
    expect(patientOver(member, 'stay', atSix)?.outcome).toBeNull();
    expect(patientOver({ ...member, row: null }, 'stay', settings)).toBeNull();
    expect(patientOver({ ...member, study: null }, 'primary', settings)).toBeNull();
    expect(rowOver(member.study, 'stay')?.kind).toBe('stay');
    expect(rowOver(null, 'stay')).toBeNull();
    const study = member.study && {
      ...member.study,
      rows: member.study.rows.map((row) => ({ ...row, window: { reason: 'the exports hold no ICP' } })),
    };
    expect(patientOver({ ...member, study }, 'primary', settings)).toBeNull();
  });

  it('are refused where one comes twice, or the scale of the table is cut outside of its levels', () => {
    const twice = memberOf({ id: '1', row: gose(5) });
    const { settings, icpEpisodes } = cohort;
    const input = { settings, icpEpisodes, rowsSetAside: 0 };
    expect(() => studyCohort({ ...input, members: [twice, twice] })).toThrow('Expected each patient once');
    expect(() => smallStudy([], { outcome: { scale: 'gos', favourableFrom: 8 } })).toThrow(
      'Expected a level from 2 to 5 that is favourable, and got 8',
    );
  });

  it('made from signals agree with the flow', () => {
    const made = inventedStudy({ patients: 16, seed: 9 });
    expect(made.groups.coded.map(({ patient: { id } }) => id)).toEqual([...made.flow.withOutcome]);
    const without = [...made.flow.stoppedAt].filter(([, lack]) => lack === 'noOutcome').map(([id]) => id);
    expect(made.groups.withoutOutcome.map(({ id }) => id)).toEqual(without);
    for (const { features } of made.patients) {
      expect(features.icpMonitoredHours).toBeGreaterThanOrEqual(made.settings.leastHours);
    }
  });
});
