import type { StudyDoseResult } from '../results-study-dose.js';
import { FEATURE, flag, number, patients, TITLE, UNIT, whole, why, word } from './study-columns.js';
import type { TidyTable } from './tidy-table.js';

const WILSON = {
  definition: 'Unfavourable outcomes by patients of the group, with an interval of 95 % by Wilson.',
  source: 'Wilson, J Am Stat Assoc 1927;22:209-12',
};
const CURVE = {
  definition:
    'Logistic regression on a restricted cubic spline; its interval of 95 % holds at each place by itself, and not for the curve as a whole. No place of it is a limit.',
  source: 'Harrell, Regression Modeling Strategies, 2nd ed. 2015, section 2.4',
};
const RATIO = {
  definition: 'Likelihood ratio test.',
  source: 'Wilks, Ann Math Stat 1938;9:60-2',
};

const fitTable = (dose: readonly StudyDoseResult[]): TidyTable => ({
  name: 'dose',
  says: 'A row a feature: how its groups came about, and what its curve rests on',
  key: ['feature'],
  columns: [
    FEATURE,
    TITLE,
    UNIT,
    patients('known', 'Patients with a value', 'Patients of the main analysis who have it'),
    flag('hasZeroGroup', 'Group of zeros', 'true where the first group is those without any'),
    word('remarks', 'Remarks', 'How the groups came about, where they are not as asked for'),
    why('groups', 'Groups'),
    word('knots', 'Knots', 'Where the knots of the curve lie, in the unit of the row, as [0 0.5 2]'),
    number(
      'associationChiSquare',
      'Association: chi square',
      '1',
      'Of the curve against one chance for all',
      RATIO,
    ),
    whole('associationFreedom', 'Association: degrees of freedom', '1', 'Of the test', RATIO),
    number('associationP', 'Association: p', '1', 'Of the test; not adjusted', RATIO),
    number(
      'nonLinearityChiSquare',
      'Not a line: chi square',
      '1',
      'Of the curve against a straight line',
      RATIO,
    ),
    whole('nonLinearityFreedom', 'Not a line: degrees of freedom', '1', 'Of the test', RATIO),
    number('nonLinearityP', 'Not a line: p', '1', 'Of the test; not adjusted', RATIO),
    number('eventsPerVariable', 'Events per variable', '1', 'Patients of the smaller group for each term', {
      definition: 'Under 10 coefficients tend to be too large, and intervals not to hold.',
      source: 'Peduzzi et al., J Clin Epidemiol 1996;49:1373-9',
    }),
    flag('hasFewEvents', 'Few events', 'true where they are under 10'),
    why('curve', 'Curve'),
  ],
  rows: dose.map(({ key, title, unit, known, hasZeroGroup, remarks, groupsReason, curve, curveReason }) => ({
    feature: key,
    title,
    unit,
    known,
    hasZeroGroup,
    remarks: remarks.join(' '),
    groupsReason,
    curveReason,
    ...(curve && {
      // In brackets, since text that begins with a minus is taken for a formula.
      knots: `[${curve.knots.join(' ')}]`,
      associationChiSquare: curve.association.chiSquare,
      associationFreedom: curve.association.freedom,
      associationP: curve.association.p,
      nonLinearityChiSquare: curve.nonLinearity.chiSquare,
      nonLinearityFreedom: curve.nonLinearity.freedom,
      nonLinearityP: curve.nonLinearity.p,
      eventsPerVariable: curve.eventsPerVariable,
      hasFewEvents: curve.hasFewEvents,
    }),
  })),
});

const groupTable = (dose: readonly StudyDoseResult[]): TidyTable => ({
  name: 'dose-groups',
  says: 'A row a feature and group of patients who are neighbours by it, from the lowest',
  key: ['feature', 'group'],
  columns: [
    FEATURE,
    whole('group', 'Group', '1', 'From the lowest, the first one 1'),
    TITLE,
    UNIT,
    flag('isZeroGroup', 'Group of zeros', 'true for those without any, where they are a group of their own'),
    number('from', 'Lowest value', '', 'Of the patients of the group, in the unit of the row'),
    number('to', 'Highest value', '', 'Of the patients of the group, in the unit of the row'),
    number('median', 'Median value', '', 'Of the patients of the group, in the unit of the row'),
    patients('patients', 'Patients', 'Of the group'),
    patients('unfavourable', 'Unfavourable outcomes', 'Patients of the group with one'),
    number('share', 'Share of unfavourable outcomes', '1', 'Of the patients of the group', WILSON),
    number('shareLower', 'Share: lower bound', '1', 'Of its interval', WILSON),
    number('shareUpper', 'Share: upper bound', '1', 'Of its interval', WILSON),
    why('share', 'Share or its interval'),
  ],
  rows: dose.flatMap(({ key, title, unit, groups, hasZeroGroup }) =>
    (groups ?? []).map(({ from, to, median, patients: n, unfavourable, share }, i) => ({
      feature: key,
      group: i + 1,
      title,
      unit,
      isZeroGroup: hasZeroGroup && i === 0,
      from,
      to,
      median,
      patients: n,
      unfavourable,
      share: share.value,
      shareLower: share.lower,
      shareUpper: share.upper,
      shareReason: share.reason,
    })),
  ),
});

const curveTable = (dose: readonly StudyDoseResult[]): TidyTable => ({
  name: 'dose-curves',
  says: 'A row a feature and place of its curve: the chance of an unfavourable outcome',
  key: ['feature', 'place'],
  columns: [
    FEATURE,
    whole('place', 'Place', '1', 'From the lowest value, the first one 1'),
    TITLE,
    UNIT,
    number('at', 'Value', '', 'Value of the feature, in the unit of the row'),
    number('share', 'Chance of an unfavourable outcome', '1', 'At that value', CURVE),
    number('shareLower', 'Chance: lower bound', '1', 'Of its interval', CURVE),
    number('shareUpper', 'Chance: upper bound', '1', 'Of its interval', CURVE),
  ],
  rows: dose.flatMap(({ key, title, unit, curve }) =>
    (curve?.points ?? []).map(({ at, share, lower, upper }, i) => ({
      feature: key,
      place: i + 1,
      title,
      unit,
      at,
      share,
      shareLower: lower,
      shareUpper: upper,
    })),
  ),
});

/** How outcome goes along with burden, as groups and as a curve. */
export const studyDoseTables = (dose: readonly StudyDoseResult[]): TidyTable[] => [
  fitTable(dose),
  groupTable(dose),
  curveTable(dose),
];
