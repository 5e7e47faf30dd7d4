import type { JSX } from 'preact';
import { BAND_SHADES } from '../charts/cpp-bands.js';
import { COLOURS } from '../charts/palette.js';
import { isThicket } from '../charts/perfusion-overview.js';
import { milliseconds } from '../morning/bedside-events.js';
import { bedsideWords } from '../morning/bedside-words.js';
import { PressureKeys } from '../morning/chart-keys.js';
import { Chart, Key } from '../page/chart.js';
import type { PageInput } from '../page-input.js';
import type { RecordingResult } from '../results-schema.js';
import { listed } from '../words.js';
import { shownIndex } from './courses.js';
import { jointSentence } from './joint-section.js';
import { hasOwnTarget, targetName } from './own-target.js';
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
    perfusion.prxDoubt ?? '',
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
  const shown = shownIndex(perfusion);
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
            {shown === 'prx' && <Key colour={tint(COLOURS.past, 0.75)}>PRx above {perfusion.limit}</Key>}
            {perfusion.prxDoubt !== null && 'PRx is not drawn, since it cannot be judged. '}
            {shown !== null && isThicket(milliseconds(result.period)) && (
              <Key colour={COLOURS.index} shape="line">
                mean of an hour
              </Key>
            )}
            <PressureKeys
              result={result}
              targets={targets}
              window={milliseconds(result.period)}
              cppDashed={hasOwnTarget(result) ? `for CPP ${targetName(result)}` : undefined}
              dashed={[
                ...(shown === 'prx' ? [`${perfusion.limit} for PRx`] : []),
                ...(oxygen === null ? [] : [`${oxygen.belowMmHg} mmHg for oxygen`]),
              ]}
            />
          </>
        }
      />
      {bedside !== '' && <p class="small">{bedside}</p>}
    </>
  );
}
