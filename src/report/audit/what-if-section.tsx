import type { JSX } from 'preact';
import { HEAT_STEPS } from '../charts/audit-heat-map.js';
import { COLOURS } from '../charts/palette.js';
import { Chart, Key } from '../page/chart.js';
import { Fold } from '../page/fold.js';
import { Table } from '../page/table.js';
import type { AuditResult } from '../results-audit.js';
import type { AuditWhatIf } from '../results-audit-what-if.js';
import { counted, listed } from '../words.js';
import { MAPS, type MapName, type WhatIfDrawings, type WhatIfReading, whatIfMap } from './what-if-maps.js';
import { AgainstPresentTable, ChoicesTable, MissedTable } from './what-if-tables.js';
import { artifactWords, listedChoices, rawCell, settingName, whatIfAnswer } from './what-if-words.js';

/** Rows of a list that is printed; the rest is folded. */
const MOST_ROWS = 12;

const TITLE: Readonly<Record<MapName, string>> = {
  alarmsPerDay: 'Alarms a patient-day that each limit and delay raises',
  caughtShare: 'Sustained episodes that each limit and delay catches, % of all',
  medianNoticeMinutes:
    'Median time from the crossing of the threshold to the notice, min, of the episodes caught',
};

const READING: Readonly<Record<WhatIfReading, string>> = {
  raw: 'on ICP as exported',
  cleaned: 'on ICP without artifacts',
};

/** The map in words: its corners, and the present setting. */
function mapSays(part: AuditWhatIf, reading: WhatIfReading, name: MapName): string {
  const { texts, framed } = whatIfMap(part, reading, name);
  const cells = part[reading];
  const last = part.delaysSeconds.length - 1;
  const corners = [...new Set([0, last, cells.length - 1 - last, cells.length - 1])];
  const told = corners.map((place) => `${settingName(cells[place])}: ${texts[place]}`).join('; ');
  const present = framed === null ? '' : ` Present setting, ${settingName(cells[framed])}: ${texts[framed]}.`;
  return `${TITLE[name]}, ${READING[reading]}. ${told}.${present} ${reading === 'raw' ? 'The table below has every cell' : 'The table whatif.csv has every cell'}.`;
}

/** The same numbers as a table. */
function MapTable({ part, name }: { part: AuditWhatIf; name: MapName }): JSX.Element {
  const { texts } = whatIfMap(part, 'raw', name);
  const { limitsMmHg, delaysSeconds } = part;
  const rows = limitsMmHg.map((limit, row) => ({
    key: `${limit}`,
    cells: [`${limit}`, ...delaysSeconds.map((_, column) => texts[row * delaysSeconds.length + column])],
  }));
  return (
    <Table
      kind="wraps"
      columns={[
        { head: 'Limit, mmHg \\ delay, min', number: true },
        ...delaysSeconds.map((delay) => ({ head: String(Number((delay / 60).toFixed(2))), number: true })),
      ]}
      rows={rows.reverse()}
    />
  );
}

interface WhatIfProps {
  readonly part: AuditWhatIf;
  readonly drawings: WhatIfDrawings;
  /** Of the report. */
  readonly period: { readonly start: string; readonly end: string };
  /** Of the alarms of the log, the most first. */
  readonly limitsInLog?: AuditResult['limitsInLog'];
}

function SettingMap({
  part,
  drawings,
  reading,
  name,
}: Omit<WhatIfProps, 'period'> & { reading: WhatIfReading; name: MapName }) {
  return (
    <Chart
      svg={drawings[reading][name]}
      title={`${TITLE[name]}, ${READING[reading]}${name === 'alarmsPerDay' ? ' (shades by the logarithm)' : ''}`}
      says={mapSays(part, reading, name)}
      values={reading === 'raw' ? <MapTable part={part} name={name} /> : null}
      valuesTitle="The same as a table"
    />
  );
}

function Choices({ part }: { part: AuditWhatIf }): JSX.Element {
  const { choices, presentRated, episodes } = part;
  if (choices.length === 0) {
    return (
      <p>
        {episodes === 0
          ? 'Without a sustained episode there is nothing to choose settings by.'
          : 'No setting that was tried catches an episode.'}
      </p>
    );
  }
  const told = listedChoices(part);
  const shown = (told ?? choices).slice(0, MOST_ROWS);
  const as = presentRated === null ? 'as any setting does' : 'as the present setting, or more';
  const isMasked = choices.some((one) => rawCell(part, one).episodesCaught === null);
  const all = `All ${choices.length} by alarms, on ICP as exported`;
  const few = (told ?? choices).length > MOST_ROWS ? `The ${MOST_ROWS} with the fewest alarms` : 'By alarms';
  return (
    <>
      <p>
        {counted(choices.length, 'setting')} of {part.raw.length} {choices.length === 1 ? 'has' : 'have'} no
        better: no other setting has as few alarms, as many episodes caught and as short a median time to the
        notice, and is better in one. Which of them is to be preferred is not for the data to say.
        {told !== null &&
          ` ${counted(told.length, 'of them catches', 'of them catch')} as many episodes ${as}${isMasked ? ', as far as counts are shown' : ''}.`}
      </p>
      {shown.length > 0 && (
        <ChoicesTable
          part={part}
          choices={shown}
          caption={told === null ? few : `${few}, of those that catch as many episodes ${as}`}
        />
      )}
      {choices.length > shown.length && (
        <Fold title={all}>
          <ChoicesTable part={part} choices={choices} caption={all} />
        </Fold>
      )}
    </>
  );
}

function Missed({ part, period }: Pick<WhatIfProps, 'part' | 'period'>): JSX.Element {
  const { missedLong, longMinutes, longEpisodes, presentRated } = part;
  if (missedLong === null) return <p>Single episodes are not listed: {part.missedLongReason}.</p>;
  if (longEpisodes === 0) return <p>No sustained episode lasted {longMinutes} min or more.</p>;
  const all = longEpisodes === null ? '' : ` of ${counted(longEpisodes, 'episode')}`;
  if (missedLong.length === 0) {
    return <p>Every setting that was tried tells of each episode of {longMinutes} min or more.</p>;
  }
  const byPresent = presentRated === null ? null : rawCell(part, presentRated).longMissed;
  const longest = [...missedLong].sort((a, b) => b.minutes - a.minutes);
  return (
    <>
      <p>
        {missedLong.length}
        {all} of {longMinutes} min or more would have been missed with some of the settings
        {byPresent === null ? '' : `, ${byPresent || 'none'} with the present one`}. The shortest delay is
        given that misses it with a limit; with any longer one it is missed too.
        {longest.length > MOST_ROWS && ` The ${MOST_ROWS} longest:`}
      </p>
      <MissedTable part={part} missed={longest.slice(0, MOST_ROWS)} period={period} />
      {longest.length > MOST_ROWS && (
        <Fold title={`All ${longest.length}, by time`}>
          <MissedTable part={part} missed={missedLong} period={period} />
        </Fold>
      )}
    </>
  );
}

/** So many limits are named. */
const MOST_LIMITS = 4;

/** That the alarms of the log came by other settings. */
function limitsWords(limits: AuditResult['limitsInLog']): string {
  if (limits.length === 0) return '';
  const named = limits
    .slice(0, MOST_LIMITS)
    .map(({ limitMmHg, alarms }) => `${Number(limitMmHg.toFixed(1))} mmHg in ${counted(alarms, 'alarm')}`);
  return `The alarms of the log came by the settings of their time (limits of ICP: ${listed(named)}), so their numbers are others.`;
}

/** What other limits and delays would have raised and caught on the same ICP. */
export function WhatIfSection({ part, drawings, period, limitsInLog = [] }: WhatIfProps): JSX.Element {
  const without = part.notReplayed
    ? ` ${counted(part.notReplayed, 'patient')} whose ICP is sampled too seldom ${part.notReplayed === 1 ? 'is' : 'are'} not in it.`
    : '';
  const reset = part.resetSeconds === 0 ? '' : `, and ends once ICP was back for ${part.resetSeconds} s`;
  return (
    <section>
      <h2>What if: other limits and delays, on the same ICP</h2>
      <p>
        <strong>{whatIfAnswer(part)}</strong>
      </p>
      <p>
        This is a replay on past data of {part.patients === null ? 'all' : counted(part.patients, 'patient')}{' '}
        over {part.monitoredDays.toFixed(1)} monitored patient-days: nobody was treated otherwise. Had alarms
        come otherwise, care, and so ICP itself, would have differed. The best of many settings that are tried
        on the same data looks better than it would be on others. It is no recommendation: alarm settings
        follow local policy and clinical engineering.{without} {limitsWords(limitsInLog)}
      </p>
      <p class="small">
        An alarm is raised once ICP has been above the limit for the delay without a break{reset}. What is not
        known breaks the delay and ends the alarm. An episode counts as caught where an alarm is on at some
        time in it, and as noticed when the first one is, not before its crossing; the dose before the notice
        is the area above the threshold of episodes up to then.
      </p>
      <p class="small">
        Median times are of the episodes caught only, so a setting that misses some may seem fast; and an
        alarm that was on for hours already counts as a notice at the crossing, so a low limit may seem fast
        too. A dot marks a setting with no better one, as said below.
      </p>
      <p>
        <Key colour={HEAT_STEPS[1].fill}>lighter: less</Key>
        <Key colour={COLOURS.map}>darker: more</Key>
        {part.presentRated !== null && <Key colour={COLOURS.paper}>framed: the present setting</Key>}
        <span class="key">• no other setting is better</span>
        <span class="key">– no figure{part.missedLongReason ? `; ${part.missedLongReason}` : ''}</span>
      </p>
      {MAPS.map((name) => (
        <SettingMap key={name} part={part} drawings={drawings} reading="raw" name={name} />
      ))}
      <Fold title="The same on ICP without artifacts, which no monitor has">
        {MAPS.map((name) => (
          <SettingMap key={name} part={part} drawings={drawings} reading="cleaned" name={name} />
        ))}
      </Fold>
      <p class="small">
        ICP as exported is what a monitor sees, artifacts and all, so these are the alarms that it would have
        raised. Without artifacts means without what the rules of this report removed; they look at what came
        before and after, which no monitor can, so that reading only tells how many alarms are artifacts'
        doing. {artifactWords(part)}
      </p>
      <p class="small">
        What was removed is not known, so it breaks the delay and ends an alarm: with a delay there may be
        more alarms than as exported, and later ones. Sustained episodes are those without artifacts in both.
      </p>
      <h3>Settings to choose among</h3>
      <AgainstPresentTable part={part} />
      <Choices part={part} />
      <h3>Long episodes that a setting misses</h3>
      <Missed part={part} period={period} />
    </section>
  );
}
