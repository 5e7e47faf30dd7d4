import { z } from 'zod';
import type { ColumnSpec, Description } from '../ingest/tables/describe.js';
import { OUTCOME_SCALES, type OutcomeScale } from '../ingest/tables/outcome.js';
import { OVERRIDES } from '../ingest/tables/overrides.js';
import { TABLES } from '../ingest/tables/recognise-table.js';

/** Keys of the pipeline file that name logs and tables beside the exports. */
export const LOG_KINDS = ['care', 'alarms', 'occupancy', 'cohort', 'overrides', 'targets'] as const;
export type LogKind = (typeof LOG_KINDS)[number];

/** What each of them is: the name in "it is no ...", and the columns. */
export const LOGS = {
  care: TABLES.care,
  alarms: TABLES.alarms,
  occupancy: TABLES.occupancy,
  cohort: TABLES.cohort,
  overrides: OVERRIDES,
  targets: TABLES.targets,
} as const;

/** More is no clock that is apart. */
const LONGEST_SHIFT_SECONDS = 86_400;

/** How far a clock is moved, seconds. */
export const shift = z
  .number({ error: 'expected a number of seconds' })
  .min(-LONGEST_SHIFT_SECONDS, { error: 'expected a shift of a day at most, in seconds' })
  .max(LONGEST_SHIFT_SECONDS, { error: 'expected a shift of a day at most, in seconds' });

const text = z.string({ error: 'expected a text' }).min(1, { error: 'expected a text that is not empty' });
const files = z.union([text, z.array(text).min(1, { error: 'expected at least one file or folder' })], {
  error: 'expected a file, a folder or a pattern, or a list of them',
});

/** What may be said of a column, by what it holds. */
function columnSchema(spec: ColumnSpec): z.ZodType {
  const { type, title } = spec;
  const hasUnit =
    (type === 'text' && spec.hasUnit) || (type === 'number' && (spec.quantity ?? spec.units) !== undefined);
  const more = {
    ...(hasUnit && { unit: text.optional().describe('Where the header says none') }),
    ...(type === 'text' &&
      spec.hasScale && {
        scale: z
          .enum(OUTCOME_SCALES, { error: 'expected gos, gose or mortality' })
          .optional()
          .describe('Where the header says none'),
      }),
    ...(type === 'choice' && {
      words: z
        .record(z.string(), text, { error: 'expected words of the file with what each means' })
        .optional()
        .describe("What the file's own words mean"),
    }),
    ...((type === 'time' || type === 'date') && {
      date: text.optional().describe('The column of the date, where it stands apart'),
    }),
    ...((type === 'time' || type === 'date' || type === 'yesNoOrDate' || type === 'dateOrMonths') && {
      order: z.enum(['dayFirst', 'monthFirst']).optional().describe('Of dates such as 03/04/2031'),
      form: z
        .enum(['calendar', 'spreadsheetDays', 'epochSeconds', 'epochMilliseconds'])
        .optional()
        .describe('How times are written, where it cannot be told'),
    }),
  };
  return z
    .union([text, z.strictObject({ header: text.optional(), ...more })], {
      error: 'expected the header of a column, or {header: ...}',
    })
    .optional()
    .describe(title);
}

/** `PATH`, a list of them, or `{files, columns}` where a file does not say enough of its columns. */
export function logSchema(kind: LogKind): z.ZodType<LogFiles> {
  const columns: Description = LOGS[kind].columns;
  const byKey = Object.fromEntries(Object.entries(columns).map(([key, spec]) => [key, columnSchema(spec)]));
  const shiftSeconds = shift
    .optional()
    .describe('Moves its times, to later ones where positive: a clock that is apart');
  const more = kind === 'care' || kind === 'alarms' ? { shiftSeconds } : {};
  return z.union([files, z.strictObject({ files, columns: z.strictObject(byKey).optional(), ...more })], {
    error: `expected a file, a folder or a pattern, a list of them, or {files: ..., columns: {${Object.keys(columns)[0]}: ...}}`,
  }) as z.ZodType<LogFiles>;
}

/** What the pipeline file says of one column: a header, or more than that. */
type ColumnGiven =
  | string
  | {
      readonly header?: string;
      readonly date?: string;
      readonly order?: 'dayFirst' | 'monthFirst';
      readonly unit?: string;
      readonly scale?: OutcomeScale;
      readonly words?: Readonly<Record<string, string>>;
    };

/** The value of one of these keys as it is written. */
export type LogFiles =
  | string
  | readonly string[]
  | {
      readonly files: string | readonly string[];
      readonly columns?: Readonly<Record<string, ColumnGiven>>;
      readonly shiftSeconds?: number;
    };

/** The same with its short forms written out. */
export interface LogChoice {
  readonly files: readonly string[];
  /** By key of the log's description; left out where its header says enough. */
  readonly columns?: Readonly<Record<string, ColumnGiven>> | undefined;
  /** Added to all its times; left out where nothing is. */
  readonly shiftSeconds?: number | undefined;
}

/** Writes out what the pipeline file says of a log. */
export function logChoice(given: LogFiles): LogChoice {
  if (typeof given === 'string') return { files: [given] };
  if (!('files' in given)) return { files: given };
  const { files: named, columns, shiftSeconds } = given;
  return {
    files: typeof named === 'string' ? [named] : named,
    ...(columns && { columns }),
    ...(shiftSeconds ? { shiftSeconds } : {}),
  };
}
