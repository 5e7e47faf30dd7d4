import type { JSX } from 'preact';
import { Table } from '../page/table.js';
import type { StudyCriteriaResult } from '../results-study-cohort.js';
import { counted, share } from '../words.js';

const FIELD_WORDS: Readonly<Record<string, string>> = {
  gcsTotal: 'GCS total',
  ct: 'CT',
  ageYears: 'age',
  posturing: 'motor posturing',
  sbpMmHg: 'systolic pressure',
};

const AGE_WORDS = { over40: 'age over 40', from40: 'age 40 or more' } as const;

/** How many patients of the table fulfil the criteria, as a sentence. */
export function criteriaSentence({ met, notMet, cannotTell }: StudyCriteriaResult): string {
  const all = met + notMet + cannotTell;
  if (all === 0) return 'No patient is in the table.';
  const part = (count: number): string => `${count} (${share(count / all)})`;
  return `Of the ${counted(all, 'patient')} of the table the criteria are met in ${part(met)} and not met in ${part(notMet)}${cannotTell === 0 ? '' : `; in ${part(cannotTell)} it cannot be told`}.`;
}

/** The criteria for monitoring ICP, over the patients of the table. */
export function CriteriaSection({ criteria }: { criteria: StudyCriteriaResult }): JSX.Element {
  const { ageFrom, cannotTell, missing } = criteria;
  return (
    <section>
      <h2>Criteria for monitoring</h2>
      <p>
        {criteriaSentence(criteria)} They are counted alone, and decide nothing about who is in the study.
      </p>
      {missing.length > 0 && (
        <p>
          Fields that are blank and could decide, in the {counted(cannotTell, 'patient')} of whom it cannot be
          told; who lacks several is counted for each:
        </p>
      )}
      {missing.length > 0 && (
        <Table
          columns={[{ head: 'Field' }, { head: 'Patients', number: true }]}
          rows={missing.map(({ field, patients }) => ({
            key: field,
            cells: [FIELD_WORDS[field] ?? field, String(patients)],
          }))}
        />
      )}
      <p class="small">
        Met by a GCS of 3 to 8 with an abnormal CT, or with a normal CT and two or more of{' '}
        {AGE_WORDS[ageFrom]}, motor posturing and a systolic pressure under 90 mmHg. Brain Trauma Foundation,
        3rd edition, J Neurotrauma 2007;24(S1):S37
        {ageFrom === 'from40' ? '; age from 40: as some services count it' : ''}. A motor part of 2 or 3
        counts as posturing where the table says nothing of it. Where fields are blank, it is told only if it
        is the same however they are filled in.
      </p>
    </section>
  );
}
