import type { JSX } from 'preact';
import { Table } from '../page/table.js';
import type { AuditAlarms } from '../results-audit-alarms.js';
import { counted, dayAndTime, dose, duration, NONE, seconds } from '../words.js';
import { CHANNEL_SHORT } from './class-words.js';
import { countedWord, countWord } from './count-words.js';

/** So many episodes are listed, the largest doses; tables and results.json have all. */
const MOST_EPISODES = 20;

type Channel = AuditAlarms['channels'][number];
type Unnoticed = AuditAlarms['unnoticed'][number];

/** `ICP: 31 sustained episodes that the alarm log reaches: an alarm in time in 20, a late one in 6, none in 5.` */
export function noticeSentence({ channel, episodes, notices }: Channel): string {
  const name = CHANNEL_SHORT[channel];
  if (episodes === 0) return `${name}: no sustained episode.`;
  const notCovered =
    notices.notCovered === 0
      ? ''
      : ` The alarm log does not reach ${countWord(notices.notCovered)} more of them.`;
  const { inTime, late, none } = notices;
  if (inTime === null || late === null || none === null || notices.notCovered === null) {
    const parts = [
      `an alarm in time: ${countWord(inTime)}`,
      `a late one: ${countWord(late)}`,
      `none: ${countWord(none)}`,
      `not reached by the alarm log: ${countWord(notices.notCovered)}`,
    ];
    return `${name}: ${countedWord(episodes, 'sustained episode')} (${parts.join('; ')}).`;
  }
  if (inTime + late + none === 0)
    return `${name}: ${countedWord(episodes, 'sustained episode')}, and the alarm log reaches none of them.`;
  return `${name}: ${counted(inTime + late + none, 'sustained episode')} that the alarm log reaches: an alarm in time in ${inTime}, a late one in ${late}, none in ${none}.${notCovered}`;
}

const treatedWords = ({ treated, treatedAfterMinutes }: Unnoticed): string =>
  treated === 'unknown'
    ? NONE
    : treated === 'none' || treatedAfterMinutes === null
      ? 'none'
      : duration(treatedAfterMinutes / 60);

function EpisodeTable({ unnoticed }: { unnoticed: readonly Unnoticed[] }): JSX.Element {
  const byDose = unnoticed
    .toSorted((a, b) => b.doseMmHgHours - a.doseMmHgHours || Date.parse(a.start) - Date.parse(b.start))
    .slice(0, MOST_EPISODES);
  const some =
    unnoticed.length > MOST_EPISODES
      ? `The ${MOST_EPISODES} largest doses of ${unnoticed.length}; all are in tables/episodes.csv. `
      : '';
  return (
    <Table
      caption={`${some}Largest dose first. Alarm and treatment: time from the crossing to the first of each.`}
      columns={[
        { head: 'Patient' },
        { head: 'Channel' },
        { head: 'Start', number: true },
        { head: 'Length', number: true },
        { head: 'Dose, mmHg·h', number: true },
        { head: 'Alarm', number: true },
        { head: 'Treatment', number: true },
      ]}
      rows={byDose.map((one) => ({
        key: `${one.patient} ${one.channel} ${one.start}`,
        cells: [
          one.patient,
          CHANNEL_SHORT[one.channel],
          dayAndTime(one.start),
          duration(one.minutes / 60),
          dose(one.doseMmHgHours),
          one.alarmAfterMinutes === null ? 'none' : `after ${duration(one.alarmAfterMinutes / 60)}`,
          treatedWords(one),
        ],
      }))}
    />
  );
}

/** The other way round: sustained episodes of which no alarm told, or a late one. */
export function UnnoticedSection({ alarms }: { readonly alarms: AuditAlarms }): JSX.Element {
  const { channels, unnoticed } = alarms;
  const late = channels.map(
    ({ channel, lateSeconds }) => `${CHANNEL_SHORT[channel]} ${seconds(lateSeconds * 1000)}`,
  );
  return (
    <section>
      <h2>Episodes that no alarm told of, or a late one</h2>
      {alarms.log === null ? (
        <p>No alarm log was given, so that nobody can say which sustained episodes an alarm told of.</p>
      ) : (
        <>
          {channels.map((one) => (
            <p key={one.channel}>{noticeSentence(one)}</p>
          ))}
          {unnoticed.length > 0 && <EpisodeTable unnoticed={unnoticed} />}
          <p class="small">
            Late: the first alarm came so long after the crossing, or later: {late.join(', ')}. Where no alarm
            stands in the log, one may have been switched off or paused, set to another limit, or not
            exported: the log cannot say which. It does not say either that nobody saw the episode.
          </p>
        </>
      )}
    </section>
  );
}
