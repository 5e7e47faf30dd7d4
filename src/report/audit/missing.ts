/** Which logs and tables were given beside the exports. */
export interface GivenLogs {
  readonly alarms: boolean;
  readonly care: boolean;
  readonly occupancy: boolean;
  readonly cohort: boolean;
  /** False where no alarm of the log was acknowledged. */
  readonly acknowledgements: boolean;
}

/** What was not given, and what cannot be said for want of it, in sentences. */
export function missingWords({ alarms, care, cohort, acknowledgements }: GivenLogs): string[] {
  return [
    alarms
      ? null
      : 'No alarm log was given: alarms cannot be judged, and answers are counted from the crossing. Name it as alarms in the pipeline file.',
    !alarms || acknowledgements
      ? null
      : 'The alarm log tells of no acknowledgement, so how long that took is not known.',
    care
      ? null
      : 'No care log was given: which alarms a treatment cut short, and how soon somebody treated, is not known. Name it as care in the pipeline file.',
    cohort
      ? null
      : 'No table of patients was given, so nobody says who died: a death that ended an episode counts as the end of its data. Name it as cohort in the pipeline file.',
  ].filter((text) => text !== null);
}
