/** What a run tells while it works. */
export type RunEvent =
  | {
      readonly event: 'start';
      /** 2: some patients are reported again, over the night of the unit instead of their own. */
      readonly pass: 1 | 2;
      /** How many patients, or groups of files where a column names the patients. */
      readonly patients: number;
      readonly bytes: number;
    }
  | PatientEvent
  | PrintEvent
  | {
      /** A shard has come to its end, and writes no report. */
      readonly event: 'stored';
      readonly shard: number;
      /** So many shards. */
      readonly of: number;
      /** Where the results are stored. */
      readonly folder: string;
      readonly done: number;
      readonly reused: number;
      readonly failed: number;
      /** Groups of files of which nothing was kept, since the reason may pass; the merge reads them. */
      readonly notKept: number;
      readonly seconds: number;
    }
  | {
      readonly event: 'written';
      readonly folder: string;
      readonly done: number;
      readonly reused: number;
      readonly failed: number;
      readonly seconds: number;
    };

/** Pages are printed once all are written; each is told of when it is done. */
export type PrintEvent =
  | { readonly event: 'printing'; readonly pages: number }
  | {
      readonly event: 'printed';
      readonly page: string;
      readonly finished: number;
      readonly of: number;
      /** Why there is no PDF of the page. */
      readonly why?: string;
    };

/** One patient is finished: `done` was read, `reused` came out of the store. */
export interface PatientEvent {
  readonly event: 'done' | 'reused' | 'failed';
  readonly pass: 1 | 2;
  readonly patient: string;
  readonly rows: number;
  /** Of the patient's files; 0 for further patients of the same files. */
  readonly bytes: number;
  /** How many of the pass are finished, and how many of these are stored for the next run. */
  readonly finished: number;
  readonly kept: number;
  readonly of: number;
  /** Why the patient failed. */
  readonly why?: string;
}
