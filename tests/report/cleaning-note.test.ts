import { expect, it } from 'vitest';
import type { CleanSettings } from '../../src/clean/clean.js';
import { RULES } from '../../src/clean/rules.js';
import { cleaningNote } from '../../src/report/cleaning-note.js';

const USUAL: CleanSettings = Object.fromEntries(
  RULES.map(({ name, parameters }) => [name, parameters.parse({}) as object]),
);

it('says nothing of the usual cleaning', () => {
  expect(cleaningNote(USUAL)).toBeNull();
});
it('says that nothing was cleaned', () => {
  expect(cleaningNote({})).toBe(
    'Nothing was cleaned: coughs, handling and lost zeros are counted as pressure of the patient.',
  );
});
it('names what is off and what was changed', () => {
  const { briefSpike: _, flush: __, ...rest } = USUAL;
  expect(cleaningNote({ ...rest, step: { ...rest.step, stepMmHg: 15 } })).toBe(
    'Cleaning is not the usual one. 2 rules off: brief spikes, arterial line flushed. 1 rule changed: step to another level (stepMmHg 15, usually 10).',
  );
});
