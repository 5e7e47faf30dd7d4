import { type DoseCurve, doseResponse } from '../../summarize/study/analysis/dose-response.js';
import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import { estimateResult } from '../results-estimate.js';
import type { StudyDoseResult } from '../results-study-dose.js';
import { described } from './asked-result.js';

const curveResult = ({ knots, points, ...rest }: DoseCurve): StudyDoseResult['curve'] => ({
  ...rest,
  knots: [...knots],
  points: points.map(({ at, probability, lower, upper }) => ({ at, share: probability, lower, upper })),
  association: { ...rest.association },
  nonLinearity: { ...rest.nonLinearity },
});

/** How outcome goes along with each chosen feature, in the order in which they were chosen. */
export const doseResult = (cohort: StudyCohort): StudyDoseResult[] =>
  cohort.settings.chosen.map(({ key }) => {
    const { known, byQuantile, curve } = doseResponse(cohort.groups, key, cohort.settings.quantiles);
    const hasGroups = !('reason' in byQuantile);
    return {
      ...described(cohort, key),
      known,
      groups: hasGroups
        ? byQuantile.groups.map(({ share, ...group }) => ({ ...group, share: estimateResult(share) }))
        : null,
      ...(hasGroups ? {} : { groupsReason: byQuantile.reason }),
      hasZeroGroup: hasGroups && byQuantile.hasZeroGroup,
      remarks: hasGroups ? [...byQuantile.remarks] : [],
      curve: 'reason' in curve ? null : curveResult(curve),
      ...('reason' in curve ? { curveReason: curve.reason } : {}),
    };
  });
