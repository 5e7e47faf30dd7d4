import type { ChannelKind, ExportedKind, IcpSource } from '../recording/channel.js';

/** What the pipeline file says of one channel; what it leaves out is read from the export. */
export interface ColumnChoice {
  /** The header of its column; in exports with a row a value, its name in the parameter column. */
  readonly header?: string | undefined;
  readonly unit?: string | undefined;
  /** Its times are moved by so much, to later ones where positive, for all patients or by patient: another clock. */
  readonly shiftSeconds?: number | Readonly<Record<string, number>> | undefined;
  /** Only for ICP. */
  readonly source?: IcpSource | undefined;
}

/** Which number of a date such as 03/04/2031 is the day. */
export type DateOrder = 'dayFirst' | 'monthFirst';

/** How times are written. */
export type TimeForm = 'calendar' | 'elapsed' | 'spreadsheetDays' | 'epochSeconds' | 'epochMilliseconds';

/** What the pipeline file says of the times. */
export interface TimeChoice {
  /** The column of the time, or of the time of day where the date stands apart. */
  readonly header?: string | undefined;
  /** The column of the date where it stands apart. */
  readonly date?: string | undefined;
  readonly order?: DateOrder | undefined;
  readonly form?: TimeForm | undefined;
  /** Of elapsed time: ms, s, min or h. */
  readonly unit?: string | undefined;
  /** Local time at which elapsed time is 0: one for all, or by patient. */
  readonly start?: string | Readonly<Record<string, string>> | undefined;
}

/** Where the patient's number stands: one of the three. */
export interface PatientSource {
  /** All files are this patient's. */
  readonly id?: string | undefined;
  /** Header of the column that names the patient of each row. */
  readonly column?: string | undefined;
  /** Regular expression on the file's name; its first group, or all of it, is the patient. */
  readonly fileName?: string | undefined;
}

/** What the pipeline file says of the columns. */
export type ColumnChoices = Readonly<Partial<Record<ExportedKind, ColumnChoice>>> & {
  readonly time?: string | TimeChoice | undefined;
  /** Headers of an export that holds a row a value. */
  readonly parameter?: string | undefined;
  readonly value?: string | undefined;
  readonly unit?: string | undefined;
};

/** Everything of the pipeline file that reading depends on. */
export interface IngestSettings {
  /** IANA zone of times that carry no offset. */
  readonly zone: string;
  /** Absent: each file is a patient, named as the file. */
  readonly patient?: PatientSource | undefined;
  readonly columns: ColumnChoices;
  /** Cell texts that mean "no value", beside the blank and the usual marks. */
  readonly missing: readonly string[];
  /** The channels that are wanted; all where left out. */
  readonly channels?: readonly ChannelKind[] | undefined;
  /** False: plain rows go the long way too, so that tests can hold the two against each other. */
  readonly hasLane?: boolean | undefined;
}

/** What the pipeline file says of the times, its short form written out. */
export const timeChoice = ({ time }: ColumnChoices): TimeChoice =>
  typeof time === 'string' ? { header: time } : (time ?? {});

/** Missing marks that monitors are seen to write, in any case. Common practice, no source. */
export const DEFAULT_MISSING = ['-', '--', '---', '***', '?', 'NA', 'N/A', 'NaN', 'null', 'none'];
