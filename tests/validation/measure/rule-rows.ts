import type { Mark } from '../../../src/clean/rule.js';
import type { Coverage } from './coverage.js';
import type { RuleRow, Where } from './rows.js';

/** What a sample is in truth, for the account of a rule. */
export type SampleTruth = 'labelled' | 'high' | 'quiet';

/** A row a rule and grade that marked something on a channel. */
export function ruleRows(
  where: Where,
  channel: string,
  marks: readonly Mark[],
  coverage: Coverage,
  rules: readonly string[],
  truthAt: (index: number) => SampleTruth,
): RuleRow[] {
  const own = marks.filter((mark) => mark.channel === channel);
  return rules.flatMap((rule, at) =>
    (['removed', 'suspect'] as const).flatMap((grade): RuleRow[] => {
      const count = own.filter((mark) => mark.rule === rule && mark.grade === grade).length;
      if (count === 0) return [];
      const samples = { labelled: 0, high: 0, quiet: 0 };
      coverage[grade].forEach((place, i) => {
        const isFirst = place === at + 1 && (grade === 'removed' || coverage.removed[i] === 0);
        if (isFirst) samples[truthAt(i)]++;
      });
      return [
        {
          ...where,
          channel,
          rule,
          grade,
          marks: count,
          secondsLabelled: samples.labelled * where.samplingSeconds,
          secondsHigh: samples.high * where.samplingSeconds,
          secondsQuiet: samples.quiet * where.samplingSeconds,
        },
      ];
    }),
  );
}
