/** Which logs and tables were given beside the exports. */
export interface GivenLogs {
  readonly alarms: boolean;
  readonly care: boolean;
  readonly occupancy: boolean;
  readonly cohort: boolean;
  /** False where no alarm of the log was acknowledged. */
  readonly acknowledgements: boolean;
  /** How many entries of the care log count as treatment. */
  readonly treatments: number;
  /** False where a marked change lies outside of the data. */
  readonly isChangeInside: boolean;
  /** False where the alarm log holds no row that could be used. */
  readonly hasAlarmRows: boolean;
}

/** What was not given, and what cannot be said for want of it, in sentences. */
export function missingWords({ alarms, care, cohort, acknowledgements, ...more }: GivenLogs): string[] {
  return [
    alarms
      ? null
      : 'No alarm log was given: alarms cannot be judged, and answers are counted from the crossing. Name it as alarms in the pipeline file.',
    alarms && !more.hasAlarmRows
      ? 'The alarm log holds no alarm that could be used: tables/setaside.csv says of each row why.'
      : null,
    !alarms || acknowledgements || !more.hasAlarmRows
      ? null
      : 'The alarm log tells of no acknowledgement, so how long that took is not known.',
    care
      ? null
      : 'No care log was given: which alarms a treatment cut short, and how soon somebody treated, is not known. Name it as care in the pipeline file.',
    !care || more.treatments > 0
      ? null
      : 'No entry of the care log counts as a treatment while anybody was recorded: look at its words, its clock, and treatments under audit in the pipeline file.',
    more.isChangeInside
      ? null
      : 'The marked change lies outside of the data, so that nothing is compared with what came before it: look at its date.',
    cohort
      ? null
      : 'No table of patients was given, so nobody says who died: a death that ended an episode counts as the end of its data. Name it as cohort in the pipeline file.',
  ].filter((text) => text !== null);
}
