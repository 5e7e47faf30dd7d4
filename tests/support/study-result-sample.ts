import type { StudyResult } from '../../src/report/results-study.js';
import type { SpreadResult } from '../../src/report/results-study-cohort.js';
import type { StudyFeatureResult, StudyModels } from '../../src/report/results-study-features.js';

const NOBODY = 'no value is known';

const spread = (median: number, known = 9, missing = 1): SpreadResult => ({
  known,
  missing,
  median,
  lowerQuartile: median - 1.25,
  upperQuartile: median + 2.5,
});
const unknown = (missing: number): SpreadResult => ({
  known: 0,
  missing,
  median: null,
  medianReason: NOBODY,
  lowerQuartile: null,
  lowerQuartileReason: NOBODY,
  upperQuartile: null,
  upperQuartileReason: NOBODY,
});

const answers = (yes: number, no: number, missing: number) => ({ yes, no, missing });

const column = (patients: number): StudyResult['tableOne']['all'] => ({
  patients,
  ageYears: spread(44.5),
  gcsMotor: {
    ...spread(4),
    counts: [1, 2, 3, 4, 5, 6].map((value) => ({ value, count: value })),
    missing: 1,
  },
  gcsTotal: { ...unknown(patients), counts: [{ value: 3, count: 0 }], missing: patients },
  pupilsReacting: { counts: [0, 1, 2].map((value) => ({ value, count: 3 - value })), missing: 4 },
  therapyIntensity: spread(11),
  monitoredHours: spread(70.25),
  died: answers(3, 6, 1),
  craniectomy: answers(1, 9, 0),
  withdrawn: answers(2, 7, 1),
});

const interval = (lower: number, upper: number, p: number) => ({ lower, upper, p });
const PARTED = 'the outcomes are parted, and the standard error does not hold';

const models: StudyModels = {
  logistic: {
    value: 1.5,
    wald: interval(1.1, 2.05, 0.0123),
    profile: interval(1.12, 2.11, 0.0101),
    method: 'maximum likelihood',
    separation: null,
    patients: 20,
    events: 9,
    eventsPerVariable: 9,
    hasFewEvents: true,
  },
  ordinal: {
    value: 1.4,
    wald: interval(1.05, 1.9, 0.02),
    profile: interval(1.06, 1.92, 0.019),
    patients: 20,
    levels: 7,
  },
};
const parted: StudyModels = {
  logistic: {
    value: 1e12 / 3,
    wald: { lower: null, lowerReason: PARTED, upper: null, upperReason: PARTED, p: null, pReason: PARTED },
    profile: { lower: 4.5, upper: null, upperReason: 'the profile is flat', p: 1e-7 },
    method: 'penalised likelihood',
    separation: 'quasi-complete',
    patients: 18,
    events: 8,
    eventsPerVariable: 2,
    hasFewEvents: true,
  },
  ordinal: null,
  ordinalReason: 'the regression has no result',
};
const p = (of: number, holm: number) => ({ p: of, holmP: holm });
const noP = (reason: string) => ({ p: null, pReason: reason, holmP: null, holmPReason: reason });

const mean: StudyFeatureResult = {
  key: 'icpMeanMmHg',
  title: 'Mean ICP',
  unit: 'mm[Hg]',
  step: 5,
  known: 20,
  missing: [
    { reason: 'not resolvable at this sampling', count: 2 },
    { reason: 'the exports hold no ICP', count: 1 },
  ],
  spread: { favourable: spread(13.1), unfavourable: spread(18.9) },
  pairsHigher: 71.5,
  rankSumMethod: 'normal',
  area: { value: 0.75, lower: 0.52, upper: 0.91 },
  ...models,
  cuts: [
    { from: 2, worse: 3, better: 17, logistic: null, logisticReason: 'a side of the cut has few patients' },
    { from: 5, worse: 9, better: 11, logistic: models.logistic },
  ],
  adjusted: {
    adjusters: ['ageYears', 'gcsMotor'],
    leftOut: [{ adjuster: 'pupilsReacting', reason: 'the same in all complete patients' }],
    complete: 18,
    incomplete: 2,
    ...parted,
    unadjusted: 1.6,
  },
  tests: {
    rankSum: p(0.03, 0.06),
    logistic: p(0.0101, 0.0202),
    ordinal: p(0.019, 0.038),
    adjustedLogistic: p(1e-7, 2e-7),
    adjustedOrdinal: noP('the regression has no result'),
  },
};

const NO_CPP = 'no patient has it';
const cpp: StudyFeatureResult = {
  key: 'cppDoseBelow60MmHgHours',
  title: 'Dose of CPP below 60 mmHg',
  unit: 'mm[Hg].h',
  step: 10,
  known: 0,
  missing: [{ reason: 'CPP is not known', count: 23 }],
  spread: { favourable: unknown(12), unfavourable: unknown(11) },
  pairsHigher: null,
  pairsHigherReason: NO_CPP,
  rankSumMethod: null,
  area: { value: null, lower: null, upper: null, reason: NO_CPP },
  logistic: null,
  logisticReason: NO_CPP,
  ordinal: null,
  ordinalReason: NO_CPP,
  cuts: [],
  adjusted: {
    adjusters: [],
    leftOut: [],
    complete: 0,
    incomplete: 0,
    logistic: null,
    logisticReason: NO_CPP,
    ordinal: null,
    ordinalReason: NO_CPP,
    unadjusted: null,
    unadjustedReason: NO_CPP,
  },
  tests: {
    rankSum: noP(NO_CPP),
    logistic: noP(NO_CPP),
    ordinal: noP(NO_CPP),
    adjustedLogistic: noP(NO_CPP),
    adjustedOrdinal: noP(NO_CPP),
  },
};

const FEATURES = [mean, cpp];

const correlation = (sign: number): StudyResult['maps'][number]['count'] => ({
  rho: [sign * 0.25, null, 0, sign * 0.125, sign * -0.5, null],
  sameSignShare: [0.875, null, null, 0.5, 1, null],
  isStable: [false, false, false, false, true, false],
  zeroLine: [
    { intensityMmHg: 20, minutes: [] },
    { intensityMmHg: 25, minutes: [7.5, 11.25] },
  ],
});

const likelihoodRatio = (chiSquare: number) => ({ chiSquare, freedom: 2, p: 0.25 });

/** A small study of invented figures that agree with nothing but the shape of results: each figure is told from its neighbours. */
export const studyResultSample = (): StudyResult => ({
  sentence: 'An invented sentence.',
  patientsAs: 'pseudonyms',
  asked: {
    primaryHours: 72,
    leastHours: 12,
    chosen: FEATURES.map(({ key, title, unit, step }) => ({
      ...{ key, title, unit, step },
      definition: `How ${key} is made.`,
      source: 'own convention',
    })),
    areChosenUsual: false,
    adjusters: ['ageYears', 'gcsMotor', 'pupilsReacting'],
    areAdjustersUsual: true,
    hasOptimalCpp: false,
    episodes: { thresholdMmHg: 22, minSeconds: 300 },
  },
  words: [
    { about: 'events', sentence: 'Few events, "9" of them: read intervals, and not the odds ratio.' },
    { about: 'questions', sentence: '2 features are asked about.' },
  ],
  patients: 23,
  flow: {
    inTable: 30,
    rowsSetAside: 1,
    steps: [
      { step: 'noExports', title: 'No exports', excluded: 2, left: 28 },
      { step: 'notRead', title: 'Exports could not be read', excluded: 1, left: 27 },
      { step: 'noIcp', title: 'No ICP', excluded: 0, left: 27 },
      { step: 'littleMonitored', title: 'Monitored for under 12 h', excluded: 2, left: 25 },
      { step: 'noOutcome', title: 'No outcome', excluded: 2, left: 23 },
      { step: 'withdrawn', title: 'Treatment was withdrawn', excluded: 3, left: 20 },
    ],
    withOutcome: 23,
    notWithdrawn: 20,
    withdrawalUnknown: 4,
    exportsWithoutRow: 1,
  },
  criteria: {
    ageFrom: 'over40',
    met: 20,
    notMet: 3,
    cannotTell: 7,
    missing: [
      { field: 'sbpMmHg', patients: 6 },
      { field: 'posturing', patients: 4 },
    ],
  },
  windows: {
    primaryHours: 72,
    monitoredHours: { favourable: spread(71), unfavourable: spread(66) },
    endsBy: [{ kind: 'length', title: 'its full length', patients: 23 }],
    remarks: [],
  },
  outcome: {
    scale: 'gose',
    scaleIsOfTable: true,
    favourableFrom: 5,
    words: { favourable: 'favourable: GOSE 5 to 8', unfavourable: 'unfavourable: GOSE 1 to 4' },
    cutSource: 'common practice, no source',
    months: 6,
    withinMonths: 1,
    assessed: { inTime: 20, otherTime: 1, unknown: 3 },
    levels: [1, 2, 3, 4, 5, 6, 7, 8].map((code) => ({
      code,
      title: `level ${code}`,
      isFavourable: code >= 5,
      count: code === 2 ? 0 : code,
    })),
    counts: { favourable: 12, unfavourable: 11 },
    onAnotherScale: 0,
  },
  tableOne: {
    favourable: column(12),
    unfavourable: column(11),
    withoutOutcome: column(2),
    all: column(25),
  },
  features: FEATURES,
  looks: (['main', 'notWithdrawn', 'stay'] as const).map((look, i) => ({
    look,
    title: `look ${look}`,
    patients: 23 - i,
    unfavourable: 11 - i,
    features: FEATURES.map(({ key, title, unit, step }, k) => ({
      key,
      title,
      unit,
      step,
      known: 20 - i,
      area: k === 0 ? { value: 0.75, lower: 0.5, upper: 0.9 } : mean.area,
      ...(k === 0 ? { rankSumP: 0.03 } : { rankSumP: null, rankSumPReason: NO_CPP }),
      odds: k === 0 ? { value: 1.5, lower: 1.12, upper: 2.11 } : cpp.area,
      oddsPenalised: false,
      adjustedOdds: { value: 3, lower: 1.5, upper: null, reason: 'the profile is flat' },
      adjustedOddsPenalised: true,
    })),
  })),
  dose: [
    {
      key: 'icpMeanMmHg',
      title: 'Mean ICP',
      unit: 'mm[Hg]',
      known: 20,
      groups: [
        {
          from: 0,
          to: 0,
          median: 0,
          patients: 8,
          unfavourable: 2,
          share: { value: 0.25, lower: 0.07, upper: 0.59 },
        },
        {
          from: 9.5,
          to: 14,
          median: 11,
          patients: 12,
          unfavourable: 9,
          share: { value: 0.75, lower: 0.47, upper: 0.91 },
        },
      ],
      hasZeroGroup: true,
      remarks: ['8 patients have a value of 0.', 'So there are 2 groups.'],
      curve: {
        knots: [9, 14.5, 22],
        points: [
          { at: 9, share: 0.2, lower: 0.05, upper: 0.5 },
          { at: 20.25, share: 0.8, lower: 0.4, upper: 0.95 },
        ],
        association: likelihoodRatio(6.5),
        nonLinearity: likelihoodRatio(0.125),
        eventsPerVariable: 4.5,
        hasFewEvents: true,
      },
    },
    {
      key: 'cppDoseBelow60MmHgHours',
      title: 'Dose of CPP below 60 mmHg',
      unit: 'mm[Hg].h',
      known: 0,
      groups: null,
      groupsReason: NO_CPP,
      hasZeroGroup: false,
      remarks: [],
      curve: null,
      curveReason: NO_CPP,
    },
  ],
  maps: [
    {
      channel: 'icp',
      side: 'above',
      patients: 23,
      withoutChannel: 0,
      intensitiesMmHg: [20, 25],
      durationsMinutes: [5, 10, 20],
      cellPatients: [22, 23, 23, 22, 23, 23],
      withEpisode: [20, 9, 15, 14, 13, 3],
      count: correlation(-1),
      perDay: correlation(1),
      resamples: 200,
      leastWithEpisode: 10,
      stableShare: 0.95,
    },
  ],
  days: {
    features: [
      {
        key: 'icpMeanMmHg',
        title: 'Mean ICP',
        unit: 'mm[Hg]',
        days: [
          { day: 1, favourable: spread(12, 7, 2), unfavourable: spread(15, 6, 3) },
          { day: 2, favourable: spread(13, 7, 2), unfavourable: unknown(9) },
        ],
      },
    ],
    withDays: 18,
    noDays: [{ why: 'the time of the injury is not known', patients: 5 }],
  },
});
