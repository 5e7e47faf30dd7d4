import { z } from 'zod';
import { isoTime } from '../ingest/time/calendar.js';
import { Problem } from '../recording/problem.js';
import type { ZoneClock } from '../recording/zone.js';
import type { AuditSettings } from '../summarize/alarms/audit-settings.js';
import type { SummarizeSettings } from '../summarize/summarize.js';
import { writtenInstant } from './written-instant.js';

const text = z.string({ error: 'expected a text' }).min(1, { error: 'expected a text that is not empty' });
const mmHg = z.number({ error: 'expected a pressure in mmHg' });
const seconds = z
  .number({ error: 'expected a number of seconds' })
  .nonnegative({ error: 'expected 0 or more seconds' });

const day = text.refine((value) => isoTime(value.includes(':') ? value : `${value} 00:00`) !== null, {
  error: 'expected a date such as "2031-05-05", or a local time such as "2031-05-05 07:00"',
});

/** Values one behind the other, `step` apart. */
const steps = (unit: string, low: number, high: number) =>
  z
    .strictObject(
      {
        from: z.number({ error: `expected ${unit}` }).min(low, { error: `expected ${low} or more, ${unit}` }),
        to: z.number({ error: `expected ${unit}` }).max(high, { error: `expected ${high} or less, ${unit}` }),
        step: z
          .number({ error: `expected ${unit}` })
          .positive({ error: 'expected a step above 0' })
          .optional(),
      },
      { error: `expected {from: ..., to: ...}, ${unit}` },
    )
    .refine(({ from, to }) => from <= to, { error: 'expected from to be no more than to' })
    .refine(({ from, to, step = 1 }) => (to - from) / step < MOST_STEPS, {
      error: `expected ${MOST_STEPS} values or fewer`,
    });

/** A map of more rows or columns could not be read. */
const MOST_STEPS = 31;

/** How the alarms of a unit are audited; all of it has defaults. */
export const auditSchema = z
  .strictObject(
    {
      per: z
        .enum(['week', 'month'], { error: 'expected week or month' })
        .optional()
        .describe('Points of charts over time'),
      changed: z
        .strictObject(
          { date: day, what: text.optional() },
          { error: 'expected {date: "2031-05-05", what: new alarm protocol}' },
        )
        .optional()
        .describe('From when on something was done in another way; charts compare before and after'),
      present: z
        .strictObject(
          { limitMmHg: mmHg, delaySeconds: seconds.optional() },
          { error: 'expected {limitMmHg: 22, delaySeconds: 0}' },
        )
        .optional()
        .describe("How the unit's monitors are set now, to be marked among what else was tried"),
      lateSeconds: seconds
        .optional()
        .describe(
          'An alarm so long after the crossing is late; where left out, when the rule of episodes is met',
        ),
      limits: z
        .strictObject({ icpMmHg: mmHg.optional(), cppMmHg: mmHg.optional() })
        .optional()
        .describe('Limits of alarms whose log gives none; where left out, the thresholds of episodes'),
      whatIf: z
        .strictObject({
          limitsMmHg: steps('pressures in mmHg', 0, 100).optional(),
          delayMinutes: steps('minutes', 0, 60).optional(),
          resetSeconds: seconds.optional().describe('Back for so long before another alarm can be raised'),
        })
        .optional()
        .describe('Alarm settings that are tried on the past data'),
      treatments: z
        .array(text, { error: 'expected a list of words' })
        .min(1, { error: 'expected at least one word' })
        .optional()
        .describe('Entries of the care log that hold one of these words count as treatment, and no others'),
      maskBelow: z
        .number({ error: 'expected a whole number' })
        .int({ error: 'expected a whole number' })
        .min(2, { error: 'expected 2 or more' })
        .max(20, { error: 'expected 20 or less' })
        .optional()
        .describe('Counts under it are not shown, nor lists of single episodes; 5 is usual'),
      patients: z
        .enum(['pseudonyms', 'numbers'], { error: 'expected pseudonyms or numbers' })
        .optional()
        .describe('What patients appear under'),
    },
    {
      error: ({ code }) =>
        code === 'invalid_type'
          ? 'expected keys such as per, changed and present, as {per: month}'
          : undefined,
    },
  )
  .describe('What an alarm audit is made with');

type AuditFile = z.infer<typeof auditSchema>;

/** 10 + 7 x 0.7 is 14.899999999999999 in binary. */
const rounded = (value: number): number => Number(value.toFixed(6));

const valuesOf = ({
  from,
  to,
  step = 1,
}: {
  from: number;
  to: number;
  step?: number | undefined;
}): number[] =>
  Array.from({ length: Math.floor((to - from) / step + 1e-9) + 1 }, (_, i) => rounded(from + i * step));

function changedAt(date: string, clock: ZoneClock): number {
  const utc = writtenInstant(date.includes(':') ? date : `${date} 00:00`, clock);
  if (utc !== null) return utc;
  throw new Problem(
    `audit.changed.date: "${date}" does not exist in ${clock.zone}`,
    'Write it as "2031-05-05".',
  );
}

/** The present setting is tried too. */
const withOwn = (values: readonly number[], own: number | undefined): number[] =>
  own === undefined ? [...values] : [...new Set([...values, own])].sort((a, b) => a - b);

const DEFAULTS = {
  limitsMmHg: { from: 15, to: 30, step: 1 },
  delayMinutes: { from: 0, to: 15, step: 1 },
  resetSeconds: 0,
} as const;

/** What a pipeline file says of an audit, with what it leaves out filled in. */
export function auditOf(
  file: AuditFile = {},
  { icpEpisodes, cppEpisodes }: Pick<SummarizeSettings, 'icpEpisodes' | 'cppEpisodes'>,
  clock: ZoneClock,
): AuditSettings {
  const { changed, present, lateSeconds, limits, whatIf, treatments, maskBelow } = file;
  return {
    per: file.per ?? 'week',
    changed: changed ? { atMs: changedAt(changed.date, clock), what: changed.what ?? 'not named' } : null,
    lateSeconds: {
      icp: lateSeconds ?? icpEpisodes.minSeconds,
      cpp: lateSeconds ?? cppEpisodes.minSeconds,
    },
    limitsMmHg: {
      icp: limits?.icpMmHg ?? icpEpisodes.threshold,
      cpp: limits?.cppMmHg ?? cppEpisodes.threshold,
    },
    tried: {
      limitsMmHg: withOwn(valuesOf(whatIf?.limitsMmHg ?? DEFAULTS.limitsMmHg), present?.limitMmHg),
      delaysSeconds: withOwn(
        valuesOf(whatIf?.delayMinutes ?? DEFAULTS.delayMinutes).map((minutes) => rounded(minutes * 60)),
        present && (present.delaySeconds ?? 0),
      ),
      resetSeconds: whatIf?.resetSeconds ?? DEFAULTS.resetSeconds,
    },
    present: present ? { limitMmHg: present.limitMmHg, delaySeconds: present.delaySeconds ?? 0 } : null,
    maskBelow: maskBelow ?? null,
    hasPseudonyms: (file.patients ?? 'pseudonyms') === 'pseudonyms',
    treatments: treatments ?? null,
  };
}

/** The same in the words of the pipeline file, for results.json. */
export const auditInWords = (file: AuditFile = {}, audit: AuditSettings): object => ({
  per: audit.per,
  ...(file.changed ? { changed: file.changed } : {}),
  ...(audit.present ? { present: audit.present } : {}),
  lateSeconds: audit.lateSeconds,
  limits: { icpMmHg: audit.limitsMmHg.icp, cppMmHg: audit.limitsMmHg.cpp },
  whatIf: {
    limitsMmHg: file.whatIf?.limitsMmHg ?? DEFAULTS.limitsMmHg,
    delayMinutes: file.whatIf?.delayMinutes ?? DEFAULTS.delayMinutes,
    resetSeconds: audit.tried.resetSeconds,
  },
  ...(audit.treatments ? { treatments: audit.treatments } : {}),
  ...(audit.maskBelow === null ? {} : { maskBelow: audit.maskBelow }),
  patients: audit.hasPseudonyms ? 'pseudonyms' : 'numbers',
});
