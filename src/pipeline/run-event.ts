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
