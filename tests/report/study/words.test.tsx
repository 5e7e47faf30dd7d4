import { describe, expect, it } from 'vitest';
import { WordsSection } from '../../../src/report/study/words-section.js';
import { analysed, textOf } from './analysed.js';

describe('the guard rails of a page', () => {
  it('count who was monitored for too short a time, and who of them died', () => {
    const outcomeOf = (place: number) => ({ scale: 'gose' as const, value: place === 5 ? 1 : 7 });
    const of = analysed({
      patients: 20,
      change: (member, place) =>
        member.row === null
          ? member
          : {
              ...member,
              row: {
                ...member.row,
                brainDeath: { happened: place === 16, at: null },
                death: null,
                outcome: outcomeOf(place),
              },
            },
    });
    // The exports of the invented patients 5 and 16 are of 6 h.
    expect(textOf(<WordsSection {...of} />)).toContain(
      'Left out early. 2 patients of the table had too little ICP in the first 72 h to count; 2 of these 2 died, at any time. Who dies early cannot be monitored for long, so that the study is of those who lived long enough.',
    );
  });
});
