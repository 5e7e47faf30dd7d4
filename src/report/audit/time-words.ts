import { LONG_BASELINE } from '../../summarize/alarms/time-views.js';
import type { AuditTime, MeasureResult, ViewResult } from '../results-audit-time.js';
import { counted, listed, NONE, share } from '../words.js';
import { rate } from './estimate-words.js';
import { minutesWord } from './response-words.js';

/** What the words of a measure are. */
interface MeasureWords {
  readonly title: string;
  /** Of the control chart, with its source in the section. */
  readonly chart: string;
  readonly count: string;
  readonly size: string;
}

export const MEASURE_WORDS: Readonly<Record<MeasureResult['measure'], MeasureWords>> = {
  alarmsPerDay: {
    title: 'Alarms of ICP and CPP a monitored patient-day',
    chart: 'Laney’s u′',
    count: 'Alarms',
    size: 'Patient-days',
  },
  sustainedShare: {
    title: 'Share of alarms that were sustained, those cut short by a treatment included',
    chart: 'Laney’s p′',
    count: 'Sustained or cut short',
    size: 'Alarms of which one can tell',
  },
  treatedShare: {
    title: 'Share of sustained episodes of ICP that were treated within 15 min',
    chart: 'Laney’s p′',
    count: 'Treated',
    size: 'Episodes, followed for 15 min',
  },
  medianMinutesToTreatment: {
    title: 'Median minutes to the first treatment of sustained episodes of ICP',
    chart: 'individuals',
    count: '',
    size: 'Episodes',
  },
  monitoredDays: { title: 'Monitored patient-days', chart: '', count: '', size: '' },
};

/** A value of a measure without false digits. */
export function valueWord(measure: MeasureResult['measure'], value: number | null): string {
  if (value === null) return NONE;
  if (measure === 'sustainedShare' || measure === 'treatedShare') return share(value);
  return measure === 'medianMinutesToTreatment' ? minutesWord(value) : rate(value);
}

/** Which points are left out, and why; empty where none is. */
export function leftOutWords({ points, leftOut }: MeasureResult, per: AuditTime['per']): string {
  if (leftOut === 0) return '';
  const reasons = new Map<string, number>();
  for (const { valueReason } of points) {
    if (valueReason !== undefined) reasons.set(valueReason, (reasons.get(valueReason) ?? 0) + 1);
  }
  const words = [...reasons].map(([reason, n]) => `${counted(n, per)} (${reason})`);
  return `Left out: ${listed(words)}.`;
}

const medianWords = (measure: MeasureResult['measure'], { run }: ViewResult): string =>
  run.centreLine === null ? '' : `, median ${valueWord(measure, run.centreLine)}`;

/** One view in words: what the run chart and the limits say. */
export function viewWords({ measure }: MeasureResult, view: ViewResult, per: AuditTime['per']): string {
  const { kind, points, run, runSays, limitsSay, limitsReason } = view;
  const own = `${counted(points, per)}${medianWords(measure, view)}`;
  const bare = limitsReason !== null && run.reason !== null;
  const says = bare
    ? `${run.reason ?? ''}.`
    : `run chart: ${runSays}. Limits (${MEASURE_WORDS[measure].chart} chart): ${limitsSay}.`;
  switch (kind) {
    case 'all':
      return `All (${own}): ${says}`;
    case 'baseline':
      return `Before the change (${own}): ${says}`;
    case 'carried':
      return `After the change, by the median and limits from before it (${own}): ${says}`;
    case 'rebased':
      return `After the change by its own median and limits (${own}): ${says}`;
  }
}

/** What a short baseline does to signals; empty where none is short, or none is used. */
export function baselineWords({ measures, per }: AuditTime): string {
  const used = measures
    .flatMap(({ views }) => views)
    .filter(
      ({ kind, run, baselinePoints }) =>
        kind === 'carried' && run.reason === null && baselinePoints < LONG_BASELINE,
    )
    .map(({ baselinePoints }) => baselinePoints);
  if (used.length === 0) return '';
  const [least, most] = [Math.min(...used), Math.max(...used)];
  const many = least === most ? counted(least, per) : `${least} to ${counted(most, per)}`;
  return `The medians from before the change rest on ${many}. Where it is fewer than ${LONG_BASELINE}, charts of a course in which nothing changed signal more often than they should: 10 to 15 of 100 where it is 12, and 1 to 4 around their own median.`;
}

const DAY_MS = 86_400_000;
/** A clock that changes makes a week an hour shorter. */
const NEARLY = 0.9;

const daysOf = ({ start, end }: AuditTime['points'][number]): number =>
  (Date.parse(end) - Date.parse(start)) / DAY_MS;

/** That the first or the last week is cut, so that little stands behind it; empty where neither is. */
export function cutWords({ points, per }: AuditTime): string {
  const whole = per === 'week' ? 7 : 28;
  const ends =
    points.length < 2
      ? []
      : ([
          ['first', points[0]],
          ['last', points[points.length - 1]],
        ] as const);
  const cut = ends
    .filter(([, point]) => daysOf(point) < NEARLY * whole)
    .map(
      ([name, point]) => `the ${name} ${per} has ${counted(Math.max(1, Math.round(daysOf(point))), 'day')}`,
    );
  if (cut.length === 0) return '';
  const words = listed(cut);
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}, so that little stands behind ${cut.length === 1 ? 'it' : 'them'}.`;
}
