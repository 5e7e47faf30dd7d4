import type { JSX } from 'preact';
import { NO_RATE } from '../charts/audit-rate-bars.js';
import { Chart } from '../page/chart.js';
import { Table } from '../page/table.js';
import type { AuditAlarms } from '../results-audit-alarms.js';
import { NONE } from '../words.js';
import { type AlarmSectionProps, channelsWithAlarms } from './alarm-drawings.js';
import { CHANNEL_SHORT } from './class-words.js';
import { countWord } from './count-words.js';
import { rate, rateBounds } from './estimate-words.js';

type Channel = AuditAlarms['channels'][number];
type Times = Pick<Channel['byHour'][number], 'alarms' | 'monitoredDays' | 'perDay'>;

const twoDigits = (hour: number): string => `${String(hour % 24).padStart(2, '0')}:00`;

const hourName = (hour: number): string => `${twoDigits(hour)} to ${twoDigits(hour + 1)}`;

function RateTable({
  head,
  names,
  channels,
  timesOf,
}: {
  head: string;
  names: readonly string[];
  channels: readonly Channel[];
  timesOf: (channel: Channel) => readonly Times[];
}): JSX.Element {
  return (
    <Table
      columns={[
        { head },
        ...channels.flatMap(({ channel }) => [
          { head: `${CHANNEL_SHORT[channel]} alarms`, number: true },
          { head: 'Monitored days', number: true },
          { head: 'Alarms a day', number: true },
          { head: '95 % interval', number: true },
        ]),
      ]}
      rows={names.map((name, i) => ({
        key: name,
        cells: [
          name,
          ...channels.flatMap((channel) => {
            const { alarms, monitoredDays, perDay } = timesOf(channel)[i];
            return [countWord(alarms), monitoredDays.toFixed(1), rate(perDay.value), rateBounds(perDay)];
          }),
        ],
      }))}
    />
  );
}

/** `ICP: most from 03:00 to 04:00 (6.1 a day), fewest from 14:00 to 15:00 (1.0 a day).` */
export function hoursSentence({ channel, byHour }: Channel): string {
  const known = byHour.filter(({ perDay }) => perDay.value !== null);
  const name = CHANNEL_SHORT[channel];
  if (known.length < 2) return `${name}: no rate can be shown for two hours of the day or more.`;
  const by = known.toSorted((a, b) => (a.perDay.value ?? 0) - (b.perDay.value ?? 0) || a.hour - b.hour);
  const [fewest, most] = [by[0], by[by.length - 1]];
  const words = (one: Channel['byHour'][number]): string =>
    `from ${hourName(one.hour)} (${one.perDay.value === null ? NONE : rate(one.perDay.value)} a day)`;
  const of = known.length < byHour.length ? ' of the hours with a rate' : '';
  return `${name}: most${of} ${words(most)}, fewest ${words(fewest)}.`;
}

/** When alarms came: by the hour of the day and the day of the week, against the time that was monitored. */
export function HoursSection({ alarms, drawings }: AlarmSectionProps): JSX.Element | null {
  const channels = channelsWithAlarms(alarms);
  if (channels.length === 0 || drawings.hours === null || drawings.weekdays === null) return null;
  const says = channels.map(hoursSentence).join(' ');
  const hasNoRate = channels.some(({ byHour }) => byHour.some(({ perDay }) => perDay.value === null));
  return (
    <section>
      <h2>When they came</h2>
      <p>
        Alarms a day that was monitored at this hour, or on this day of the week: hours in which more patients
        are monitored have no higher rate for that. {says}
      </p>
      <Chart
        svg={drawings.hours}
        title={`Alarms a monitored patient-day by the hour of the day, by the clock on the wall. Shaded: night. Thin line: 95 % interval over patients, from 10 patients on.${hasNoRate ? ` ${NO_RATE}: nothing was monitored, or not shown.` : ''}`}
        says={says}
        valuesTitle="Hour by hour, as a table"
        values={
          <RateTable
            head="Hour"
            names={Array.from({ length: 24 }, (_, hour) => hourName(hour))}
            channels={channels}
            timesOf={({ byHour }) => byHour}
          />
        }
      />
      <Chart
        svg={drawings.weekdays}
        title="The same by the day of the week."
        says={channels
          .map(
            ({ channel, byWeekday }) =>
              `${CHANNEL_SHORT[channel]} alarms a monitored patient-day: ${byWeekday.map(({ weekday, perDay }) => `${weekday} ${rate(perDay.value)}`).join(', ')}.`,
          )
          .join(' ')}
        valuesTitle="Day by day, as a table"
        values={
          <RateTable
            head="Day"
            names={channels[0].byWeekday.map(({ weekday }) => weekday)}
            channels={channels}
            timesOf={({ byWeekday }) => byWeekday}
          />
        }
      />
      <p class="small">
        Of 24 hours the one with the most alarms always stands out somewhat by chance: where intervals
        overlap, a difference says little, and a bar without an interval rests on fewer than 10 patients.
      </p>
    </section>
  );
}
