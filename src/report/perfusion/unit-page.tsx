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
import { bracketed } from './bracketed.js';
import { cannotSayPerfusion, cppKnownShare, isDoubtful, isForWantOfAngle } from './cannot-say.js';
import { type UnitLevels, unitLevels } from './levelling-words.js';
import { belowTargetWords } from './own-target.js';

/** Columns behind the patient and the strip. */
const FIGURES = 8;
/** ICP high and CPP low at once for so long stands out. */
const LONG_HOURS = 1;
/** CPP below its floor for this share of the time over which it is known stands out. */
const LONG_SHARE = 0.25;
/** PRx above its limit for this share of the time for which it could be computed stands out. */
const LARGE_SHARE = 0.5;

function patientRow(
  result: UnitRecording,
  { results, sparklines, targets }: UnitPageInput,
  levels: UnitLevels,
): Row {
  const { cpp, decimals, perfusion } = result;
  const doubt = cannotSayPerfusion(result, results.period.word);
  const says = `CPP of patient ${result.id}: below ${targets.cppFloorMmHg} mmHg for ${duration(cpp.hoursBelowFloor)}`;
  const { prx, prxDoubt } = perfusion;
  const target = belowTargetWords(result);
  const texts = [result.decisionNote, result.probeNote, target, levels.ofPatient(result)]
    .filter((text) => text !== null && text !== '')
    .join(' ');
  const first = [doubt, prxDoubt ?? ''].filter((text) => text !== '').join(' ');
  const notes: ComponentChildren[] = [first && <strong key="doubt">{first} </strong>, texts];
  const isBracketed = isDoubtful(result);
  // What holds for a part of the time only must not look like the figure of a whole one.
  const figure = bracketed(isBracketed);
  const isPrxDoubtful = prxDoubt !== null || (isBracketed && !isForWantOfAngle(result));
  const ofPrx = bracketed(isPrxDoubtful);
  const strong = (text: string, isLong: boolean): ComponentChildren =>
    isLong ? <strong>{text}</strong> : text;
  const below = cpp.hoursBelowFloor ?? 0;
  const { bothHours } = perfusion.joint;
  const above = prx.shareAboveLimit;
  return {
    key: result.id,
    kind: isBracketed ? 'cannot' : undefined,
    cells: [
      <a key="page" href={result.page ?? undefined}>
        {result.id}
      </a>,
      <InlineChart key="strip" svg={sparklines.get(result.id) ?? ''} says={says} />,
      strong(figure(durationCell(bothHours)), (bothHours ?? 0) >= LONG_HOURS),
      ofPrx(index(prx.mean)),
      strong(ofPrx(above === null ? NONE : share(above)), prxDoubt === null && (above ?? 0) > LARGE_SHARE),
      share(prx.computableShare),
      strong(
        figure(durationCell(cpp.hoursBelowFloor)),
        below > 0 && below >= LONG_SHARE * result.monitoredHours.cpp,
      ),
      figure(doseCell(cpp.doseBelowFloorMmHgHours)),
      figure(pressure(cpp.meanMmHg, decimals.cpp)),
      share(cppKnownShare(result)),
    ],
    note: first === '' && texts === '' ? undefined : notes,
  };
}

/** True where the patients were not all recorded over one time, so that their strips show different hours. */
const hasOwnPeriods = (recordings: readonly UnitRecording[]): boolean =>
  new Set(recordings.map(({ period }) => `${period.start} ${period.end}`)).size > 1;

function Definitions({
  results,
  targets,
  levels,
}: UnitPageInput & { readonly levels: UnitLevels }): JSX.Element {
  const { counts, period } = results;
  const { word } = period;
  const { icpThresholdMmHg, cppFloorMmHg } = targets;
  return (
    <section class="small">
      <h2>How to read it, and how far to trust it</h2>
      <p>
        Strip: CPP over the {word} from {CPP_STRIP_MMHG[0]} to {CPP_STRIP_MMHG[1]} mmHg, the same for all;
        dashed, {cppFloorMmHg} mmHg; a thick black stroke at the edge: CPP beyond that scale.{' '}
        {hasOwnPeriods(results.recordings) &&
          'Each strip runs from the start to the end of its own patient: what stands above each other was not at the same time. '}
        Known: share of the {word} over which CPP is known, that is ICP and arterial pressure at once. Dose:
        the area of CPP below {cppFloorMmHg} mmHg. Both: ICP above {icpThresholdMmHg} and CPP below{' '}
        {cppFloorMmHg} mmHg at once. PRx: how closely slow changes of ICP follow those of arterial pressure,
        from −1 to 1; above {PRX_LIMIT} counts as impaired autoregulation. Its share above {PRX_LIMIT} is of
        the time for which it could be computed, which stands beside it. In brackets: of what is known, where
        that is too little to say how the patient was, or PRx that cannot be judged. Bold: both for an hour or
        more, CPP below {cppFloorMmHg} for a quarter or more of the time over which it is known, PRx above{' '}
        {PRX_LIMIT} for over half of the time that it could be computed. {NONE} means that the figure cannot
        be had; the patient's page says why.
      </p>
      <p>
        "Cannot say" stands first: ICP or CPP known for less than half of the {word}, ICP suspect for 30 min
        or more, no arterial pressure, no data, or exports that could not be read. Then the most hours with
        both, under 5 min counting as none; where that is equal, the largest CPP dose below {cppFloorMmHg}{' '}
        mmHg. {levels.once === '' ? results.unit.levellingNote : levels.once}
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
  const levels = unitLevels(results.recordings);
  return renderUnit(results, {
    caption: `One row for each patient; "cannot say" first, then the longest time with ICP high and CPP low at once.`,
    columns: [
      { head: 'Patient' },
      { head: `CPP over the ${results.period.word}` },
      { head: `Both: ICP > ${icpThresholdMmHg}, CPP < ${cppFloorMmHg}`, number: true },
      { head: 'Mean PRx', number: true },
      { head: `PRx above ${PRX_LIMIT}`, number: true },
      { head: 'PRx known', number: true },
      { head: `CPP below ${cppFloorMmHg}`, number: true },
      { head: 'Dose, mmHg·h', number: true },
      { head: 'Mean CPP, mmHg', number: true },
      { head: 'CPP known', number: true },
    ],
    rows: unitRows(results, (one) => patientRow(one, input, levels), FIGURES),
    definitions: <Definitions {...input} levels={levels} />,
  });
}
