/** What decides whether a patient counts in a study. */
export interface FlowPatient {
  readonly id: string;
  /** The cohort table has a row of this patient. */
  readonly isInTable: boolean;
  readonly hasExports: boolean;
  /** False where there are exports that could not be read. */
  readonly isRead: boolean;
  readonly hasIcp: boolean;
  /** Of ICP in the primary window; 0 where there is none. */
  readonly monitoredHours: number;
  readonly hasOutcome: boolean;
  /** Treatment was withdrawn; null where the table does not say. */
  readonly isWithdrawn: boolean | null;
}

/** What a study asks of its patients. */
export interface FlowSettings {
  /** Monitored hours of ICP in the primary window, at least. */
  readonly leastHours: number;
}

/** The steps from the table to the analysis, in order: what a patient who comes no further lacks. */
export const FLOW_STEPS = [
  'noExports',
  'notRead',
  'noIcp',
  'littleMonitored',
  'noOutcome',
  'withdrawn',
] as const;
export type FlowStep = (typeof FLOW_STEPS)[number];

/** One step of the flow. */
export interface FlowCount {
  readonly step: FlowStep;
  /** Patients who reached the step and go no further. */
  readonly excluded: number;
  /** Patients who passed it. */
  readonly left: number;
}

/** How many patients there are at each step. */
export interface StudyFlow {
  readonly inTable: number;
  /** `left` of one step less `excluded` of the next is `left` of the next. */
  readonly steps: readonly FlowCount[];
  /** By patient of the table the first step that was not passed; null for those who passed all. */
  readonly stoppedAt: ReadonlyMap<string, FlowStep | null>;
  /** Those who passed the outcome: the patients of the main analysis. */
  readonly withOutcome: readonly string[];
  /** Of them those whose treatment is not known to have been withdrawn: a second look at the same question. */
  readonly notWithdrawn: readonly string[];
  /** Of `notWithdrawn`, those of whom the table does not say. */
  readonly withdrawalUnknown: number;
  readonly exportsWithoutRow: readonly string[];
  readonly rowsWithoutExports: readonly string[];
}

function firstLack(patient: FlowPatient, { leastHours }: FlowSettings): FlowStep | null {
  if (!patient.hasExports) return 'noExports';
  if (!patient.isRead) return 'notRead';
  if (!patient.hasIcp) return 'noIcp';
  // Without any monitored time there is no burden to speak of, however little is asked for.
  if (patient.monitoredHours <= 0 || patient.monitoredHours < leastHours) return 'littleMonitored';
  if (!patient.hasOutcome) return 'noOutcome';
  return patient.isWithdrawn === true ? 'withdrawn' : null;
}

/**
 * The flow of patients from the cohort table to the analysis. Each patient is counted for the first step that was not
 * passed, so that the counts add up. Source of the form: STROBE statement, item 13, von Elm et al., Lancet 2007;370:1453-7.
 *
 * @param patients each once: those of the table and those of the exports
 */
export function studyFlow(patients: readonly FlowPatient[], settings: FlowSettings): StudyFlow {
  const inTable = patients.filter(({ isInTable }) => isInTable);
  const stoppedAt = new Map(inTable.map((patient) => [patient.id, firstLack(patient, settings)]));
  if (stoppedAt.size !== inTable.length) throw new RangeError('Expected each patient once');
  const steps: FlowCount[] = [];
  let left = inTable.length;
  for (const step of FLOW_STEPS) {
    const excluded = [...stoppedAt.values()].filter((lack) => lack === step).length;
    left -= excluded;
    steps.push({ step, excluded, left });
  }
  const idsWhere = (test: (patient: FlowPatient) => boolean): string[] =>
    patients.filter(test).map(({ id }) => id);
  const passes = (id: string, ...lacks: readonly (FlowStep | null)[]): boolean =>
    lacks.includes(stoppedAt.get(id) ?? null);
  const analysed = inTable.filter(({ id }) => passes(id, null, 'withdrawn'));
  const notWithdrawn = analysed.filter(({ id }) => passes(id, null));
  return {
    inTable: inTable.length,
    steps,
    stoppedAt,
    withOutcome: analysed.map(({ id }) => id),
    notWithdrawn: notWithdrawn.map(({ id }) => id),
    withdrawalUnknown: notWithdrawn.filter(({ isWithdrawn }) => isWithdrawn === null).length,
    exportsWithoutRow: idsWhere(({ hasExports, isInTable }) => hasExports && !isInTable),
    rowsWithoutExports: idsWhere(({ hasExports, isInTable }) => isInTable && !hasExports),
  };
}
