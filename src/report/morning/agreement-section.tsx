import type { JSX } from 'preact';
import { ONE_SOURCE } from '../../summarize/agreement.js';
import { COLOURS } from '../charts/palette.js';
import { hourName } from '../hour-name.js';
import { Chart, Key } from '../page/chart.js';
import { Table } from '../page/table.js';
import type { AgreementResult, RecordingResult } from '../results-schema.js';
import { duration, NONE, pressure, signed, timesOf } from '../words.js';
import { zeroMovesWords } from './probe-words.js';

/** `reads 2.1 mmHg higher than`. */
function comparison(mmHg: number, decimals: number): string {
  const size = pressure(Math.abs(mmHg), decimals);
  if (Number(size) === 0) return 'reads the same on average as';
  return `reads ${size} mmHg ${mmHg > 0 ? 'higher' : 'lower'} on average than`;
}

/** How far probe and drain agree, in a sentence. */
export function agreementWords(agreement: AgreementResult): string {
  const { decimals, meanDifferenceMmHg, sdMmHg, lowerLimitMmHg, upperLimitMmHg } = agreement;
  const { firstHeader, secondHeader } = agreement;
  const limits = `${signed(lowerLimitMmHg, decimals)} to ${signed(upperLimitMmHg, decimals)} mmHg`;
  return `ICP of the probe "${firstHeader}" ${comparison(meanDifferenceMmHg, decimals)} that through the drain "${secondHeader}": mean difference ${signed(meanDifferenceMmHg, decimals)} mmHg, SD ${pressure(sdMmHg, decimals)}, limits of agreement ${limits}.`;
}

/** The difference hour by hour. */
function DifferenceByHour({
  agreement,
  isLong,
}: {
  agreement: AgreementResult;
  isLong: boolean;
}): JSX.Element {
  return (
    <Table
      columns={[
        { head: 'Hour' },
        { head: 'Both known', number: true },
        { head: 'Probe minus drain, mmHg', number: true },
      ]}
      rows={agreement.hours.map((hour) => ({
        key: hour.start,
        cells: [
          hourName(hour, isLong),
          duration(hour.minutes / 60),
          hour.meanDifferenceMmHg === null ? NONE : signed(hour.meanDifferenceMmHg, agreement.decimals),
        ],
      }))}
    />
  );
}

/** Agreement of two sources of ICP; nothing where there is only one. */
export function AgreementSection({
  result,
  isLong,
  svg,
}: {
  result: RecordingResult;
  isLong: boolean;
  svg: string | null;
}): JSX.Element | null {
  const { agreement, agreementReason } = result;
  if (agreementReason === ONE_SOURCE) return null;
  return (
    <section>
      <h2>Probe and drain</h2>
      {agreement === null ? (
        <p>How far the two agree cannot be told: {agreementReason}.</p>
      ) : (
        <Figures agreement={agreement} isLong={isLong} svg={svg} at={timesOf(result.period)} />
      )}
    </section>
  );
}

function Figures({
  agreement,
  isLong,
  svg,
  at,
}: {
  agreement: AgreementResult;
  isLong: boolean;
  svg: string | null;
  at: (iso: string) => string;
}): JSX.Element {
  const { minutes, zeroMoves, zeroMovesReason, isOpeningKnown } = agreement;
  const says = agreementWords(agreement);
  const moves = zeroMoves.length === 0 ? '' : zeroMovesWords(agreement, at, zeroMoves.length);
  return (
    <>
      <p>{says}</p>
      {moves !== '' && (
        <p class="note">
          <strong>A zero may have moved:</strong> {moves}. Which of the two is wrong cannot be told from this:
          the zero and the level of both are usually checked, as local protocol says.
        </p>
      )}
      {svg !== null && (
        <Chart
          svg={svg}
          says={moves === '' ? says : `${says} A zero may have moved: ${moves}.`}
          title={
            <>
              Probe minus drain, 1-min means, local time. <Key colour={COLOURS.difference}>difference</Key>
              {moves !== '' && <Key colour={COLOURS.suspect}>a zero may have moved</Key>}
              Line: mean. Dashed: limits of agreement.
            </>
          }
          values={<DifferenceByHour agreement={agreement} isLong={isLong} />}
        />
      )}
      <p class="small">
        Limits of agreement: mean ± 1.96 SD (Bland and Altman, Lancet 1986;1:307-10), over{' '}
        {duration(minutes / 60)} in which both are known for half of the minute or more; on 1-min means, since
        neighbouring samples are not independent. Left out: what was removed, and the time over which the
        drain was open. Suspect stretches stay in.
        {!isOpeningKnown &&
          ' No care log was given: when the drain was open is not known, and open it reads the drip chamber and not the patient.'}
        {zeroMovesReason !== null && ` Whether a zero has moved cannot be told: ${zeroMovesReason}.`}
      </p>
    </>
  );
}
