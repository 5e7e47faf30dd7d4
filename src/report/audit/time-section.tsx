import type { JSX } from 'preact';
import { Chart } from '../page/chart.js';
import { Table } from '../page/table.js';
import type { AuditTime, MeasureResult, ViewResult } from '../results-audit-time.js';
import { counted, day, NONE } from '../words.js';
import { maskNote } from './count-words.js';
import { pointWords } from './signal-words.js';
import type { TimeDrawings } from './time-drawings.js';
import { baselineWords, cutWords, leftOutWords, MEASURE_WORDS, valueWord, viewWords } from './time-words.js';

/** What the section over time shows. */
export interface TimeSectionProps {
  readonly time: AuditTime;
  readonly drawings: TimeDrawings;
}

/** The limits of a point in the views that are drawn: of its own or carried over. */
const limitsOf = ({ views }: MeasureResult, start: string): ViewResult['limits'][number] | undefined =>
  views
    .filter(({ kind }) => kind !== 'rebased')
    .flatMap(({ limits }) => limits)
    .find((one) => one.start === start);

function PointTable({ measure, per }: { measure: MeasureResult; per: AuditTime['per'] }): JSX.Element {
  const { count, size } = MEASURE_WORDS[measure.measure];
  const hasLimits = measure.views.length > 0;
  const word = (value: number | null | undefined): string => valueWord(measure.measure, value ?? null);
  return (
    <Table
      columns={[
        { head: per === 'week' ? 'Week' : 'Month' },
        ...(count === '' ? [] : [{ head: count, number: true }]),
        ...(size === '' ? [] : [{ head: size, number: true }]),
        { head: 'Value', number: true },
        ...(hasLimits
          ? [{ head: 'Lower limit', number: true }, { head: 'Upper limit', number: true }, { head: 'Note' }]
          : []),
      ]}
      rows={measure.points.map((point) => {
        const limits = limitsOf(measure, point.start);
        const isDays = measure.measure === 'alarmsPerDay';
        return {
          key: point.start,
          cells: [
            pointWords(point.start, per),
            ...(count === '' ? [] : [point.count === null ? NONE : String(point.count)]),
            ...(size === '' ? [] : [point.size === null ? NONE : point.size.toFixed(isDays ? 1 : 0)]),
            word(point.value),
            ...(hasLimits
              ? [
                  word(limits?.lower == null ? null : Math.max(0, limits.lower)),
                  word(limits?.upper),
                  point.valueReason ?? (limits?.beyond == null ? '' : `signal: ${limits.beyond} its limit`),
                ]
              : []),
          ],
        };
      })}
    />
  );
}

/** What a chart shows, for a reader who cannot see it. */
function saysOf(measure: MeasureResult, { per, changed }: AuditTime): string {
  const values = measure.points
    .filter(({ value }) => value !== null)
    .map(({ start, value }) => `${pointWords(start, per)} ${valueWord(measure.measure, value)}`);
  const views = measure.views.map((view) => viewWords(measure, view, per));
  const change = changed === null ? [] : [`Change marked on ${day(changed.at)}: ${changed.what}.`];
  return [MEASURE_WORDS[measure.measure].title, ...change, ...views, `${values.join(', ')}.`].join(' ');
}

/** What the drawing has, for all readers. */
const keyWords = ({ views }: MeasureResult, isChanged: boolean): string =>
  views.length === 0
    ? 'Points: the value of each.'
    : `Points: the value of each; black line: the median; grey steps: control limits${isChanged ? ', both dashed where they are carried over from before the change' : ''}; in a ring: beyond a limit.`;

function Measure({
  measure,
  time,
  svg,
}: {
  measure: MeasureResult;
  time: AuditTime;
  svg: string | null;
}): JSX.Element {
  const { per } = time;
  const { title } = MEASURE_WORDS[measure.measure];
  const leftOut = leftOutWords(measure, per);
  return (
    <section>
      <h3>{title}</h3>
      {measure.reason !== null && <p>Cannot be told: {measure.reason}.</p>}
      {measure.reason === null && measure.views.length > 0 && (
        <ul>
          {measure.views.map((view) => (
            <li key={view.kind}>{viewWords(measure, view, per)}</li>
          ))}
        </ul>
      )}
      {svg !== null && (
        <Chart
          svg={svg}
          says={saysOf(measure, time)}
          title={`${title}, by ${per}. ${keyWords(measure, time.changed !== null)}`}
          values={<PointTable measure={measure} per={per} />}
          valuesTitle={per === 'week' ? 'Week by week, as a table' : 'Month by month, as a table'}
        />
      )}
      {leftOut !== '' && <p class="small">{leftOut}</p>}
    </section>
  );
}

/** Alarms and answers over time: whether they do more than vary by chance. */
export function TimeSection({ time, drawings }: TimeSectionProps): JSX.Element {
  const { per, changed, points, measures, maskedBelow } = time;
  const baseline = baselineWords(time);
  const isAcross = points.some(({ part }) => part === 'across');
  return (
    <section>
      <h2>Did it change over time?</h2>
      {points.length === 0 ? (
        <p>Cannot be told: the log of alarms does not reach into the period.</p>
      ) : (
        <>
          <p>
            {counted(points.length, per)}.{' '}
            {changed === null
              ? 'No date of a change is marked. '
              : `Marked change: ${day(changed.at)}, ${changed.what}. ${isAcross ? `The ${per} in which it was made is drawn and counted on neither side. ` : ''}`}
            A signal says that values do more than vary by chance, and nothing of why, or whether it is for
            better or worse.
          </p>
          {[baseline, cutWords(time)].map((words) => words !== '' && <p key={words}>{words}</p>)}
          {measures.map((measure) => (
            <Measure
              key={measure.measure}
              measure={measure}
              time={time}
              svg={drawings.get(measure.measure) ?? null}
            />
          ))}
          <div class="small">
            <p>
              How to read it. Run chart: a signal is a row of points on one side of the median that is longer
              than it should be, or too few crossings of it (Anhøj &amp; Olesen, PLoS ONE 2014;9:e113825);
              fewer than 12 points tell nothing. Limits: three standard deviations, for rates and shares
              widened by how much points differ beyond chance (u′ and p′ charts: Laney, Quality Engineering
              2002;14:531-7), for single values from the mean moving range (NIST/SEMATECH e-Handbook 6.3.2.2).
            </p>
            <p>
              An alarm counts in the {per} in which it came on, an episode in that in which it starts. A
              median to treatment has no value where less than half were treated before they resolved; such
              points are left out, so that slow {per}s may be missing. {maskNote(maskedBelow)}
            </p>
            <p>
              How far to trust it. Alarms and episodes of one patient belong together. Limits that take each
              alarm as independent are far too narrow: in simulated units in which nothing changed, 47 of 100
              weeks were beyond them. Those above were passed by 0.5 of 100 weeks where weeks had no patient
              in common, and by 2.5 of 100 where patients stayed over the end of a week: a single point just
              beyond a limit may be one patient.
            </p>
          </div>
        </>
      )}
    </section>
  );
}
