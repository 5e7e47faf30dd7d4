import type { JSX } from 'preact';
import { Table } from '../../../src/report/page/table.js';
import { ruleTitle } from '../../../src/report/rule-title.js';
import { NONE } from '../../../src/report/words.js';
import type { KindSummary } from '../aggregate/kinds.js';
import type { SamplingSummary } from '../aggregate/summary.js';
import { lostShare } from '../aggregate/targets.js';
import { longTime, percent, placeOf, samplingName, shareOf } from '../words.js';
import { titleOf } from './titles.js';

/** True seconds above the threshold that were marked, by sampling. */
export const LostBySampling = ({ samplings }: { samplings: readonly SamplingSummary[] }): JSX.Element => (
  <Table
    caption="True hypertension: ICP above 22 mmHg with no artifact on it. Marked is lost, suspect as well. The last columns: all other true time."
    columns={[
      { head: 'Sampling' },
      { head: 'True hypertension', number: true },
      { head: 'Removed', number: true },
      { head: 'Suspect', number: true },
      { head: 'Lost', number: true },
      { head: 'Other true time', number: true },
      { head: 'Removed', number: true },
      { head: 'Suspect', number: true },
    ]}
    rows={samplings.map(({ samplingSeconds, high, quiet }) => ({
      key: samplingName(samplingSeconds),
      cells: [
        samplingName(samplingSeconds),
        longTime(high.seconds),
        shareOf(high.secondsRemoved, high.seconds),
        shareOf(high.secondsSuspect, high.seconds),
        percent(lostShare(high)),
        longTime(quiet.seconds),
        shareOf(quiet.secondsRemoved, quiet.seconds),
        shareOf(quiet.secondsSuspect, quiet.seconds),
      ],
    }))}
  />
);

const worstText = ({ worst }: KindSummary): string =>
  worst
    .slice(0, 2)
    .map(
      ({ seed, atSecond, seconds, rule }) =>
        `${placeOf(seed, atSecond)}, ${longTime(seconds)}: ${ruleTitle(rule)}`,
    )
    .join('; ') || NONE;

/** The same by true event, at one sampling. */
export const LostByEvent = ({ summary }: { summary: SamplingSummary }): JSX.Element => (
  <Table
    caption={`At ${samplingName(summary.samplingSeconds)}, by the true event that is on; the longest stretches that were marked.`}
    columns={[
      { head: 'True event' },
      { head: 'Hypertension', number: true },
      { head: 'Removed', number: true },
      { head: 'Suspect', number: true },
      { head: 'Longest marked stretches' },
    ]}
    rows={summary.highKinds.map((kind) => ({
      key: kind.kind,
      cells: [
        titleOf(kind.kind),
        longTime(kind.seconds),
        shareOf(kind.secondsRemoved, kind.seconds),
        shareOf(kind.secondsSuspect, kind.seconds),
        worstText(kind),
      ],
    }))}
  />
);

/** What each rule took, and how much of it was true. */
export const RuleTable = ({ summary }: { summary: SamplingSummary }): JSX.Element => (
  <Table
    caption={`At ${samplingName(summary.samplingSeconds)}, by rule. Each second counts for the first rule that took it, removed before suspect.`}
    columns={[
      { head: 'Rule' },
      { head: 'Channel' },
      { head: 'Grade' },
      { head: 'Marks', number: true },
      { head: 'Time with an artifact', number: true },
      { head: 'True hypertension', number: true },
      { head: 'Other true time', number: true },
    ]}
    rows={summary.rules.map((rule) => ({
      key: `${rule.rule} ${rule.channel} ${rule.grade}`,
      cells: [
        ruleTitle(rule.rule),
        rule.channel,
        rule.grade,
        rule.marks,
        longTime(rule.secondsLabelled),
        longTime(rule.secondsHigh),
        longTime(rule.secondsQuiet),
      ],
    }))}
  />
);
