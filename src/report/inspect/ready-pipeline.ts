import { Document } from 'yaml';
import { CHANNEL_NAMES, type ChannelKind } from '../../recording/channel.js';
import { shorten } from '../../recording/problem.js';
import type { Inspection } from './inspection.js';

/** Keys that name files, with the paths as the pipeline file should name them. */
export interface FileKeys {
  readonly exports: readonly string[];
  readonly care?: readonly string[];
  readonly alarms?: readonly string[];
  readonly occupancy?: readonly string[];
  readonly targets?: readonly string[];
}

/** What the command line gave, which goes into the file as it is. */
export interface ReadyOptions extends FileKeys {
  readonly zone: string;
  /** `patient`, `columns` and other keys that were given. */
  readonly given: Readonly<Record<string, unknown>>;
}

/** What was understood of a file, as comments. */
function understood({ file, columns }: Inspection): string[] {
  const words = columns.map(({ header, takenFor, unit, why }) => {
    const name = `"${shorten(header)}"`;
    if (takenFor === null) return `   ${name} is left alone: ${why}`;
    const taken = takenFor in CHANNEL_NAMES ? CHANNEL_NAMES[takenFor as ChannelKind] : `the ${takenFor}`;
    return `   ${name} is ${taken}${unit ? ` in ${unit}` : ''} (${why})`;
  });
  return [` Understood of ${shorten(file, 100)}:`, ...words];
}

/** The order of day and month that all files have, which a later file may not be able to settle. */
function orderOf(inspections: readonly Inspection[]): string | null {
  const [first = null, ...others] = inspections.map(({ times }) => times?.order ?? null);
  return others.every((order) => order === first) ? first : null;
}

const asObject = (value: unknown): object =>
  typeof value === 'object' && value !== null ? value : typeof value === 'string' ? { header: value } : {};

/** A pipeline file for the files that were inspected; what was understood stands in it as comments. */
export function readyPipeline(inspections: readonly Inspection[], options: ReadyOptions): string {
  const usable = inspections.filter(({ kind, problem }) => kind === 'export' && problem === null);
  const patientColumn = usable.find((one) => one.patientColumn !== null)?.patientColumn;
  const { columns: givenColumns, ...given } = options.given;
  const order = orderOf(usable);
  const time = { ...(order ? { order } : {}), ...asObject((givenColumns as { time?: unknown })?.time) };
  const columns = {
    ...(givenColumns as object | undefined),
    ...(Object.keys(time).length > 0 ? { time } : {}),
  };
  const document = new Document({
    exports: options.exports,
    ...(options.care && { care: options.care }),
    ...(options.alarms && { alarms: options.alarms }),
    ...(options.occupancy && { occupancy: options.occupancy }),
    ...(options.targets && { targets: options.targets }),
    timezone: options.zone,
    ...(patientColumn ? { patient: { column: patientColumn } } : {}),
    ...given,
    ...(Object.keys(columns).length > 0 ? { columns } : {}),
    report: 'morning',
  });
  document.commentBefore = [
    ' Written by "cistern inspect": look through it before the first run.',
    ' timezone is that of times without an offset, and of the report.',
    ...(order && !givenOrder(givenColumns)
      ? [' columns.time.order: as the dates of these files settle it.']
      : []),
    ...usable.slice(0, MOST_FILES).flatMap(understood),
  ].join('\n');
  return document.toString({ lineWidth: 0 });
}

const MOST_FILES = 3;

const givenOrder = (columns: unknown): boolean =>
  (columns as { time?: { order?: string } } | undefined)?.time?.order !== undefined;
