import type { JSX } from 'preact';
import { PRX_LIMIT } from '../../summarize/perfusion/cpp-bins.js';
import { rangeUnder, UNDER_LIMIT } from '../charts/curve-chart.js';
import { COLOURS } from '../charts/palette.js';
import { Chart, Key } from '../page/chart.js';
import { Table } from '../page/table.js';
import { index } from '../reactivity-words.js';
import type { PerfusionResult } from '../results-perfusion.js';
import type { RecordingResult } from '../results-schema.js';
import { duration, NONE, pressure, share, signed } from '../words.js';
import type { PerfusionDrawings } from './page-drawings.js';

type Curve = NonNullable<PerfusionResult['curve']>;

/**
 * The curve over the whole period in a sentence.
 *
 * @param namesOptimum false where curves were found no more often than chance finds them
 */
export function curveSentence(curve: Curve, limit: number, namesOptimum = true): string {
  const { bins, fit, whyNoFit } = curve;
  if (fit === null)
    return `Investigational: no curve of PRx by CPP could be fitted: ${whyNoFit ?? 'too few bins'}.`;
  const range = rangeUnder(curve, limit);
  const under =
    range === null
      ? ''
      : `under ${limit} from ${fit.lowerMmHg === null ? 'the lowest bin' : `${pressure(range.from, 0)} mmHg`} to ${fit.upperMmHg === null ? 'the highest bin' : `${pressure(range.to, 0)} mmHg`}`;
  const used = bins.filter(({ isFitted }) => isFitted).length;
  const through = `Investigational: over the whole period the curve through ${used} bins of CPP`;
  const r2 = `(weighted R² ${fit.r2.toFixed(2)})`;
  if (under === '')
    return `${through} is nowhere under ${limit} ${r2}: its lowest point, at ${pressure(fit.optimalMmHg, 0)} mmHg, is no optimum.`;
  if (!namesOptimum)
    return `${through} is lowest at ${pressure(fit.optimalMmHg, 0)} mmHg ${r2}, which is no optimum where chance finds such curves as often.`;
  return `${through} is lowest at ${pressure(fit.optimalMmHg, 0)} mmHg, the optimum of the whole period, and ${under} ${r2}.`;
}

function BinTable({ curve }: { curve: Curve }): JSX.Element {
  return (
    <Table
      columns={[
        { head: 'CPP, mmHg' },
        { head: 'Minutes', number: true },
        { head: 'Mean PRx', number: true },
        { head: 'Counted' },
      ]}
      rows={curve.bins.map(({ fromMmHg, toMmHg, minutes, meanIndex, isFitted }) => ({
        key: `${fromMmHg}`,
        cells: [
          `${fromMmHg} to under ${toMmHg}`,
          String(minutes),
          index(meanIndex),
          isFitted ? 'yes' : 'no, too little time',
        ],
      }))}
    />
  );
}

function FigureTable({ optimal }: { optimal: NonNullable<PerfusionResult['optimal']> }): JSX.Element | null {
  const { meanOptimalMmHg, meanDifferenceMmHg, hoursBelow, belowByMmHg, yieldShare, shuffledYieldShare } =
    optimal;
  const part = (value: number | null): string => (value === null ? NONE : share(value));
  const limit = (mmHg: number | null, minutes: number): string =>
    mmHg === null ? NONE : `${pressure(mmHg, 0)} (over ${duration(minutes / 60)})`;
  const ofCurves: [string, string][] = [
    ['Optimal CPP, mean of the 4-h windows, mmHg', pressure(meanOptimalMmHg, 0)],
    [
      'Mean of CPP minus optimal CPP, mmHg',
      meanDifferenceMmHg === null ? NONE : signed(meanDifferenceMmHg, 0),
    ],
    [
      `CPP more than ${belowByMmHg} mmHg below it, of ${duration(optimal.minutesCompared / 60)} with a curve and CPP`,
      duration(hoursBelow),
    ],
    [
      `Mean CPP at which the curve falls under ${PRX_LIMIT}, mmHg`,
      limit(optimal.meanLowerLimitMmHg, optimal.minutesWithLowerLimit),
    ],
    [
      `Mean CPP at which the curve rises over ${PRX_LIMIT}, mmHg`,
      limit(optimal.meanUpperLimitMmHg, optimal.minutesWithUpperLimit),
    ],
  ];
  if (yieldShare === null) return null;
  const rows: [string, string][] = [
    ...(meanOptimalMmHg === null ? [] : ofCurves),
    ['Yield: of the minutes with enough PRx, at which a curve was accepted', part(yieldShare)],
    [`The same on phase-shuffled arterial pressure, mean of ${optimal.shuffles}`, part(shuffledYieldShare)],
  ];
  return (
    <Table
      columns={[{ head: 'Investigational' }, { head: 'Figure', number: true }]}
      rows={rows.map(([name, figure]) => ({ key: name, cells: [name, figure] }))}
    />
  );
}

/** Stands wherever optimal CPP does. */
const CAUTION =
  'Investigational: optimal CPP is no target. Targets follow local protocol and the treating team.';

/** Optimal CPP: labelled as what it is in the heading, each title and each sentence; where there is none, why. */
export function OptimalSection({
  result,
  drawings,
  timezone,
}: {
  result: RecordingResult;
  drawings: PerfusionDrawings;
  timezone: string;
}): JSX.Element {
  const { curve, optimal, limit, prx, prxDoubt } = result.perfusion;
  const head = <h2>Investigational: optimal CPP</h2>;
  if (curve === null || optimal === null) {
    return (
      <section>
        {head}
        <p>Optimal CPP (investigational) cannot be computed: {prx.whyNone ?? 'there is no PRx'}.</p>
      </section>
    );
  }
  if (prxDoubt !== null) {
    return (
      <section>
        {head}
        <p>{optimal.sentence} Optimal CPP and its curve rest on PRx: no figures are shown.</p>
      </section>
    );
  }
  const ofCurve = curveSentence(curve, limit, optimal.whyWithheld === null);
  return (
    <section>
      {head}
      <p class="note">
        <strong>{CAUTION}</strong> On pressures that have nothing to do with each other such a curve opens
        upward in about half of all windows by chance: the yield on shuffled pressure says how much of the
        yield may be that.
      </p>
      <p>{optimal.sentence}</p>
      <FigureTable optimal={optimal} />
      {drawings.optimal !== null && (
        <Chart
          svg={drawings.optimal}
          says={optimal.sentence}
          title={
            <>
              Investigational: CPP and optimal CPP over the period, local time ({timezone}).{' '}
              <Key colour={COLOURS.cpp} shape="line">
                CPP
              </Key>
              <Key colour={COLOURS.ink} shape="line">
                optimal CPP of the 4 h before
              </Key>
              Gaps: no curve was accepted. It is no target.
            </>
          }
        />
      )}
      <p>{ofCurve}</p>
      {drawings.curve !== null && (
        <Chart
          svg={drawings.curve}
          says={`${ofCurve} Bins: ${curve.bins.map((bin) => `${bin.fromMmHg} to ${bin.toMmHg} mmHg, ${bin.minutes} min, ${index(bin.meanIndex)}`).join('; ')}.`}
          title={
            <>
              Investigational: mean PRx by CPP over the whole period, in bins of 5 mmHg. Points: bins, the
              larger the more minutes they hold (by area); empty where these are too few to count.{' '}
              {curve.fit !== null && (
                <>
                  <Key colour={COLOURS.ink} shape="line">
                    fitted parabola
                  </Key>
                  {rangeUnder(curve, limit) !== null && (
                    <Key colour={UNDER_LIMIT}>fitted PRx under {limit}</Key>
                  )}
                </>
              )}
              Dashed: {limit}.
            </>
          }
          values={<BinTable curve={curve} />}
          valuesTitle="Bins, as a table"
        />
      )}
    </section>
  );
}
