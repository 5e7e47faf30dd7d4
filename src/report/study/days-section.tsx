import type { JSX } from 'preact';
import { SIDE_COLOURS, SIDES } from '../charts/study-sides.js';
import { Chart, Key } from '../page/chart.js';
import { Table } from '../page/table.js';
import type { StudyDaysResult, StudyOutcomeResult } from '../results-study-cohort.js';
import { listed } from '../words.js';
import { LAST_DAY } from './days-result.js';
import { type DayFeature, dayCell, daysSay, knownOf, whoseDays } from './days-words.js';
import { featureUnit } from './feature-number.js';

function DayTable({ feature }: { feature: DayFeature }): JSX.Element {
  return (
    <Table
      columns={[
        { head: 'Day', number: true },
        ...SIDES.flatMap((side) => [
          { head: `Median (quartiles), ${side}`, number: true },
          { head: `Patients, ${side}`, number: true },
        ]),
      ]}
      rows={feature.days.map((one) => ({
        key: String(one.day),
        cells: [
          String(one.day),
          ...SIDES.flatMap((side) => [dayCell(feature, one[side]), knownOf(one[side])]),
        ],
      }))}
    />
  );
}

function DayChart({ feature, svg }: { feature: DayFeature; svg: string }): JSX.Element {
  const unit = featureUnit(feature);
  return (
    <Chart
      svg={svg}
      title={unit === '' ? feature.title : `${feature.title}, ${unit}`}
      says={daysSay(feature)}
      values={<DayTable feature={feature} />}
      valuesTitle="Day by day, as a table"
    />
  );
}

/** The features by day since injury and outcome, and how many patients are left on each day. */
export function DaysSection({
  days,
  outcome,
  svgs,
}: {
  days: StudyDaysResult;
  outcome: Pick<StudyOutcomeResult, 'words'>;
  svgs: readonly (string | null)[];
}): JSX.Element {
  const { features, reason } = days;
  const unknown = features.filter(({ days: known }) => known.length === 0).map(({ title }) => title);
  return (
    <section>
      <h2>Day by day</h2>
      {reason !== undefined && <p>Cannot be told: {reason}.</p>}
      {(days.withDays > 0 || days.noDays.length > 0) && <p>{whoseDays(days)}</p>}
      {reason === undefined && (
        <>
          <p>
            Points: the median of the patients who were monitored on that day; lines: from the lower to the
            upper quartile; numbers below: the patients that both rest on.{' '}
            {SIDES.map((side) => (
              <Key key={side} colour={SIDE_COLOURS[side]}>
                {outcome.words[side]}
              </Key>
            ))}
          </p>
          <p>
            Fewer patients are left from day to day, since monitoring ends, treatment is withdrawn or a
            patient dies: a later day is of others than an earlier one, and a change from one to the next need
            not be one in any patient.
          </p>
          <div class="beside-each-other">
            {features.map((feature, i) => {
              const svg = svgs[i];
              return svg && <DayChart key={feature.key} feature={feature} svg={svg} />;
            })}
          </div>
          {unknown.length > 0 && <p>Not known on any day: {listed(unknown)}.</p>}
          <p class="small">
            Day 1 is the first 24 h from the instant of the injury. Days up to {LAST_DAY} are shown. A day
            counts as far as it was monitored, even where that is a part of it; a chosen total is therefore
            told per monitored hour or day here. Nothing is tested by day. Days: own convention.
          </p>
        </>
      )}
    </section>
  );
}
