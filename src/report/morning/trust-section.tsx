import type { JSX } from 'preact';
import { CHANNEL_NAMES } from '../../recording/channel.js';
import type { Targets } from '../../summarize/targets.js';
import { Table } from '../page/table.js';
import type { RecordingResult } from '../results-schema.js';
import { ruleTitle } from '../rule-title.js';
import { clockSeconds, counted, dose, duration, NONE, pressure, seconds, share } from '../words.js';

type Take = RecordingResult['cleaning']['takes'][number];

const gradeText = ({ grade, staysIn }: Take): string =>
  grade === 'removed' ? 'removed' : staysIn ? 'suspect, stays in' : 'suspect, left out';

/** How the dose would read with the rule off; only for the channel that the figure comes from. */
function effectCells(take: Take, result: RecordingResult): string[] {
  const { icp, cpp } = result;
  const text = (now: number | null, without: number): string =>
    now === null ? NONE : Math.abs(without - now) < 1e-9 ? 'the same' : dose(without);
  return [
    text(icp.doseMmHgHours, take.without.icpDoseMmHgHours),
    text(cpp.doseBelowFloorMmHgHours, take.without.cppDoseBelowFloorMmHgHours),
  ];
}

/** What cleaning took, by rule; the shares of each channel add up to the period. */
function CleaningTable({ result, targets }: { result: RecordingResult; targets: Targets }): JSX.Element {
  const { takes, channels } = result.cleaning;
  const rows = channels.flatMap((channel) => {
    const name = CHANNEL_NAMES[channel.channel];
    const mine = takes.filter((take) => take.channel === channel.channel);
    return [
      ...mine.map((take) => ({
        key: `${name} ${take.rule} ${take.grade} ${take.staysIn}`,
        cells: [
          `${name}: ${ruleTitle(take.rule)}`,
          gradeText(take),
          String(take.intervals),
          seconds(take.hours * 3_600_000),
          share(take.shareOfPeriod),
          ...effectCells(take, result),
        ],
      })),
      {
        key: `${name} no data`,
        cells: [
          `${name}: no data`,
          '',
          '',
          duration(channel.noDataHours),
          share(channel.noDataShare),
          '',
          '',
        ],
      },
      {
        key: `${name} kept`,
        cells: [`${name}: kept`, '', '', duration(channel.keptHours), share(channel.keptShare), '', ''],
      },
    ];
  });
  return (
    <Table
      caption="Where the time of the period went. Each second counts for the first rule that took it, with the pieces of signal at both ends."
      columns={[
        { head: 'What' },
        { head: 'How' },
        { head: 'Times', number: true },
        { head: 'Time', number: true },
        { head: 'Share', number: true },
        { head: `Dose above ${targets.icpThresholdMmHg} with this rule off`, number: true },
        { head: `CPP dose below ${targets.cppFloorMmHg} with this rule off`, number: true },
      ]}
      rows={rows}
    />
  );
}

/** Removed excursions of 40 mmHg or more, one by one, so that a reader can disagree. */
function ExcursionTable({ result }: { result: RecordingResult }): JSX.Element | null {
  const { largeExcursions, decimals } = result;
  if (largeExcursions.length === 0) return null;
  return (
    <Table
      caption="Removed excursions of ICP that rose by 40 mmHg or more."
      columns={[
        { head: 'Start' },
        { head: 'Length', number: true },
        { head: 'Highest, mmHg', number: true },
        { head: 'Rise, mmHg', number: true },
        { head: 'Rule' },
      ]}
      rows={largeExcursions.map(({ start, end, highestMmHg, riseMmHg, rule }) => ({
        key: start,
        cells: [
          clockSeconds(start),
          seconds(Date.parse(end) - Date.parse(start)),
          pressure(highestMmHg, decimals.icp),
          pressure(riseMmHg, decimals.icp),
          ruleTitle(rule),
        ],
      }))}
    />
  );
}

/** How far the patient's figures can be trusted, and what cleaning changed. */
export function TrustSection({
  result,
  targets,
}: {
  result: RecordingResult;
  targets: Targets;
}): JSX.Element {
  const { icp, icpRaw, decimals, cleaning, knownShare } = result;
  return (
    <section>
      <h2>How far to trust it</h2>
      <p>
        After cleaning, ICP is known for {share(knownShare)} of the time. As exported, the dose above{' '}
        {targets.icpThresholdMmHg} mmHg was {dose(icpRaw.doseMmHgHours)} mmHg·h and the highest 5-min mean{' '}
        {pressure(icpRaw.highest5MinMmHg, decimals.icp)} mmHg; cleaned, {dose(icp.doseMmHgHours)} mmHg·h and{' '}
        {pressure(icp.highest5MinMmHg, decimals.icp)} mmHg.
      </p>
      {result.readingWarnings.length > 0 && (
        <ul>
          {result.readingWarnings.map((warning) => (
            <li key={warning}>{warning}</li>
          ))}
        </ul>
      )}
      <CleaningTable result={result} targets={targets} />
      <ExcursionTable result={result} />
      {cleaning.stoodAside.length > 0 && (
        <p class="small">
          {counted(cleaning.stoodAside.length, 'rule')} stood aside at this sampling:{' '}
          {cleaning.stoodAside.map(({ rule, why }) => `${ruleTitle(rule)} (${why})`).join('; ')}.
        </p>
      )}
    </section>
  );
}
