import type { JSX } from 'preact';
import { Chart } from '../page/chart.js';
import type { RecordingResult } from '../results-schema.js';
import { counted, duration, fromTo, pressure, timesOf } from '../words.js';
import { milliseconds } from './bedside-events.js';
import { bedsideWords } from './bedside-words.js';
import { PressureKeys } from './chart-keys.js';
import { HourTable } from './hour-table.js';
import { LevellingNote } from './levelling-note.js';
import type { PatientPageInput } from './patient-page-input.js';

/** The overview in words. */
function overviewText({ result, targets, period }: PatientPageInput): string {
  const { icp, cpp, decimals, episodes, removed, episodesReason } = result;
  const at = timesOf(result.period);
  const ofEpisodes =
    episodesReason !== null
      ? 'episodes cannot be told'
      : episodes.length === 0
        ? 'no episodes'
        : `${counted(episodes.length, 'episode')}: ${episodes.map((episode) => fromTo(episode, at)).join(', ')}`;
  const parts = [
    `ICP over the ${period.word}: mean ${pressure(icp.meanMmHg, decimals.icp)} mmHg, highest 5-min mean ${pressure(icp.highest5MinMmHg, decimals.icp)} mmHg, above ${targets.icpThresholdMmHg} mmHg for ${duration(icp.hoursAboveThreshold)}`,
    ofEpisodes,
    cpp.meanMmHg === null
      ? 'no CPP'
      : `CPP mean ${pressure(cpp.meanMmHg, decimals.cpp)} mmHg, lowest 5-min mean ${pressure(cpp.lowest5MinMmHg, decimals.cpp)} mmHg`,
    `${counted(removed.length, 'stretch', 'stretches')} removed or suspect`,
  ];
  return `${parts.join('; ')}. ${bedsideWords(result)}`.trim();
}

/** What the chart draws; a MAP that was computed is called so. */
const channelsShown = ({ monitoredHours, mapDerivedFrom }: RecordingResult): string =>
  monitoredHours.map === 0 ? 'ICP' : `ICP, ${mapDerivedFrom === null ? '' : 'derived '}MAP and CPP`;

/** The picture of the period; where the table beside it is of days, the hours are folded below it. */
export function OverviewSection(input: PatientPageInput): JSX.Element {
  const { result, targets, period, drawings } = input;
  const bedside = bedsideWords(result);
  return (
    <>
      <Chart
        svg={drawings.overview}
        says={overviewText(input)}
        title={
          <>
            {channelsShown(result)} over the {period.word}, local time ({period.timezone}).{' '}
            {drawings.hasNights && 'Faint grey: night. '}
            <PressureKeys result={result} targets={targets} window={milliseconds(result.period)} />
          </>
        }
        values={result.days.length > 0 ? <HourTable result={result} targets={targets} /> : null}
      />
      <LevellingNote result={result} />
      {bedside !== '' && <p class="small">{bedside}</p>}
    </>
  );
}
