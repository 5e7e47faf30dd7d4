import type { JSX } from 'preact';
import { COLOURS } from '../charts/palette.js';
import { Chart, Key } from '../page/chart.js';
import { Table } from '../page/table.js';
import type { AuditAlarms } from '../results-audit-alarms.js';
import { shortRuleTitle } from '../rule-title.js';
import { counted, NONE, share } from '../words.js';
import { type AlarmSectionProps, channelsWithAlarms } from './alarm-drawings.js';
import { CHANNEL_SHORT, CLASS_WORDS, CLASSES_SHOWN } from './class-words.js';
import { countedWord, countWord, maskNote } from './count-words.js';
import { rateText, shareBounds, shareText } from './estimate-words.js';
import { Roomy } from './roomy.js';

type Channel = AuditAlarms['channels'][number];

/** `ICP: 412 alarms of 28 patients, 3.1 a monitored patient-day (95 % interval 2.1 to 4.4).` and what they were. */
export function channelSentence({
  channel,
  alarms,
  patients,
  perDay,
  sustained,
  sustainedOrCutShort,
}: Channel): string {
  const name = CHANNEL_SHORT[channel];
  if (alarms === 0) return `${name}: no alarm.`;
  const rate = perDay.value === null ? '' : `, ${rateText(perDay)} a monitored patient-day`;
  const of = ` while ${counted(patients ?? 0, 'patient')} ${patients === 1 ? 'was' : 'were'} monitored`;
  const first = `${name}: ${countedWord(alarms, 'alarm')}${patients === null ? '' : of}${rate}.`;
  const sustainedShare = sustained.ofThoseTold.byPatients;
  const withCutShort = sustainedOrCutShort.ofThoseTold.byPatients;
  if (sustainedShare.value === null) return first;
  const more =
    withCutShort.value === null ? '' : `; ${shareText(withCutShort)} with those that treatment cut short`;
  return `${first} Of those of which one can tell, ${shareText(sustainedShare)} were sustained${more}.`;
}

function ClassTable({ channels }: { channels: readonly Channel[] }): JSX.Element {
  const cells = (one: Channel, alarmClass: string): string[] => {
    const found = one.classes.find((candidate) => candidate.alarmClass === alarmClass);
    const part = found?.share ?? null;
    return [countWord(found?.alarms ?? null), part === null ? NONE : share(part)];
  };
  return (
    <Table
      caption="The first class that applies counts: cannot tell, suspect, artifact, sustained, cut short, long past, brief, no crossing."
      columns={[
        { head: 'What it was' },
        ...channels.flatMap(({ channel }) => [
          { head: `${CHANNEL_SHORT[channel]} alarms`, number: true },
          { head: 'Share', number: true },
        ]),
        { head: 'What it means' },
      ]}
      rows={CLASSES_SHOWN.map((alarmClass) => ({
        key: alarmClass,
        cells: [
          CLASS_WORDS[alarmClass].name,
          ...channels.flatMap((one) => cells(one, alarmClass)),
          <Roomy key="says">{CLASS_WORDS[alarmClass].says}</Roomy>,
        ],
      }))}
    />
  );
}

function ShareTable({ channels }: { channels: readonly Channel[] }): JSX.Element {
  const rows = channels.flatMap((one) =>
    (
      [
        ['sustained', 'sustained'],
        ['sustained or cut short', 'sustainedOrCutShort'],
      ] as const
    ).flatMap(([what, key]) =>
      (
        [
          ['of all', 'ofAll'],
          ['of those one can tell', 'ofThoseTold'],
        ] as const
      ).map(([of, which]) => {
        const { part, whole, byPatients, naive } = one[key][which];
        return {
          key: `${one.channel} ${key} ${which}`,
          cells: [
            `${CHANNEL_SHORT[one.channel]}, ${what}, ${of}`,
            part === null || whole === null ? countWord(null) : `${part} of ${whole}`,
            byPatients.value === null ? NONE : share(byPatients.value),
            shareBounds(byPatients),
            shareBounds(naive),
          ],
        };
      }),
    ),
  );
  const reasons = new Set(
    channels.flatMap(({ sustained }) => {
      const { reason } = sustained.ofAll.byPatients;
      return reason === undefined ? [] : [reason];
    }),
  );
  return (
    <>
      <Table
        caption="How many were sustained. Alarms of one patient are alike, so the interval over patients is the one to go by; the other takes each alarm as if it stood alone, and is too narrow."
        columns={[
          { head: 'Alarms' },
          { head: 'Number', number: true },
          { head: 'Share', number: true },
          { head: '95 % interval over patients', number: true },
          { head: 'As if each stood alone', number: true },
        ]}
        rows={rows}
      />
      {reasons.size > 0 && <p class="small">No interval where there is a dash: {[...reasons].join('; ')}.</p>}
    </>
  );
}

function RuleTable({ channels }: { channels: readonly Channel[] }): JSX.Element | null {
  const rows = channels.flatMap(({ channel, rules }) =>
    rules.map(({ alarmClass, rule, alarms }) => ({
      key: `${channel} ${alarmClass} ${rule}`,
      cells: [
        shortRuleTitle(rule),
        CHANNEL_SHORT[channel],
        CLASS_WORDS[alarmClass].name.toLowerCase(),
        countWord(alarms),
      ],
    })),
  );
  if (rows.length === 0) return null;
  return (
    <Table
      caption="Artifacts and what is suspect, by the cleaning rule that took the stretch."
      columns={[{ head: 'Rule' }, { head: 'Channel' }, { head: 'Class' }, { head: 'Alarms', number: true }]}
      rows={rows}
    />
  );
}

/** Floods and repeats, in sentences. */
export function crowdingWords({ floods }: AuditAlarms, channels: readonly Channel[]): string[] {
  const { unitCount, unitAlarms, patientCount, patientAlarms } = floods;
  const flooded = (n: number | null, alarms: number | null): string =>
    n === 0 ? 'none' : `${countWord(n)}${alarms === null ? '' : ` with ${counted(alarms, 'alarm')}`}`;
  const repeats = channels
    .filter(({ repeats: n }) => n !== null)
    .map(
      ({ channel, repeats: n, repeatShare }) =>
        `${CHANNEL_SHORT[channel]} ${n}${repeatShare === null ? '' : ` (${share(repeatShare)})`}`,
    );
  return [
    `Floods, that is 10 alarms of ICP or CPP or more in 10 min: over all patients ${flooded(unitCount, unitAlarms)}; at one bed ${flooded(patientCount, patientAlarms)}.`,
    ...(repeats.length === 0
      ? []
      : [
          `Repeats, that is alarms within 2 min behind another of the same patient, channel, side and limit: ${repeats.join(', ')}.`,
        ]),
  ];
}

/** Where limits had to be assumed. */
const assumedWords = (channels: readonly Channel[]): string =>
  channels
    .filter(({ limitsAssumed }) => limitsAssumed !== 0)
    .map(
      ({ channel, limitsAssumed, limitMmHg }) =>
        `The log gives no limit for ${countedWord(limitsAssumed, `${CHANNEL_SHORT[channel]} alarm`)}; ${limitMmHg} mmHg was taken.`,
    )
    .join(' ');

/** What the alarms were: classes, shares, rules, floods and repeats. */
export function AlarmsSection({ alarms, drawings, maskBelow }: AlarmSectionProps): JSX.Element {
  const shown = channelsWithAlarms(alarms);
  return (
    <section>
      <h2>What the alarms were</h2>
      {alarms.log === null && <p>No alarm log was given, so that no alarm can be judged.</p>}
      {alarms.log !== null && shown.length === 0 && (
        <p>The log holds no alarm of ICP or CPP that could be judged.</p>
      )}
      {shown.length > 0 && (
        <>
          {alarms.channels.map((one) => (
            <p key={one.channel}>{channelSentence(one)}</p>
          ))}
          {maskBelow !== null && <p class="small">{maskNote(maskBelow)}</p>}
          {drawings.classes !== null && (
            <Chart
              svg={drawings.classes}
              title={
                <>
                  What alarms turned out to be, as a share of the alarms of the channel.{' '}
                  {shown.map(({ channel }) => (
                    <Key key={channel} colour={COLOURS[channel]}>
                      {CHANNEL_SHORT[channel]}
                    </Key>
                  ))}
                </>
              }
              says={shown.map((one) => channelSentence(one)).join(' ')}
            />
          )}
          <ClassTable channels={shown} />
          <ShareTable channels={shown} />
          <RuleTable channels={shown} />
          {crowdingWords(alarms, shown).map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
          {assumedWords(shown) !== '' && <p>{assumedWords(shown)}</p>}
          <p class="small">
            Classes, floods and repeats are common practice without a source. An alarm that was not sustained
            was not useless for that: at the bedside nobody could know how it would go on.
          </p>
        </>
      )}
    </section>
  );
}
