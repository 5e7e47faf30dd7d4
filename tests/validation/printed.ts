/** The summary that `npm run validate` prints. */
import type { KindSummary } from './aggregate/kinds.js';
import type { SamplingSummary } from './aggregate/summary.js';
import { lostShare } from './aggregate/targets.js';
import type { ValidationResults } from './results.js';
import { figure, metOrNot, wanted } from './verdict-words.js';
import { longTime, mmHg, percent, samplingName, shareOf } from './words.js';

/** Rows as columns of equal width, the first left, the others right. */
function inColumns(rows: readonly (readonly string[])[]): string {
  const widths = rows[0].map((_, i) => Math.max(...rows.map((row) => row[i].length)));
  return rows
    .map((row) =>
      row.map((cell, i) => (i === 0 ? cell.padEnd(widths[i]) : cell.padStart(widths[i]))).join('  '),
    )
    .join('\n');
}

const kindLine = (kind: KindSummary): string[] => [
  kind.kind,
  kind.grade,
  String(kind.events),
  String(kind.eventsHolding),
  shareOf(kind.eventsRemoved, kind.eventsHolding),
  shareOf(kind.eventsEither, kind.eventsHolding),
  longTime(kind.seconds),
  shareOf(kind.secondsRemoved, kind.seconds),
  shareOf(kind.secondsSuspect, kind.seconds),
];

function printedSampling(summary: SamplingSummary): string {
  const { kinds, removable, removableBrief, suspicious, high, highKinds, rules, dose, episodes } = summary;
  const head = ['kind', 'truth', 'events', 'hold', 'removed', 'either', 'labelled', 'removed', 'suspect'];
  const wrong = rules.filter(({ channel, secondsHigh }) => channel === 'icp' && secondsHigh > 0);
  return [
    `== sampling ${samplingName(summary.samplingSeconds)}`,
    inColumns([head, ...[...kinds, removable, removableBrief, suspicious].map(kindLine)]),
    `true hypertension ${longTime(high.seconds)}: lost ${percent(lostShare(high))}, of it`,
    inColumns([
      ['  event', 'true', 'removed', 'suspect'],
      ...highKinds.map((kind) => [
        `  ${kind.kind}`,
        longTime(kind.seconds),
        shareOf(kind.secondsRemoved, kind.seconds),
        shareOf(kind.secondsSuspect, kind.seconds),
      ]),
    ]),
    `  by rule: ${wrong.map((one) => `${one.rule} ${one.grade} ${longTime(one.secondsHigh)}`).join(', ') || 'none'}`,
    ...(['raw', 'cleaned', 'trusted', 'ideal', 'cleanedToIdeal'] as const).map(
      (name) =>
        `dose an hour, ${name}: median ${percent(dose.high[name].median)}, p90 ${percent(dose.high[name].p90)} of ${dose.high.recordings}; low dose p90 ${mmHg(dose.low[name].p90)}, max ${mmHg(dose.low[name].max)} mmHg of ${dose.low.recordings}`,
    ),
    `episodes: ${episodes.trueEpisodes} true (${episodes.plainEpisodes} plain), missed ${episodes.missed} + ${episodes.missedBorderline} borderline (perfect cleaning misses ${episodes.missedByIdeal}); found ${episodes.foundEpisodes}, invented ${episodes.invented} + ${episodes.inventedHatched} hatched + ${episodes.inventedBorderline} borderline in ${episodes.patientDays} patient-days`,
  ].join('\n');
}

export function printed(results: ValidationResults): string {
  const verdicts = results.verdicts.map((verdict) => [
    verdict.says,
    `${verdict.samplingSeconds} s`,
    wanted(verdict),
    figure(verdict.measured, verdict.unit),
    metOrNot(verdict),
  ]);
  return [
    ...results.samplings.map(printedSampling),
    '== targets',
    inColumns([['measure', 'sampling', 'target', 'measured', ''], ...verdicts]),
  ].join('\n\n');
}
