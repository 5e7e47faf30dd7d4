import type { JSX } from 'preact';
import { BAND_SHADES } from '../charts/cpp-bands.js';
import { COLOURS } from '../charts/palette.js';
import { milliseconds } from '../morning/bedside-events.js';
import { bedsideWords } from '../morning/bedside-words.js';
import { PressureKeys } from '../morning/chart-keys.js';
import { Chart, Key } from '../page/chart.js';
import type { PageInput } from '../page-input.js';
import type { PerfusionResult } from '../results-perfusion.js';
import type { RecordingResult } from '../results-schema.js';
import { listed } from '../words.js';
import { shownIndex } from './courses.js';
import { jointSentence } from './joint-section.js';
import type { PerfusionDrawings } from './page-drawings.js';

/** A colour as it looks at an opacity on white paper. */
const tint = (hex: string, opacity: number): string =>
  `#${[1, 3, 5]
    .map((i) => Math.round(255 - opacity * (255 - Number.parseInt(hex.slice(i, i + 2), 16))))
    .map((part) => part.toString(16).padStart(2, '0'))
    .join('')}`;

/** What the picture draws, from above. */
function channelsShown({ monitoredHours, perfusion }: RecordingResult): string {
  const shown = shownIndex(perfusion);
  return listed([
    'ICP',
    ...(monitoredHours.map > 0 ? ['MAP', 'CPP'] : []),
    ...(shown === 'prx'
      ? ['PRx']
      : shown === 'minuteIndex'
        ? ['the low-frequency index from minute data']
        : []),
    ...(perfusion.pulse ? ['RAP'] : []),
    ...(perfusion.oxygen ? ['brain tissue oxygen'] : []),
    ...(perfusion.temperature ? ['temperature'] : []),
    ...(perfusion.endTidalCo2 ? ['end-tidal CO2'] : []),
  ]);
}

function indexKeys(perfusion: PerfusionResult): JSX.Element | null {
  const shown = shownIndex(perfusion);
  if (shown === null) return null;
  return (
    <>
      {shown === 'prx' && <Key colour={tint(COLOURS.past, 0.75)}>PRx above {perfusion.limit}</Key>}
      {shown === 'prx' ? `Dashed at PRx: ${perfusion.limit}. ` : ''}
    </>
  );
}

/** The shades of CPP as the picture has them. */
function BandKeys({ targets }: Pick<PageInput, 'targets'>): JSX.Element {
  const { cppEdgesMmHg: edges, cppFloorMmHg } = targets;
  return (
    <>
      {[Number.NEGATIVE_INFINITY, ...edges].slice(0, -1).map((from, i) => {
        const isLow = edges[i] <= cppFloorMmHg;
        const shade = isLow ? (i === 0 ? BAND_SHADES.lowest : BAND_SHADES.low) : BAND_SHADES.target;
        const words = i === 0 ? `CPP below ${edges[0]}` : `${from} to ${edges[i]}`;
        return (
          <Key key={words} colour={tint(isLow ? COLOURS.past : COLOURS.cpp, shade)}>
            {words}
          </Key>
        );
      })}
    </>
  );
}

/** The picture in words. */
function overviewText({ result, title }: PageInput): string {
  const { perfusion } = result;
  const shown = shownIndex(perfusion);
  const ofIndex =
    shown === null ? '' : shown === 'prx' ? perfusion.prx.sentence : perfusion.minuteIndex.sentence;
  return [
    `${title}: ${channelsShown(result)} over time.`,
    jointSentence(perfusion),
    ofIndex,
    bedsideWords(result),
  ]
    .filter((words) => words !== '')
    .join(' ');
}

/** Pressures, indices and what stands beside them, on one time axis. */
export function OverviewSection(input: PageInput & { readonly drawings: PerfusionDrawings }): JSX.Element {
  const { result, targets, period, drawings } = input;
  const { perfusion, monitoredHours } = result;
  const bedside = bedsideWords(result);
  const { oxygen } = perfusion;
  return (
    <>
      <Chart
        svg={drawings.overview}
        says={overviewText(input)}
        title={
          <>
            {channelsShown(result)} over the {period.word}, local time ({period.timezone}).{' '}
            {drawings.hasNights && 'Faint grey: night. '}
            {monitoredHours.map > 0 && <BandKeys targets={targets} />}
            {indexKeys(perfusion)}
            {oxygen !== null && `Dashed at oxygen: ${oxygen.belowMmHg} mmHg. `}
            <PressureKeys result={result} targets={targets} window={milliseconds(result.period)} />
          </>
        }
      />
      {bedside !== '' && <p class="small">{bedside}</p>}
    </>
  );
}
