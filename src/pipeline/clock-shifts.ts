import type { ColumnChoices, IngestSettings } from '../ingest/settings.js';
import { EXPORTED_KINDS } from '../recording/channel.js';
import { shorten } from '../recording/problem.js';
import { byPatientId } from '../report/words.js';
import { withZeros } from './alike-ids.js';

/** Channels of which the pipeline file gives a shift by patient, with those shifts. */
const byPatient = (columns: ColumnChoices): (readonly [string, Readonly<Record<string, number>>])[] =>
  EXPORTED_KINDS.flatMap((kind) => {
    const shifts = columns[kind]?.shiftSeconds;
    return typeof shifts === 'object' ? [[kind, shifts] as const] : [];
  });

/**
 * The same settings without the shifts of others, so that what is stored of a patient does not hang on them.
 *
 * @param id the patient of a group of files; null where a column names the patients
 */
export function shiftsOfGroup(ingest: IngestSettings, id: string | null): IngestSettings {
  if (id === null) return ingest;
  const own = byPatient(ingest.columns).map(([kind, shifts]) => {
    const { shiftSeconds: _, ...choice } = ingest.columns[kind as keyof ColumnChoices] as {
      shiftSeconds: unknown;
    };
    return [kind, Object.hasOwn(shifts, id) ? { ...choice, shiftSeconds: shifts[id] } : choice];
  });
  return { ...ingest, columns: { ...ingest.columns, ...Object.fromEntries(own) } };
}

/** Shifts of patients of whom there is no export, a sentence each. */
export const idleShifts = (columns: ColumnChoices, known: readonly string[]): string[] =>
  byPatient(columns).flatMap(([kind, shifts]) =>
    Object.keys(shifts)
      .filter((id) => !known.includes(id))
      .sort(byPatientId)
      .map((id) => {
        const other = withZeros(id, known);
        const hint =
          other === undefined
            ? 'correct the id (ids are text), or take it out if the patient has left'
            : `is it "${shorten(other)}" with its zeros lost?`;
        return `columns.${kind}.shiftSeconds names patient "${shorten(id)}", of whom there is no export. Its shift is not used: ${hint}${hint.endsWith('?') ? '' : '.'}`;
      }),
  );
