import type { ChannelKind } from '../recording/channel.js';

/** What the pipeline file says of one channel's column; what it leaves out is read from the header. */
export interface ColumnChoice {
  readonly header?: string | undefined;
  readonly unit?: string | undefined;
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

/** Everything of the pipeline file that reading depends on. */
export interface IngestSettings {
  /** IANA zone of times that carry no offset. */
  readonly zone: string;
  /** Absent: each file is a patient, named as the file. */
  readonly patient?: PatientSource | undefined;
  readonly columns: Readonly<Partial<Record<ChannelKind, ColumnChoice>>> & {
    readonly time?: string | undefined;
  };
  /** Cell texts that mean "no value", beside the blank. */
  readonly missing: readonly string[];
}

/** Missing marks that monitors are seen to write. Common practice, no source. */
export const DEFAULT_MISSING = ['-', '--', '---', '***', '?', 'NA', 'N/A', 'NaN', 'null'];
