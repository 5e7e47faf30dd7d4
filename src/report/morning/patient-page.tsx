import type { Targets } from '../../summarize/targets.js';
import { COLOURS } from '../charts/palette.js';
import { Chart, hatched, Key } from '../page/chart.js';
import { renderPage } from '../page/page.js';
import { runningTitle } from '../page/running-title.js';
import { Table } from '../page/table.js';
import type { RecordingResult, Results } from '../results-schema.js';
import { clockTime, counted, duration, isOverADay, pressure, span, titleTime } from '../words.js';
import { AgreementSection } from './agreement-section.js';
import { EpisodeTable } from './episode-table.js';
import { type FigureColumn, figureRows, missingReasons } from './figure-rows.js';
import { HourTable } from './hour-table.js';
import { MadeSection } from './made-section.js';
import type { PatientDrawings } from './patient-drawings.js';
import { ProbeNote } from './probe-note.js';
import { TrustSection } from './trust-section.js';

/** What a patient's page is made from: figures, and the drawings of the period. */
export interface PatientPageInput {
  readonly result: RecordingResult;
  readonly logs: Results['logs'];
  /** Where cleaning is not the usual one. */
  readonly cleaningNote: string | null;
  readonly period: Results['period'];
  readonly title: string;
  readonly targets: Targets;
  readonly episodeMinutes: number;
  readonly drawings: PatientDrawings;
}

/** The overview in words. */
function overviewText({ result, targets }: PatientPageInput): string {
  const { icp, cpp, decimals, episodes, removed } = result;
  const parts = [
    `ICP over the period: mean ${pressure(icp.meanMmHg, decimals.icp)} mmHg, highest 5-min mean ${pressure(icp.highest5MinMmHg, decimals.icp)} mmHg, above ${targets.icpThresholdMmHg} mmHg for ${duration(icp.hoursAboveThreshold)}`,
    episodes.length === 0
      ? result.episodesReason === null
        ? 'no episodes'
        : 'episodes cannot be told'
      : `${counted(episodes.length, 'episode')}: ${episodes.map((e) => `${clockTime(e.start)} to ${clockTime(e.end)}`).join(', ')}`,
    cpp.meanMmHg === null
      ? 'no CPP'
      : `CPP mean ${pressure(cpp.meanMmHg, decimals.cpp)} mmHg, lowest 5-min mean ${pressure(cpp.lowest5MinMmHg, decimals.cpp)} mmHg`,
    `${counted(removed.length, 'stretch', 'stretches')} removed or suspect`,
  ];
  return `${parts.join('; ')}.`;
}

function comparison(result: RecordingResult, word: string): { heads: string[]; columns: FigureColumn[] } {
  const { nightBefore, icpOtherWay, cppOtherWay } = result;
  const heads = [word === 'night' ? 'This night' : 'This period'];
  const columns: FigureColumn[] = [
    { ...result, episodes: result.episodesReason === null ? result.episodes.length : null },
  ];
  if (nightBefore) {
    heads.push('The night before');
    columns.push(nightBefore);
  }
  if (icpOtherWay && cppOtherWay) {
    heads.push('Suspect stretches the other way');
    columns.push({ icp: icpOtherWay, cpp: cppOtherWay });
  }
  // Where nothing was cleaned the figures are those as exported.
  if (!result.cleaning.isOff) {
    heads.push('As exported');
    columns.push({ icp: result.icpRaw, cpp: result.cppRaw });
  }
  return { heads, columns };
}

/** What the chart draws; a MAP that was computed is called so. */
const channelsShown = ({ monitoredHours, mapDerivedFrom }: RecordingResult): string =>
  monitoredHours.map === 0 ? 'ICP' : `ICP, ${mapDerivedFrom === null ? '' : 'derived '}MAP and CPP`;

/** The page of one patient, as a whole HTML document. */
export function patientPage(input: PatientPageInput): string {
  const { result, logs, period, title, targets, episodeMinutes, drawings } = input;
  const isLong = isOverADay(period);
  const { heads, columns } = comparison(result, period.word);
  const figures = figureRows(columns, targets, result.decimals);
  const reasons = missingReasons(columns);
  return renderPage({
    title: `Patient ${result.id}: ${titleTime(period.word, period.start, period.end)}`,
    running: runningTitle(`Patient ${result.id}`, period),
    subtitle: (
      <>
        {title}. {span(period.start, period.end)} ({period.timezone}). From{' '}
        {result.files.map(({ file }) => file).join(', ')}.{' '}
        <a class="screen" href="index.html">
          All patients
        </a>
      </>
    ),
    children: (
      <>
        <p class="answer">{result.sentence}</p>
        {[input.cleaningNote, result.samplingNote].map(
          (note) =>
            note !== null && (
              <p key={note}>
                <strong>{note}</strong>
              </p>
            ),
        )}
        {result.decisionNote !== null && <p class="note">{result.decisionNote}</p>}
        <ProbeNote result={result} targets={targets} isLong={isLong} />
        <Chart
          svg={drawings.overview}
          says={overviewText(input)}
          title={
            <>
              {channelsShown(result)} over the {period.word}, local time.{' '}
              <Key colour={COLOURS.episode}>episode</Key>
              {result.removed.length > 0 && (
                <Key colour={COLOURS.removed}>thin grey line: left out by cleaning</Key>
              )}
              {result.suspect.length > 0 && (
                <Key colour={hatched(COLOURS.suspect)}>slanted strokes: suspect</Key>
              )}
              Dashed: {targets.icpThresholdMmHg} mmHg for ICP
              {result.monitoredHours.map > 0 && `, ${targets.cppFloorMmHg} mmHg for CPP`}. Gaps are missing
              data.
            </>
          }
        />
        <EpisodeTable
          result={result}
          thresholdMmHg={targets.icpThresholdMmHg}
          minMinutes={episodeMinutes}
          word={period.word}
        />
        <HourTable result={result} targets={targets} />
        <section>
          <h2>The {period.word} in figures</h2>
          <div class="pair">
            {[figures.icp, figures.cpp]
              .filter((rows) => rows.length > 0)
              .map((rows) => (
                <Table
                  key={rows[0].key}
                  columns={[{ head: 'Figure' }, ...heads.map((head) => ({ head, number: true }))]}
                  rows={rows}
                />
              ))}
          </div>
          {result.mapDerivedFrom !== null && (
            <p class="small">
              The export holds no MAP: it is derived from systolic and diastolic pressure, and CPP rests on
              it.
            </p>
          )}
          {!result.nightBefore && <p class="small">There are no data of the night before.</p>}
          {reasons.length > 0 && <p class="small">– means: {reasons.join('; ')}.</p>}
        </section>
        <TrustSection result={result} targets={targets} isLong={isLong} drawings={drawings} />
        <AgreementSection result={result} isLong={isLong} svg={drawings.difference} />
        <MadeSection result={result} logs={logs} />
      </>
    ),
  });
}
