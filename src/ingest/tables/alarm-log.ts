import { CHANNEL_NAMES } from '../../recording/channel.js';
import { shorten } from '../../recording/problem.js';
import { saysDate, saysParameter, saysTime, saysUnit } from '../columns/layout-words.js';
import { type AlarmLimit, limitReader } from './alarm-limit.js';
import { type AlarmParameter, alarmParameter, type LimitSide } from './alarm-words.js';
import { CellFault } from './cell-fault.js';
import { named, type RowPlace } from './describe.js';
import { remembered } from './remembered.js';
import type { TableDefinition } from './table-definition.js';
import { nobodysRow, WHOSE, type Whose } from './whose.js';

/** An alarm condition as a log holds it; times are milliseconds UTC. */
export interface AlarmRow extends RowPlace, Whose {
  readonly onsetUtcMs: number;
  readonly parameter: AlarmParameter;
  readonly limit: AlarmLimit | null;
  /** Which limit was passed, from its own column, the limit or the parameter's words. */
  readonly side: LimitSide | null;
  readonly priority: 'high' | 'medium' | 'low' | null;
  readonly acknowledgedUtcMs: number | null;
  readonly endedUtcMs: number | null;
  readonly message: string | null;
}

/**
 * Words for the priorities of IEC 60601-1-8 and the colours that it gives their lights: red, flashing yellow, and
 * cyan or steady yellow, so that yellow alone is taken for medium. The other words are common practice, no source.
 */
const PRIORITIES = {
  high: /^(high|hi|h|high priority|priority high|red|urgent|critical|emergency|hoch|h[öo]y|haute?|alta?)$/,
  medium: /^(medium|med|m|medium priority|priority medium|yellow|moderate|mittel|middels|moyenne?|medi[ao])$/,
  low: /^(low|lo|l|low priority|priority low|cyan|minor|niedrig|lav|basse?|baja?|bassa)$/,
} as const;

const SIDES = {
  upper: /^(upper|high|hi|above|over|max|maximum|>=?|≥|↑|\+)$/,
  lower: /^(lower|low|lo|below|under|min|minimum|<=?|≤|↓)$/,
} as const;

/** Names of the trade, several spellings. Common practice, no source. */
const ALARM_COLUMNS = {
  ...WHOSE,
  onset: {
    type: 'time',
    required: true,
    title: 'the onset',
    example: 'Onset',
    names: [
      named(
        'onset|onset time|time of onset|alarm (onset|start|time|begin|began|date ?\\/? ?time|timestamp)|start( time)?( of alarm)?|started( at)?|begin|began|beginn|alarmbeginn|raised( at)?',
      ),
      saysTime,
    ],
    dateNames: (name: string) => saysDate(name) || /^(onset|alarm|start) date$/.test(name),
  },
  parameter: {
    type: 'text',
    title: 'the parameter',
    example: 'Parameter',
    names: [
      named('alarm parameter|parameter|parameter name|param'),
      named('alarm|alarm condition'),
      saysParameter,
    ],
  },
  side: {
    type: 'choice',
    choices: SIDES,
    title: 'the side of the limit',
    example: 'Direction',
    names: [named('direction|side|limit (side|direction|type)|high ?\\/ ?low|upper ?\\/ ?lower')],
  },
  limit: {
    type: 'text',
    hasUnit: true,
    title: 'the limit',
    example: 'Limit (mmHg)',
    names: [
      named(
        'limit|alarm limit|limit value|alarm limit value|limit set|threshold|alarm threshold|grenzwert|grense',
      ),
    ],
  },
  limitUnit: {
    type: 'text',
    title: 'the unit of the limit',
    example: 'Unit',
    names: [(name: string) => saysUnit(name) || name === 'limit unit'],
  },
  priority: {
    type: 'choice',
    choices: PRIORITIES,
    title: 'the priority',
    example: 'Priority',
    names: [
      named(
        'priority|alarm priority|urgency|severity|alarm severity|priorit[äa]t|prioritet|priorit[ée]|prioridad',
      ),
    ],
  },
  acknowledged: {
    type: 'time',
    after: 'onset',
    title: 'the acknowledgement',
    example: 'Acknowledged',
    names: [
      named(
        'ack|acked|ack time|acknowledged?|acknowledged? ?(time|at)|time acknowledged|acknowledge?ment( time)?|time of acknowledge?ment|confirmed( at)?|answered( at)?|quittiert|bekreftet',
      ),
    ],
    dateNames: named('(ack|acknowledged?|acknowledge?ment) date'),
  },
  ended: {
    type: 'time',
    after: 'onset',
    title: 'the end',
    example: 'Ended',
    names: [
      named(
        'end|ended|end time|time of end|ended at|alarm end( time)?|end of alarm|resolved( at)?|cleared( at)?|stop|stopped( at)?|stop time|off|until|ende|slutt|alarmende',
      ),
    ],
    dateNames: named('(end|alarm end|stop) date'),
  },
  message: {
    type: 'text',
    title: 'the message',
    example: 'Message',
    names: [
      named('message|alarm (message|text)|text|description|meldung|melding'),
      named('note|notes|comment|comments'),
    ],
  },
} as const;

const sidesDiffer = (): CellFault =>
  new CellFault(
    'one cell says the upper limit, and another the lower one',
    'Correct the direction, the sign of the limit or the parameter.',
    'conflict',
  );

/** The alarm log. */
export const ALARM_LOG: TableDefinition<typeof ALARM_COLUMNS, AlarmRow> = {
  title: 'an alarm log',
  columns: ALARM_COLUMNS,
  requires: [['patient', 'bed'], ['onset'], ['parameter', 'message']],
  main: 'onset',
  mayRepeat: true,
  maker: (context) => {
    const readLimit = limitReader(context);
    const parameterOf = remembered(alarmParameter);
    return ({
      onset,
      acknowledged,
      ended,
      parameter: cell,
      limit: limitText,
      limitUnit,
      side: said,
      ...row
    }) => {
      const nobody = nobodysRow(row);
      if (nobody) return nobody;
      const name = cell ?? row.message;
      if (name === null) {
        const fix = 'A row without both cannot be used: fill one in.';
        return new CellFault('neither parameter nor message is given', fix);
      }
      const parameter = parameterOf(name);
      const limit = limitText === null ? null : readLimit(limitText, limitUnit, parameter, row.line);
      if (limit instanceof CellFault) return limit;
      const sides = [said, limit?.side, parameter.side].filter((side) => side !== null && side !== undefined);
      if (sides.some((side) => side !== sides[0])) return sidesDiffer();
      return {
        ...row,
        onsetUtcMs: onset,
        parameter,
        limit,
        side: sides[0] ?? null,
        acknowledgedUtcMs: acknowledged,
        endedUtcMs: ended,
      };
    };
  },
  instants: ({ onsetUtcMs, acknowledgedUtcMs, endedUtcMs }) => [onsetUtcMs, acknowledgedUtcMs, endedUtcMs],
  countedAs: ({ parameter: { channel, text } }) =>
    channel === null ? shorten(text) : channel.length === 3 ? channel.toUpperCase() : CHANNEL_NAMES[channel],
};
