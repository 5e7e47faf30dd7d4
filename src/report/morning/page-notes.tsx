import type { JSX } from 'preact';
import type { PageInput } from '../page-input.js';
import { decisionLines } from './decision-lines.js';
import { ProbeNote } from './probe-note.js';

/** What a reader has to know before the figures: cleaning that is not the usual one, decisions, the probe. */
export function PageNotes({
  result,
  cleaningNote,
  targets,
  isInDetail = false,
}: PageInput & { readonly isInDetail?: boolean }): JSX.Element {
  return (
    <>
      {[cleaningNote, result.samplingNote].map(
        (note) =>
          note !== null && (
            <p key={note}>
              <strong>{note}</strong>
            </p>
          ),
      )}
      {result.decisionNote !== null && (
        <p class="note">
          {result.decisionNote} {decisionLines(result).join('; ')}.
        </p>
      )}
      <ProbeNote result={result} targets={targets} isInDetail={isInDetail} />
    </>
  );
}
