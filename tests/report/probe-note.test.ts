import { h } from 'preact';
import { renderToStaticMarkup } from 'preact-render-to-string';
import { describe, expect, it } from 'vitest';
import { REVIEWED } from '../../src/clean/decisions.js';
import { RULES } from '../../src/clean/rules.js';
import { ProbeNote } from '../../src/report/morning/probe-note.js';
import { checkWords, probeNote, seenWords } from '../../src/report/morning/probe-words.js';
import type { AgreementResult, RecordingResult } from '../../src/report/results-schema.js';
import { clockTime } from '../../src/report/words.js';
import { ADULT } from '../support/targets.js';

type Suspect = RecordingResult['suspect'][number];

function stretch(from: string, to: string, rules: string[], direction: 'down' | 'up' = 'down'): Suspect {
  const seen = { rules, direction, decidedBy: rules.includes(REVIEWED) ? ['AB'] : [] };
  return {
    start: `2031-02-12T${from}:00+01:00`,
    end: `2031-02-12T${to}:00+01:00`,
    ...seen,
    seen: seenWords(seen),
    checkFirst: checkWords(seen),
  };
}

const pulled = stretch('02:10', '07:00', ['step', 'negative']);
const clipped = stretch('01:00', '01:10', ['clipped'], 'up');
const moved: AgreementResult['zeroMoves'] = [
  {
    start: '2031-02-12T01:30:00+01:00',
    end: '2031-02-12T01:30:00+01:00',
    beforeMmHg: 0.8,
    afterMmHg: 9.31,
  },
];
const agreementOf = (zeroMoves: AgreementResult['zeroMoves']): RecordingResult['agreement'] =>
  ({ decimals: 1, zeroMoves }) as unknown as RecordingResult['agreement'];

function pageNote(suspect: Suspect[], more: Partial<RecordingResult> = {}, isInDetail = false): string {
  const result = {
    period: { start: '2031-02-11T19:00:00+01:00', end: '2031-02-12T07:00:00+01:00' },
    suspect,
    suspectHours: 4.8333,
    agreement: null,
    icp: { hoursAboveThreshold: 2, doseMmHgHours: 10 },
    icpOtherWay: { hoursAboveThreshold: 3, doseMmHgHours: 12 },
    ...more,
  } as RecordingResult;
  const html = renderToStaticMarkup(h(ProbeNote, { result, targets: ADULT, isInDetail }));
  return html
    .replace(/<\/(li|p)>/g, '\n')
    .replace(/<[^>]+>/g, '')
    .replaceAll('&quot;', '"')
    .trim();
}

describe('the note to check the probe, on the page of a patient', () => {
  it('says what was seen, when, how the figures go, the other way, and what is checked first', () => {
    expect(pageNote([pulled]).split('\n')).toEqual([
      'Check the probe, as local protocol says. ICP is suspect for 4 h 50 min. Counted in, ICP would be above 22 mmHg for 3 h (dose 12.0 mmHg·h), not 2 h (10.0).',
      "02:10 to 07:00 (4 h 50 min): a sudden step down and ICP under 0 mmHg. Left out of the figures. Usually checked first: the probe's position mark and connections; the zero and the level.",
    ]);
  });

  it('says that a stretch stays in, and that the figure does not change', () => {
    const same = { hoursAboveThreshold: 2.001, doseMmHgHours: 10.02 } as RecordingResult['icp'];
    expect(pageNote([clipped], { icpOtherWay: same }).split('\n')).toEqual([
      'Check the probe, as local protocol says. ICP is suspect for 4 h 50 min. Left out, ICP would be above 22 mmHg for 2 h (dose 10.0 mmHg·h), the same.',
      "01:00 to 01:10 (10 min): ICP held at the top of its scale, so it may have been higher. Stays in the figures. Usually checked first: the monitor's scale and range.",
    ]);
  });

  it('says of a pulled probe that neither figure is that of the patient', () => {
    const same = { hoursAboveThreshold: 2.001, doseMmHgHours: 10.02 } as RecordingResult['icp'];
    expect(pageNote([pulled], { icpOtherWay: same }).split('\n')[0]).toBe(
      'Check the probe, as local protocol says. ICP is suspect for 4 h 50 min. What ICP was in that time no figure says, with it or without it.',
    );
  });

  it('has no figure to compare with where nothing is known of ICP', () => {
    const icp = { hoursAboveThreshold: null, doseMmHgHours: null } as RecordingResult['icp'];
    expect(pageNote([pulled], { icp }).split('\n')[0]).toMatch(
      /Counted in, ICP would be above 22 mmHg for 3 h \(dose 12\.0 mmHg·h\); as it stands, nothing is known of ICP\.$/,
    );
  });

  it('tells the three longest stretches by time, and counts the others; the page in detail tells all', () => {
    const many = [1, 2, 3, 4, 5].map((hour) =>
      stretch(`0${hour}:00`, `0${hour}:${10 + (hour % 3)}`, ['negative']),
    );
    const lines = pageNote(many).split('\n');
    expect(lines).toHaveLength(5);
    expect(lines[0]).toContain('Counted in, ICP');
    expect(lines.slice(1, 4).map((line) => line.slice(0, 5))).toEqual(['01:00', '02:00', '05:00']);
    expect(lines[4]).toBe('And 2 shorter stretches, on the detail page.');
    expect(pageNote(many, {}, true).split('\n')).toHaveLength(6);
    const most = Array.from({ length: 53 }, () => stretch('01:00', '01:10', ['negative']));
    expect(pageNote(most, {}, true)).toMatch(/\nAnd 3 shorter stretches, in tables\/marked\.csv\.$/);
  });

  it('ends a sentence once where the name of a person ends with a full stop', () => {
    const seen = 'called suspect by A. B.';
    expect(pageNote([{ ...pulled, seen }])).toContain('called suspect by A. B. Left out');
  });

  it('names days where the period is longer than one', () => {
    const period = { start: '2031-02-10T19:00:00+01:00', end: '2031-02-12T07:00:00+01:00' };
    expect(pageNote([pulled], { period })).toContain('12 Feb 02:10 to 07:00 (4 h 50 min)');
  });

  it('leaves the other way out where the sampling cannot show it', () => {
    const none = { hoursAboveThreshold: null, doseMmHgHours: null } as RecordingResult['icp'];
    expect(pageNote([pulled], { icpOtherWay: none })).not.toContain('would be');
  });

  it('tells of a zero that may have moved, also where nothing else is suspect', () => {
    expect(pageNote([], { agreement: agreementOf(moved) })).toBe(
      'A zero may have moved: the difference between probe and drain went from +0.8 to +9.3 mmHg at 01:30 and stayed there for an hour or more. See "Probe and drain" on the detail page.',
    );
    expect(pageNote([], { agreement: agreementOf(moved) }, true)).toMatch(/ See "Probe and drain"\.$/);
  });

  it('is silent where nothing is suspect', () => {
    expect(pageNote([])).toBe('');
    expect(pageNote([], { agreement: agreementOf([]) })).toBe('');
  });
});

describe('the short form, for the page of the unit', () => {
  it('tells the longest stretch and how many more', () => {
    expect(probeNote({ suspect: [clipped, pulled], agreement: null }, clockTime)).toBe(
      'Check the probe, as local protocol says: a sudden step down and ICP under 0 mmHg, 02:10 to 07:00 (4 h 50 min), left out of the figures; and 1 shorter stretch.',
    );
    expect(probeNote({ suspect: [clipped], agreement: agreementOf(moved) }, clockTime)).toMatch(
      /still in the figures\. A zero may have moved: the difference .* at 01:30 and stayed there/,
    );
    expect(probeNote({ suspect: [], agreement: null }, clockTime)).toBeNull();
  });
});

describe('the words for what was seen', () => {
  const ofEach = (rules: string[], direction: 'down' | 'up', decidedBy: string[] = []): string =>
    seenWords({ rules, direction, decidedBy });

  it('are plain for every rule that calls ICP suspect, in both directions', () => {
    for (const rule of ['negative', 'step', 'zeroShift', 'damped', 'clipped', 'drift', 'openDrain']) {
      expect(RULES.map(({ name }) => name)).toContain(rule);
      for (const direction of ['down', 'up'] as const) {
        // No names of rules, and no titles of tables.
        expect(ofEach([rule], direction)).toMatch(/ICP|step|level|trace|drain/);
        expect(ofEach([rule], direction)).not.toContain(RULES.find(({ name }) => name === rule)?.title);
      }
    }
    expect(ofEach(['drift'], 'down')).toBe('the probe drifting down against the drain');
    expect(ofEach(['zeroShift'], 'up')).toBe('a higher level since a zeroing');
  });

  it('name the person who decided', () => {
    expect(ofEach([REVIEWED], 'up', ['AB', 'C. D.'])).toBe('called suspect by AB and C. D.');
  });

  it('fit what is checked first to what was seen, each thing once', () => {
    expect(checkWords({ rules: ['step', 'negative'] })).toBe(
      "the probe's position mark and connections; the zero and the level",
    );
    expect(checkWords({ rules: ['damped'] })).toBe(
      'the connections; in a fluid line also kinks, air and clots',
    );
    expect(checkWords({ rules: ['openDrain'] })).toBe('the stopcock and the care log');
    expect(checkWords({ rules: [REVIEWED] })).toBe(
      "the probe's position mark and connections; the zero and the level",
    );
  });
});
