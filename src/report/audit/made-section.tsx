import type { JSX } from 'preact';
import { LogLines } from '../morning/log-lines.js';
import type { AuditResult } from '../results-audit.js';
import type { UnitResults } from '../results-schema.js';

const minutes = (seconds: number): string => `${Number((seconds / 60).toFixed(2))} min`;

/** Where the figures come from, the definitions with their sources, and what may be passed on. */
export function AuditMadeSection({
  results,
  audit,
}: {
  results: UnitResults;
  audit: AuditResult;
}): JSX.Element {
  const { icp, cpp } = audit.rules;
  const { rowsRead, rowsUsed, rowsSetAside } = results.counts;
  return (
    <section class="small">
      <h2>How it was made</h2>
      <p>
        Exports: rows read {rowsRead}, used {rowsUsed}, set aside {rowsSetAside}
        {rowsSetAside > 0 ? ' (each with its reason in tables/setaside.csv)' : ''}. Channels are cleaned by
        the rules of the pipeline file, which mark stretches and change no value. Pressures are taken as
        linear between neighbouring samples and as unknown across longer gaps and across what was removed;
        crossings are exact.
      </p>
      <LogLines logs={results.logs} />
      <p>
        Sustained: ICP above {icp.thresholdMmHg} mmHg for {minutes(icp.minSeconds)} or more, CPP below{' '}
        {cpp.thresholdMmHg} mmHg, or the target of the patient and day where a table gives one, for{' '}
        {minutes(cpp.minSeconds)} or more; short dips and gaps do not end an episode. Source of the usual
        thresholds (ICP 22, CPP 60 mmHg): Brain Trauma Foundation, 4th edition, Carney et al., Neurosurgery
        2017;80:6-15; sustained 5 min: common practice, no source.
      </p>
      <p>
        An alarm is judged by the first of these that applies: cannot tell, suspect, artifact, sustained, cut
        short, long past its own limit, brief, no crossing; the crossing of its own limit is looked for from
        60 s before its onset to 10 s after it. The classes, and a flood as 10 alarms or more in 10 min:
        common practice, no source.
      </p>
      <p>
        Answers: acknowledged and first treatment are counted from the first alarm of an episode, and from its
        crossing where none came; resolved from when the rule was met to the start of the first 5 min at or
        under the threshold. What a gap or the end of the data cuts off is followed up to there and never
        dropped; an episode that resolves, and a death, end the other clocks first (cumulative incidence of
        Aalen and Johansen; Kaplan and Meier where nothing comes first).
      </p>
      <p>
        Intervals draw whole patients 2,000 times, since the alarms and episodes of one patient belong
        together; under 10 patients there is none. Naive intervals (Wilson) take each alarm or episode for
        independent and are too narrow.
      </p>
      <p>
        Run charts: Anhøj & Olesen, PLoS ONE 2014;9:e113825. Control charts: NIST/SEMATECH e-Handbook of
        Statistical Methods 6.3; Laney's p′ and u′, which allow for patients that differ: Laney, Quality
        Engineering 2002;14:531-7. All figures, unrounded, are in results.json; tables/alarms.csv and
        tables/episodes.csv have a row for each alarm and each episode that is counted here.
      </p>
      {audit.patientsAs === 'pseudonyms' && (
        <p>
          Patients appear by pseudonym; names of staff are never read. key.csv, which only its owner can open,
          tells who is who; run.json, tables/setaside.csv and tables/remarks.csv may tell too. Leave these
          four out of whatever is passed on. Times of events stay as they were, so what is passed on is not
          anonymous.
        </p>
      )}
    </section>
  );
}
