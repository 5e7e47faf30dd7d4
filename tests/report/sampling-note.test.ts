import { describe, expect, it } from 'vitest';
import { clean } from '../../src/clean/clean.js';
import { RULES } from '../../src/clean/rules.js';
import type { RecordingResult } from '../../src/report/results-schema.js';
import { samplingNote, unitSamplingNote } from '../../src/report/sampling-note.js';
import { recordingOf } from '../support/recordings.js';
import { everySeconds } from '../support/signals.js';

const aside = (rule: string, channel: string, seconds: number) => ({
  rule,
  why: `${channel} comes every ${seconds} s; the rule needs 15 s or finer`,
});

describe('the note on sampling', () => {
  it('names in one sentence what cannot be told, each rule once', () => {
    expect(
      samplingNote([
        aside('zeroing', 'ICP', 60),
        aside('briefSpike', 'ICP', 60),
        aside('flush', 'MAP', 60),
        aside('zeroing', 'ICP through the drain', 60),
      ]),
    ).toBe(
      'Sampled every 60 s: zeroing, brief spikes and arterial line flushed cannot be told from the patient and stay in.',
    );
  });

  it('keeps two rates apart', () => {
    expect(samplingNote([aside('step', 'ICP', 15), aside('flush', 'MAP', 60)])).toBe(
      'Sampled every 15 s: step to another level cannot be told from the patient; every 60 s: arterial line flushed cannot be told from the patient; they stay in.',
    );
  });

  it('is silent on other reasons, and where all rules could work', () => {
    const why = 'no care log was given: when the drain was open is not known';
    expect(samplingNote([{ rule: 'openDrain', why }])).toBeNull();
    expect(samplingNote([])).toBeNull();
  });

  it('understands what the rules themselves say', () => {
    const settings = Object.fromEntries(
      RULES.map(({ name, parameters }) => [name, parameters.parse({}) as object]),
    );
    const { stoodAside } = clean(recordingOf({ icp: everySeconds(60, Array(200).fill(12)) }), settings);
    expect(stoodAside.length).toBeGreaterThan(3);
    const note = samplingNote(stoodAside);
    for (const { rule } of stoodAside) {
      expect(note).toContain(RULES.find(({ name }) => name === rule)?.title.replace(/ \(.*/, ''));
    }
  });
});

describe('its short form for the page of the unit', () => {
  const one = (id: string, samplingNote: string | null) => ({ id, samplingNote }) as RecordingResult;
  it('says whose pages have more of it', () => {
    const says = 'the sampling is too coarse for some of the cleaning rules: what these would take stays in.';
    const end = `${says} The page of each names them.`;
    expect(unitSamplingNote([one('7', 'x'), one('8', null)])).toBe(
      `In patient 7 ${says} The page of patient 7 names them.`,
    );
    expect(unitSamplingNote([one('7', 'x'), one('8', 'x'), one('9', null)])).toBe(
      `In patients 7 and 8 ${end}`,
    );
    expect(unitSamplingNote([one('7', 'x'), one('8', 'x')])).toBe(`In both patients ${end}`);
    expect(unitSamplingNote(['7', '8', '9'].map((id) => one(id, 'x')))).toBe(`In all 3 patients ${end}`);
    expect(unitSamplingNote([one('8', null)])).toBeNull();
  });
});
