import type { ComponentChildren, JSX } from 'preact';
import { PRX_LIMIT } from '../../summarize/perfusion/cpp-bins.js';
import { CPP_STRIP_MMHG } from '../charts/sparkline.js';
import { LogLines } from '../morning/log-lines.js';
import type { UnitPageInput } from '../morning/unit-page.js';
import { InlineChart } from '../page/chart.js';
import type { Row } from '../page/table.js';
import { index } from '../reactivity-words.js';
import type { UnitRecording } from '../results-schema.js';
import { renderUnit } from '../unit-frame.js';
import { unitRows } from '../unit-rows.js';
import { doseCell, duration, durationCell, NONE, pressure, share } from '../words.js';
import { cannotSayPerfusion, cppKnownShare, isDoubtful } from './cannot-say.js';

/** Columns behind the patient and the strip. */
const FIGURES = 8;
/** Past a limit for so long stands out. */
const LONG_HOURS = 1;
/** PRx above its limit for this share of the time for which it could be computed stands out. */
const LARGE_SHARE = 0.5;

function patientRow(result: UnitRecording, { results, sparklines, targets }: UnitPageInput): Row {
  const { cpp, decimals, perfusion } = result;
  const doubt = cannotSayPerfusion(result, results.period.word);
  const says = `CPP of patient ${result.id}: below ${targets.cppFloorMmHg} mmHg for ${duration(cpp.hoursBelowFloor)}`;
  const texts = [result.decisionNote, result.probeNote].filter((text) => text !== null).join(' ');
  const notes: ComponentChildren[] = [doubt && <strong key="doubt">{doubt} </strong>, texts];
  const isBracketed = isDoubtful(result);
  /** What holds for a part of the time only must not look like the figure of a whole one. */
  const figure = (text: string): string => (isBracketed && text !== NONE ? `(${text})` : text);
  const strong = (text: string, isLong: boolean): ComponentChildren =>
    isLong ? <strong>{text}</strong> : text;
  const hours = (value: number | null): ComponentChildren =>
    strong(figure(durationCell(value)), (value ?? 0) >= LONG_HOURS);
  const { prx } = perfusion;
  const above = prx.shareAboveLimit;
  return {
    key: result.id,
    kind: isBracketed ? 'cannot' : undefined,
    cells: [
      <a key="page" href={result.page ?? undefined}>
        {result.id}
      </a>,
      <InlineChart key="strip" svg={sparklines.get(result.id) ?? ''} says={says} />,
      share(cppKnownShare(result)),
      figure(pressure(cpp.meanMmHg, decimals.cpp)),
      hours(cpp.hoursBelowFloor),
      figure(doseCell(cpp.doseBelowFloorMmHgHours)),
      hours(perfusion.joint.bothHours),
      figure(index(prx.mean)),
      strong(figure(above === null ? NONE : share(above)), (above ?? 0) > LARGE_SHARE),
      share(prx.computableShare),
    ],
    note: doubt === '' && texts === '' ? undefined : notes,
  };
}

function Definitions({ results, targets }: UnitPageInput): JSX.Element {
  const { counts, period } = results;
  const { word } = period;
  const { icpThresholdMmHg, cppFloorMmHg } = targets;
  return (
    <section class="small">
      <h2>How to read it, and how far to trust it</h2>
      <p>
        Strip: CPP over the {word} from {CPP_STRIP_MMHG[0]} to {CPP_STRIP_MMHG[1]} mmHg, the same for all;
        dashed, {cppFloorMmHg} mmHg. Known: share of the {word} over which CPP is known, that is ICP and
        arterial pressure at once. Dose: the area of CPP below {cppFloorMmHg} mmHg. Both: ICP above{' '}
        {icpThresholdMmHg} and CPP below {cppFloorMmHg} mmHg at once. PRx: how closely slow changes of ICP
        follow those of arterial pressure, from −1 to 1; above {PRX_LIMIT} counts as impaired autoregulation.
        Its share above {PRX_LIMIT} is of the time for which it could be computed, which stands beside it. In
        brackets: of what is known, where that is too little to say how the patient was. Bold: an hour or
        more, or over half of the time. {NONE} means that the figure cannot be had; the patient's page says
        why.
      </p>
      <p>
        "Cannot say" stands first: ICP or CPP known for less than half of the {word}, ICP suspect for 30 min
        or more, no arterial pressure, no data, or exports that could not be read. Then the most hours with
        both; where that is equal, the largest CPP dose below {cppFloorMmHg} mmHg.{' '}
        {results.unit.levellingNote ??
          'CPP is as the lines were zeroed: zeroed at the heart with the head raised, CPP at ear level is lower than shown.'}
      </p>
      <h2>How it was made</h2>
      <p>
        Period: {period.why}. Rows read {counts.rowsRead}, used {counts.rowsUsed}, set aside{' '}
        {counts.rowsSetAside}
        {counts.rowsSetAside > 0 && ' (each with its reason in tables/setaside.csv)'}. PRx: Pearson's r of 30
        consecutive 10-s means of ICP and MAP (Czosnyka et al., Neurosurgery 1997;41:11-17, in its later
        form); {PRX_LIMIT}: Sorrentino et al., Neurocrit Care 2012;16:258-66. All figures, unrounded:{' '}
        <a href="results.json">results.json</a>; as tables, with a dictionary, in the folder tables.
      </p>
      <LogLines logs={results.logs} />
    </section>
  );
}

/** The page of a unit in the perfusion report, as a whole HTML document. */
export function perfusionUnitPage(input: UnitPageInput): string {
  const { results, targets } = input;
  const { cppFloorMmHg, icpThresholdMmHg } = targets;
  return renderUnit(results, {
    caption: `One row for each patient; "cannot say" first, then the longest time with ICP high and CPP low at once.`,
    columns: [
      { head: 'Patient' },
      { head: `CPP over the ${results.period.word}` },
      { head: 'CPP known', number: true },
      { head: 'Mean CPP, mmHg', number: true },
      { head: `CPP below ${cppFloorMmHg}`, number: true },
      { head: 'Dose, mmHg·h', number: true },
      { head: `Both: ICP > ${icpThresholdMmHg}, CPP < ${cppFloorMmHg}`, number: true },
      { head: 'Mean PRx', number: true },
      { head: `PRx above ${PRX_LIMIT}`, number: true },
      { head: 'PRx known', number: true },
    ],
    rows: unitRows(results, (one) => patientRow(one, input), FIGURES),
    definitions: <Definitions {...input} />,
  });
}
