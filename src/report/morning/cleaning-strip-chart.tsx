import type { JSX } from 'preact';
import { COLOURS } from '../charts/palette.js';
import { dayName, hourName } from '../hour-name.js';
import { Chart, hatched, Key } from '../page/chart.js';
import { Table } from '../page/table.js';
import type { PageInput } from '../page-input.js';
import type { RecordingResult, WindowResult } from '../results-schema.js';
import { counted, duration, isOverADay } from '../words.js';
import type { PatientDrawings } from './patient-drawings.js';
import { stripRows } from './strip-rows.js';

/** How much of each hour is known of what was cleaned; of each day where the period is long. */
function KnownByWindow({ result }: { result: RecordingResult }): JSX.Element {
  const hasMap = result.monitoredHours.map > 0;
  const known = ({ monitoredHours }: WindowResult): string[] => [
    duration(monitoredHours.icp),
    ...(hasMap ? [duration(monitoredHours.map)] : []),
  ];
  const isLong = isOverADay(result.period);
  const isByDay = result.days.length > 0;
  return (
    <Table
      columns={[
        { head: isByDay ? 'Day' : 'Hour' },
        { head: 'ICP known', number: true },
        ...(hasMap ? [{ head: 'MAP known', number: true }] : []),
      ]}
      rows={(isByDay ? result.days : result.hours).map((window) => ({
        key: window.start,
        cells: [isByDay ? dayName(window) : hourName(window, isLong), ...known(window)],
      }))}
    />
  );
}

/** What was taken over the period, a row a rule. */
export function CleaningStripChart({
  result,
  drawings,
  period,
}: Pick<PageInput, 'result' | 'period'> & {
  readonly drawings: Pick<PatientDrawings, 'cleaningStrip'>;
}): JSX.Element | null {
  if (drawings.cleaningStrip === null) return null;
  const rows = stripRows(result);
  const hasRemoved = result.removed.some(({ grade }) => grade === 'removed');
  const hasSuspect = result.removed.some(({ grade }) => grade === 'suspect');
  const hasDecided = result.decisions.length > 0;
  return (
    <Chart
      svg={drawings.cleaningStrip}
      says={`What was taken over the ${period.word}: ${rows.map(({ name, bars }) => `${name}, ${counted(bars.length, 'stretch', 'stretches')}`).join('; ')}.`}
      title={
        <>
          What was taken over the {period.word}, and by which rule, local time.{' '}
          {hasRemoved && <Key colour={COLOURS.removed}>filled: removed</Key>}
          {hasSuspect && <Key colour={hatched(COLOURS.suspect)}>outlined with strokes: suspect</Key>}
          {hasDecided && <Key colour={COLOURS.ink}>black: a person decided (filled removed, empty kept)</Key>}
          Short ones are drawn wider, so that they show.
        </>
      }
      values={<KnownByWindow result={result} />}
      valuesTitle={result.days.length > 0 ? 'Day by day, as a table' : undefined}
    />
  );
}
