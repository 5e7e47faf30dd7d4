import { z } from 'zod';
import { RULES } from '../clean/rules.js';
import { isoTime } from '../ingest/time/calendar.js';
import { CHANNEL_NAMES, EXPORTED_KINDS, type ExportedKind } from '../recording/channel.js';
import { isZone } from '../recording/zone.js';
import { REPORT_NAMES } from '../report/report-name.js';
import { auditSchema } from './audit-schema.js';
import { levellingSchema } from './levelling-schema.js';
import { logSchema, shift } from './log-schema.js';
import { studySchema } from './study-schema.js';

const text = z.string({ error: 'expected a text' }).min(1, { error: 'expected a text that is not empty' });
const clock = z
  .string({ error: 'expected a time of day such as "19:00", in quotes' })
  .regex(/^([01]\d|2[0-3]):[0-5]\d$/, { error: 'expected a time of day such as "19:00"' });
const seconds = z
  .number({ error: 'expected a number of seconds' })
  .nonnegative({ error: 'expected 0 or more seconds' });
const mmHg = z.number({ error: 'expected a pressure in mmHg' });

const episodes = z.strictObject({
  thresholdMmHg: mmHg.optional(),
  minSeconds: seconds.optional(),
  dipSeconds: seconds.optional(),
  bridgeSeconds: seconds.optional(),
});

const COLUMN_ERROR = 'expected the header of a column, or {header: ..., unit: ...}';
const headerAndUnit = {
  header: text.optional(),
  unit: text.optional(),
  shiftSeconds: z
    .union([shift, z.record(z.string(), shift)], {
      error: 'expected a number of seconds, or one by patient, as {"7": -60}',
    })
    .optional()
    .describe('Moves its times, to later ones where positive, for all or by patient: a clock that is apart'),
};
const column = z
  .union([text, z.strictObject(headerAndUnit)], { error: COLUMN_ERROR })
  .describe('The header of the column, or its header and unit');
const icpColumn = z
  .union([text, z.strictObject({ ...headerAndUnit, source: z.enum(['probe', 'drain']).optional() })], {
    error: COLUMN_ERROR,
  })
  .describe('The header of the column, or its header, unit and source');

const timeColumn = z
  .union(
    [
      text,
      z.strictObject({
        header: text.optional(),
        date: text.optional().describe('The column of the date, where it stands apart'),
        order: z.enum(['dayFirst', 'monthFirst']).optional().describe('Of dates such as 03/04/2031'),
        form: z
          .enum(['calendar', 'elapsed', 'spreadsheetDays', 'epochSeconds', 'epochMilliseconds'])
          .optional()
          .describe('How times are written, where it cannot be told'),
        unit: z.enum(['ms', 's', 'min', 'h']).optional().describe('Of elapsed time'),
        start: z
          .union([text, z.record(z.string(), text)])
          .optional()
          .describe('Local time at which elapsed time is 0, for all or by patient'),
      }),
    ],
    { error: 'expected the header of a column, or {header: ..., date: ..., order: dayFirst, ...}' },
  )
  .describe('The header of the time column, or how times are written');

/** Texts that are asked for as `kind: {header, unit, source}`. */
const channelColumns = Object.fromEntries(
  EXPORTED_KINDS.map((kind) => [
    kind,
    (kind === 'icp' || kind === 'icpDrain' ? icpColumn : column).optional().describe(CHANNEL_NAMES[kind]),
  ]),
) as Record<ExportedKind, z.ZodOptional<typeof icpColumn>>;

const localTime = text.refine((value) => isoTime(value) !== null, {
  error: 'expected a local time such as "2031-02-11 19:00"',
});

const pattern = text.refine(isPattern, { error: 'expected a regular expression' });

function isPattern(source: string): boolean {
  try {
    new RegExp(source);
    return true;
  } catch {
    return false;
  }
}

/** `off`, or the rule's parameters. */
const ruleChoices = Object.fromEntries(
  RULES.map(({ name, title, parameters }) => [
    name,
    z
      .union([z.literal('off'), parameters as z.ZodType<object>], {
        error: 'expected "off", or its parameters',
      })
      .optional()
      .describe(title),
  ]),
);

/** The pipeline file as it is written; what it leaves out is filled in from the preset and the defaults. */
export const pipelineSchema = z.strictObject({
  name: z
    .string({ error: 'expected a name of letters, digits, "-" and "_"' })
    .regex(/^[A-Za-z0-9][A-Za-z0-9_-]*$/, { error: 'expected a name of letters, digits, "-" and "_"' })
    .optional()
    .describe('Names the report folder; the file name where left out'),
  title: text.optional().describe('Stands on top of each page'),
  exports: z
    .union([text, z.array(text).min(1, { error: 'expected at least one file or folder' })], {
      error: 'expected a file, a folder or a pattern, or a list of them',
    })
    .describe('Files, folders or patterns, relative to this file'),
  timezone: text
    .refine(isZone, { error: 'expected an IANA time zone such as Europe/Oslo, America/Halifax or UTC' })
    .optional()
    .describe('IANA zone of times without an offset, and of the report'),
  preset: z.enum(['adult', 'paediatric']).optional(),
  period: z
    .union([z.enum(['lastNight', 'all']), z.strictObject({ from: localTime, to: localTime })], {
      error: 'expected lastNight, all, or {from: "2031-02-11 19:00", to: "2031-02-12 07:00"}',
    })
    .optional()
    .describe(
      'What the report is over; where left out, lastNight, or all of a perfusion report and an audit; a study has windows of its own',
    ),
  night: z.strictObject({ from: clock, to: clock }).optional(),
  patient: z
    .strictObject({ id: text.optional(), column: text.optional(), fileName: pattern.optional() })
    .refine((patient) => Object.values(patient).filter(Boolean).length === 1, {
      error: 'expected just one of id, column and fileName',
    })
    .optional()
    .describe('Where the patient number stands; without it each file is a patient'),
  expected: z
    .array(text, { error: 'expected a list of patients' })
    .optional()
    .describe('Patients that should have data, so that a missing one shows'),
  columns: z
    .strictObject({
      time: timeColumn.optional(),
      parameter: text.optional().describe('Exports with a row a value: the column that names the channel'),
      value: text.optional().describe('Exports with a row a value: the column of the value'),
      unit: text.optional().describe('Exports with a row a value: the column of the unit'),
      ...channelColumns,
      missing: z.array(text).optional().describe('More cell texts that mean "no value"'),
    })
    .optional(),
  care: logSchema('care').optional().describe('Care logs: what was done at the bed, by patient or bed'),
  alarms: logSchema('alarms')
    .optional()
    .describe('Alarm logs: alarm conditions with their limits and times, by patient or bed'),
  occupancy: logSchema('occupancy').optional().describe('Tables of who lay in which bed'),
  cohort: logSchema('cohort')
    .optional()
    .describe(
      'Tables of patients: a study takes outcomes and what was known at admission from it, an alarm audit the times of deaths',
    ),
  overrides: logSchema('overrides')
    .optional()
    .describe("Reviewed copies of a report's tables/marked.csv: a person's decisions win"),
  targets: logSchema('targets')
    .optional()
    .describe('Tables of lower CPP targets by patient and date: from when on which holds'),
  levelling: levellingSchema.optional(),
  clean: z
    .union([z.literal('none'), z.strictObject(ruleChoices)], {
      error: 'expected none, or rules with "off" or their parameters',
    })
    .optional(),
  segment: z
    .strictObject({
      icp: episodes.optional(),
      cpp: episodes.optional().describe('Episodes of CPP below its threshold'),
    })
    .optional(),
  summarize: z
    .strictObject({
      icpBandMmHg: z
        .tuple([mmHg, mmHg], { error: 'expected two pressures such as [5, 15]' })
        .refine(([low, high]) => low < high, { error: 'expected a lower and a higher pressure' })
        .optional(),
      cppFloorMmHg: mmHg.optional(),
      cppEdgesMmHg: z
        .array(mmHg, { error: 'expected rising pressures such as [50, 60, 70]' })
        .min(2, { error: 'expected at least two pressures' })
        .refine((edges) => edges.every((edge, i) => i === 0 || edge > edges[i - 1]), {
          error: 'expected rising pressures',
        })
        .optional(),
      zeroMovedMmHg: mmHg
        .positive({ error: 'expected a pressure above 0' })
        .optional()
        .describe('Two sources of ICP: a lasting change of their difference by more than this is told'),
    })
    .optional(),
  audit: auditSchema.optional(),
  study: studySchema.optional(),
  report: z.enum(REPORT_NAMES).describe('Which report to write'),
});

export type PipelineFile = z.infer<typeof pipelineSchema>;

/** Words of the pipeline file that belong to later work; each is answered so, not ignored. */
export const NOT_BUILT_YET: ReadonlySet<string> = new Set(['shifts']);
