import type { JSX } from 'preact';
import type { RecordingResult } from '../results-schema.js';

/** What MAP was taken down by for CPP; in detail also that nothing was. */
export function LevellingNote({
  result: { levelling },
  isInDetail = false,
}: {
  readonly result: RecordingResult;
  readonly isInDetail?: boolean;
}): JSX.Element | null {
  const note = levelling.note ?? (isInDetail ? levelling.asZeroedNote : null);
  return note === null ? null : <p class="small">{note}</p>;
}
