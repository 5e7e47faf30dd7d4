import type { WriteStream } from 'node:tty';
import type { RunEvent } from '../pipeline/run-event.js';

/** Tells a person or a machine how far a run is, and what else there is to say. */
export interface Progress {
  event(event: RunEvent): void;
  /** Nothing more comes of the run itself: a line that moves is taken away. */
  end(): void;
  /** A sentence, such as on a log or a patient that failed. */
  say(text: string, of: Said): void;
}

/** What a sentence is, for machines. */
export type Said =
  | { readonly event: 'warning' | 'refused' }
  /** Told already as an event, with the reason. */
  | { readonly event: 'failed' }
  | { readonly event: 'interrupted'; readonly kept: number; readonly of: number };

/** Where progress goes. */
export type ProgressStream = Pick<WriteStream, 'isTTY' | 'columns' | 'write'>;
