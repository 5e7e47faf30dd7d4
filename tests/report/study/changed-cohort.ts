import type { CodedPatient } from '../../../src/summarize/study/analysis/outcome-groups.js';
import type { PatientStudy } from '../../../src/summarize/study/patient-study.js';
import type { StudyCohort } from '../../../src/summarize/study/study-cohort.js';

/** The same cohort with other patients, or others' outcomes. */
export const withCoded = (cohort: StudyCohort, coded: readonly CodedPatient[]): StudyCohort => ({
  ...cohort,
  groups: { ...cohort.groups, coded },
});

/** The same cohort with other episodes. */
export function withGrids(
  cohort: StudyCohort,
  change: (grids: PatientStudy['grids'], place: number) => PatientStudy['grids'],
): StudyCohort {
  const members = [...cohort.memberOf].map(([id, member], place) => {
    const { study } = member;
    const changed = study && { ...study, grids: change(study.grids, place) };
    return [id, { ...member, study: changed }] as const;
  });
  return { ...cohort, memberOf: new Map(members) };
}

/** Outcomes dealt out anew by chance. */
export function dealt(cohort: StudyCohort, next: () => number): StudyCohort {
  const { coded } = cohort.groups;
  const codes = coded
    .map(({ code, isFavourable }) => ({ code, isFavourable, key: next() }))
    .sort((a, b) => a.key - b.key);
  return withCoded(
    cohort,
    coded.map((one, i) => ({ ...one, code: codes[i].code, isFavourable: codes[i].isFavourable })),
  );
}
