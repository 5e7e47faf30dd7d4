import type { JSX } from 'preact';
import { type Row, Table } from '../../../src/report/page/table.js';
import { isTrivial, type KindSummary } from '../aggregate/kinds.js';
import type { SamplingSummary } from '../aggregate/summary.js';
import { eventShare, isFound, secondShare } from '../aggregate/targets.js';
import { count, longTime, percent, samplingName, shareOf } from '../words.js';
import { titleOf } from './titles.js';

const isSum = ({ kind }: KindSummary): boolean => kind.startsWith('all');

function kindRow(kind: KindSummary): Row {
  const { eventsHolding, seconds } = kind;
  return {
    key: `${kind.kind} ${kind.grade}`,
    kind: isFound(kind) || isSum(kind) || isTrivial(kind) ? undefined : 'cannot',
    cells: [
      titleOf(kind.kind),
      count(kind.events),
      count(eventsHolding),
      shareOf(kind.eventsRemoved, eventsHolding),
      shareOf(kind.eventsSuspect, eventsHolding),
      shareOf(kind.eventsEither, eventsHolding),
      longTime(seconds),
      shareOf(kind.secondsRemoved, seconds),
      shareOf(kind.secondsSuspect, seconds),
      isSum(kind) || isTrivial(kind) ? '' : isFound(kind) ? 'met' : 'not met',
    ],
  };
}

/** Kinds of one truth grade at one sampling. */
function GradeTable({
  summary,
  grade,
}: {
  summary: SamplingSummary;
  grade: 'removed' | 'suspect';
}): JSX.Element {
  const isRemovable = grade === 'removed';
  const kinds = summary.kinds.filter((kind) => kind.grade === grade);
  const sums = isRemovable ? [summary.removable, summary.removableBrief] : [summary.suspicious];
  return (
    <Table
      caption={
        isRemovable
          ? 'Not the patient: these should be removed. An event counts as marked where at least half of its labelled samples are. Blanks are trivial, and left out of the sums.'
          : 'May be the patient, as far as an export can tell: these should be marked, removed or suspect.'
      }
      columns={[
        { head: 'Kind' },
        { head: 'Events', number: true },
        { head: 'Holding a sample', number: true },
        { head: 'Events removed', number: true },
        { head: 'suspect', number: true },
        { head: 'either', number: true },
        { head: 'Labelled', number: true },
        { head: 'Time removed', number: true },
        { head: 'suspect', number: true },
        { head: '90 % of events' },
      ]}
      rows={[...kinds, ...sums].map(kindRow)}
    />
  );
}

/** Events and seconds marked at one sampling, a table a truth grade. */
export const ArtifactTables = ({ summary }: { summary: SamplingSummary }): JSX.Element => (
  <>
    <GradeTable summary={summary} grade="removed" />
    <GradeTable summary={summary} grade="suspect" />
  </>
);

/** Without its sign, so that five pairs stand beside each other. */
const bare = (value: number | null): string => percent(value).replace(' %', '');

/** A cell `events / seconds` for one kind at each sampling. */
export function BySampling({ samplings }: { samplings: readonly SamplingSummary[] }): JSX.Element {
  const all = samplings[samplings.length - 1];
  const cellOf = (kind: KindSummary | undefined): string =>
    kind === undefined ? '' : `${bare(eventShare(kind))} / ${bare(secondShare(kind))}`;
  const rows = all.kinds.map((kind) => ({
    key: `${kind.kind} ${kind.grade}`,
    cells: [
      titleOf(kind.kind),
      kind.grade,
      ...samplings.map(({ kinds }) =>
        cellOf(kinds.find((one) => one.kind === kind.kind && one.grade === kind.grade)),
      ),
    ],
  }));
  const totals = (['removable', 'removableBrief', 'suspicious'] as const).map((name) => ({
    key: name,
    cells: [titleOf(all[name].kind), all[name].grade, ...samplings.map((summary) => cellOf(summary[name]))],
  }));
  return (
    <Table
      caption="Events marked / time marked, in per cent, of artifacts that hold a sample; for grade suspect either mark counts."
      columns={[
        { head: 'Kind' },
        { head: 'In truth' },
        ...samplings.map(({ samplingSeconds }) => ({ head: samplingName(samplingSeconds), number: true })),
      ]}
      rows={[...rows, ...totals]}
    />
  );
}
