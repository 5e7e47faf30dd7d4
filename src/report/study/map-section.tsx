import type { JSX } from 'preact';
import { CORRELATION_STEPS, type ColourStep, patientSteps } from '../charts/study-colours.js';
import { HATCH } from '../charts/study-map.js';
import { Chart, hatched, Key } from '../page/chart.js';
import type { StudyMapResult } from '../results-study-map.js';
import { share } from '../words.js';
import type { MapDrawing, MapDrawings } from './map-drawings.js';
import { CellsTable, ChangesTable } from './map-tables.js';
import { FORM_WORDS, mapAnswer, mapSays, patientsSay, sideWords, whoIsMissing } from './map-words.js';
import { SmallChart } from './small-chart.js';
import { WITH_NEXT } from './with-next.js';

const signedText = (value: number): string => String(value).replace('-', '−');

/** A swatch as the map rules its cells. */
const ruledSwatch = (fill: string, ruled: string): string =>
  `repeating-linear-gradient(0deg, ${fill} 0 2px, ${ruled} 2px 2.7px)`;

/** `−0.2 to −0.1`; open at the ends. */
function rangeWords(steps: readonly ColourStep[], i: number): string {
  const { from } = steps[i];
  const next = steps[i + 1]?.from;
  if (next === undefined) return `${signedText(from)} and above`;
  return Number.isFinite(from) ? `${signedText(from)} to ${signedText(next)}` : `under ${signedText(next)}`;
}

/** What the colours, strokes and dots of the maps of correlations mean. */
function MapKeys({ map }: { map: StudyMapResult }): JSX.Element {
  const middle = (CORRELATION_STEPS.length - 1) / 2;
  const keys = (from: number, to: number): JSX.Element[] =>
    CORRELATION_STEPS.slice(from, to).map(({ fill, ruled }, i) => (
      <Key key={fill} colour={ruled === undefined ? fill : ruledSwatch(fill, ruled)}>
        {rangeWords(CORRELATION_STEPS, from + i)}
      </Key>
    ));
  return (
    <>
      <p class="small">More episodes with a worse outcome (plain): {keys(0, middle)}</p>
      <p class="small">
        More episodes with a better outcome (ruled): {keys(middle + 1, CORRELATION_STEPS.length)}
      </p>
      <p class="small">
        <span class="key">about none: {keys(middle, middle + 1)}</span>
        <span class="key">
          • stable: {share(map.stableShare)} or more of {map.resamples} draws of patients have its sign
        </span>
        <Key colour="#1a1a1a" shape="line">
          where the sign changes
        </Key>
        <Key colour={hatched(HATCH)}>
          blank: fewer than {map.leastWithEpisode} patients have such an episode
        </Key>
      </p>
    </>
  );
}

function PatientKeys({ map }: { map: StudyMapResult }): JSX.Element {
  const steps = patientSteps(map.leastWithEpisode);
  const most = map.withEpisode.reduce((a, b) => Math.max(a, b), 0);
  return (
    <p class="small">
      Patients with such an episode:{' '}
      {steps
        .filter(({ from }) => from <= most)
        .map(({ from, fill }, i) => (
          <Key key={fill} colour={fill}>
            {i + 1 < steps.length ? `${from} to ${steps[i + 1].from - 1}` : `${from} and more`}
          </Key>
        ))}
    </p>
  );
}

function ChannelMap({ map, drawing }: { map: StudyMapResult; drawing: MapDrawing }): JSX.Element {
  const name = sideWords(map);
  const missing = whoIsMissing(map);
  return (
    <>
      {missing !== '' && <p style={WITH_NEXT}>{missing}</p>}
      <div class="together">
        <Chart
          svg={drawing.perDay}
          title={`${name} each intensity: correlation of ${FORM_WORDS.perDay} with outcome, ${map.patients} patients`}
          says={mapSays(map, 'perDay')}
        />
        <MapKeys map={map} />
      </div>
      <div class="together">
        <div class="beside-each-other">
          <SmallChart
            svg={drawing.count}
            title={`The same of the ${FORM_WORDS.count}, in the same colours`}
            says={mapSays(map, 'count')}
          />
          <SmallChart svg={drawing.patients} title="Patients with such an episode" says={patientsSay(map)} />
        </div>
        <PatientKeys map={map} />
      </div>
      <CellsTable map={map} />
      <ChangesTable map={map} />
    </>
  );
}

/** Episodes of each intensity and duration, and outcome. */
export function MapSection({
  maps,
  drawings,
}: {
  readonly maps: readonly StudyMapResult[];
  readonly drawings: MapDrawings;
}): JSX.Element {
  const hasMap = maps.some(({ channel }) => drawings[channel] !== null);
  return (
    <section>
      <h2>Intensity and duration of episodes, and outcome</h2>
      {maps.map((map) => (
        <p key={map.channel}>
          <strong>{mapAnswer(map)}</strong>
        </p>
      ))}
      <p>
        A cell takes an intensity and a duration. Of each patient it counts the episodes in the primary window
        in which ICP stays above the intensity, or CPP below it, for at least the duration; the cell is the
        rank correlation (Spearman's) of that number with outcome over patients. A cell of a worse outcome
        means that patients with more such episodes had worse outcomes. Where pressure is past an intensity
        most of the time, one long episode stands in place of many short ones, and more episodes mean that it
        came back more often: there a better outcome says nothing for such pressure.
      </p>
      {hasMap && (
        <p>
          This is no test. Hundreds of neighbouring cells count nearly the same episodes of the same patients,
          so they go together. Where outcome was dealt out by chance to invented patients, a tenth of the
          cells was stable on average: hardly any in half of the cohorts, and more than half of them in a few.
          A map shows where to look in other patients. It is an association and not an effect: whoever fares
          badly for another reason may have more episodes, and patients were treated by what was seen. No line
          or cell of it is a limit.
        </p>
      )}
      {maps.map((map) => {
        const drawing = drawings[map.channel];
        return (
          drawing !== null && (
            <div key={map.channel}>
              <h3>{sideWords(map)} each intensity</h3>
              <ChannelMap map={map} drawing={drawing} />
            </div>
          )
        );
      })}
      {hasMap && (
        <p class="small">
          Number and rate differ where patients are monitored for different times: who dies early has fewer
          episodes for that alone, so the rate stands first. Source of the map: Guiza et al., Intensive Care
          Med 2015;41:1067-76, on a value a minute. Departures from it, by own convention: dips and unknown
          stretches that the unit's rule of episodes allows do not end one; a cell under{' '}
          {maps[0].leastWithEpisode} patients with such an episode is blank; draws of patients say how stable
          a sign is. Columns are equally wide and durations about logarithmic.
        </p>
      )}
    </section>
  );
}
