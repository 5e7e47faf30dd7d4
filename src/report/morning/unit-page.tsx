import type { ComponentChildren, JSX } from 'preact';
import type { Targets } from '../../summarize/targets.js';
import { SPARKLINE_MMHG } from '../charts/sparkline.js';
import { InlineChart } from '../page/chart.js';
import type { Row } from '../page/table.js';
import type { UnitRecording, UnitResults } from '../results-schema.js';
import { renderUnit } from '../unit-frame.js';
import { unitRows } from '../unit-rows.js';
import { doseCell, duration, durationCell, NONE, pressure, share } from '../words.js';
import { LogLines } from './log-lines.js';
import { cannotSayText } from './patient-sentence.js';

/** What the unit page is made from. */
export interface UnitPageInput {
  readonly results: UnitResults;
  readonly targets: Targets;
  /** By patient. */
  readonly sparklines: ReadonlyMap<string, string>;
}

/** Columns behind the patient and the strip. */
const FIGURES = 7;

/** ICP or CPP past its limit for so long stands out. */
const LONG_HOURS = 1;

function patientRow(result: UnitRecording, { results, sparklines, targets }: UnitPageInput): Row {
  const { icp, cpp, decimals } = result;
  const doubt = cannotSayText(result, results.period.word);
  const says = `ICP of patient ${result.id}: above ${targets.icpThresholdMmHg} mmHg for ${duration(icp.hoursAboveThreshold)}`;
  const texts = [result.goingOnNote, result.decisionNote, result.probeNote]
    .filter((text) => text !== null)
    .join(' ');
  const notes: ComponentChildren[] = [doubt && <strong key="doubt">{doubt} </strong>, texts];
  const isDoubtful = result.cannotSay.length > 0;
  /** What holds for a part of the time only must not look like the figure of a whole one. */
  const figure = (text: string): string => (isDoubtful && text !== NONE ? `(${text})` : text);
  const strong = (text: string, hours: number | null): ComponentChildren =>
    (hours ?? 0) >= LONG_HOURS ? <strong>{text}</strong> : text;
  return {
    key: result.id,
    kind: isDoubtful ? 'cannot' : undefined,
    cells: [
      <a key="page" href={result.page ?? undefined}>
        {result.id}
      </a>,
      <InlineChart key="strip" svg={sparklines.get(result.id) ?? ''} says={says} />,
      share(result.knownShare),
      strong(figure(durationCell(icp.hoursAboveThreshold)), icp.hoursAboveThreshold),
      figure(doseCell(icp.doseMmHgHours)),
      figure(result.episodesReason === null ? String(result.episodes.length) : NONE),
      figure(pressure(icp.highest5MinMmHg, decimals.icp)),
      figure(pressure(cpp.lowest5MinMmHg, decimals.cpp)),
      strong(figure(durationCell(cpp.hoursBelowFloor)), cpp.hoursBelowFloor),
    ],
    note: doubt === '' && texts === '' ? undefined : notes,
  };
}

function Definitions({ results, targets }: UnitPageInput): JSX.Element {
  const { counts, period } = results;
  return (
    <section class="small">
      <h2>How to read it, and how far to trust it</h2>
      <p>
        Strip: ICP over the {period.word} from {SPARKLINE_MMHG[0]} to {SPARKLINE_MMHG[1]} mmHg, the same for
        all; dashed, {targets.icpThresholdMmHg} mmHg. Known: share of the {period.word} over which ICP is
        known{results.recordings.some(({ cleaning }) => !cleaning.isOff) && ' after cleaning'}. Dose: the area
        of ICP above {targets.icpThresholdMmHg} mmHg. Highest and lowest are 5-min means. In brackets: of what
        is known, where that is too little to say how the patient was. Bold: an hour or more. {NONE} means
        that the figure cannot be had; the patient's page says why.
      </p>
      <p>
        "Cannot say" stands first: known for less than half of the {period.word}, suspect for 30 min or more,
        no data, or exports that could not be read. Then the largest ICP dose first; where that is equal, the
        largest CPP dose below {targets.cppFloorMmHg} mmHg. A patient on whom a person decided stands no lower
        than the rules alone would have it.{' '}
        {results.unit.levellingNote !== null && `${results.unit.levellingNote} `}Downward suspect stretches
        are left out of the figures; each patient's page shows the figures the other way.
      </p>
      <h2>How it was made</h2>
      <p>
        Period: {period.why}. Rows read {counts.rowsRead}, used {counts.rowsUsed}, set aside{' '}
        {counts.rowsSetAside}
        {counts.rowsSetAside > 0 && ' (each with its reason in tables/setaside.csv)'}. All figures, unrounded:{' '}
        <a href="results.json">results.json</a>; as tables, with a dictionary, in the folder tables. What
        happened to each patient as plain text, ready to be pasted: <a href="handover.txt">handover.txt</a>.
      </p>
      <LogLines logs={results.logs} />
    </section>
  );
}

/** The page of the unit, as a whole HTML document. */
export function unitPage(input: UnitPageInput): string {
  const { results, targets } = input;
  return renderUnit(results, {
    caption: `One row for each patient; "cannot say" first, then the largest ICP burden first.`,
    columns: [
      { head: 'Patient' },
      { head: `ICP over the ${results.period.word}` },
      { head: 'Known', number: true },
      { head: `ICP above ${targets.icpThresholdMmHg}`, number: true },
      { head: 'Dose, mmHg·h', number: true },
      { head: 'Episodes', number: true },
      { head: 'Highest 5\u2011min ICP, mmHg', number: true },
      { head: 'Lowest 5\u2011min CPP, mmHg', number: true },
      { head: `CPP below ${targets.cppFloorMmHg}`, number: true },
    ],
    rows: unitRows(results, (one) => patientRow(one, input), FIGURES),
    definitions: <Definitions {...input} />,
  });
}
