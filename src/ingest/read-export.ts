import { Problem, shorten } from '../recording/problem.js';
import type { Watch } from '../recording/waveform.js';
import type { ZoneClock } from '../recording/zone.js';
import { saysAlarm, saysCuff } from './columns/channel-names.js';
import type { Columns } from './columns/columns.js';
import { headerScorer } from './columns/header-score.js';
import { headerWords } from './columns/header-words.js';
import { parameterReader } from './columns/parameter-reader.js';
import { recogniseColumns } from './columns/recognise-columns.js';
import type { ExportFile } from './find-exports.js';
import { missingMarks, missingNumbers, NumberReader } from './rows/number-reader.js';
import { type FirstNamed, onePatientOnly } from './rows/one-patient.js';
import { type FileReading, PatientRows } from './rows/patient-rows.js';
import { PlainRows } from './rows/plain-rows.js';
import { Remarks } from './rows/remarks.js';
import { type DateOrder, type IngestSettings, timeChoice } from './settings.js';
import { headerAgain, sameCells } from './text/header-again.js';
import { CERTAIN, findLayout, fitted, isUnitsRow, type Layout, withoutBrackets } from './text/layout.js';
import type { CsvRecord } from './text/parse-records.js';
import { fileBytes } from './text/read-bytes.js';
import { type Lane, type RecordVisitor, readRecords, type TextIdentity } from './text/read-records.js';
import { splitTime } from './time/calendar.js';
import { DayOrderSurvey } from './time/day-order.js';
import { startInPreamble, startOf } from './time/start-time.js';
import { chosenStart, type TimeReader, timeReader, timeText } from './time/time-cell.js';
import { coarseTimes, planTimes, type StartFrom, type TimePlan } from './time/time-plan.js';
import {
  intervalOfWaveform,
  refuseLongWaveform,
  type WaveformPlan,
  waveformPlan,
} from './waveform/waveform-plan.js';

/** One export file as it was understood. */
export interface ExportTable extends TextIdentity {
  readonly file: string;
  readonly layout: Layout;
  readonly columns: Columns;
  readonly plan: TimePlan;
  /** The decimal mark, where a number had one. */
  readonly decimal: '.' | ',' | null;
  /** What somebody should know of the file, in plain words. */
  /** Null where the rows are no waveform. */
  readonly waveform: WaveformPlan | null;
  readonly warnings: readonly string[];
  /** By patient. */
  readonly patients: ReadonlyMap<string, PatientRows>;
}

/** Everything that is settled before the first row of data is read. */
interface Understood {
  readonly layout: Layout;
  readonly columns: Columns;
  readonly plan: TimePlan;
  /** Null where the rows are no waveform. */
  readonly waveform: WaveformPlan | null;
  readonly warnings: string[];
}

/** What was understood of a file, as far as it went; for explaining a file that cannot be used. */
export interface Seen {
  layout?: Layout;
  columns?: Columns;
  plan?: TimePlan;
}

function understand(head: string, settings: IngestSettings, note: Seen): Understood {
  const layout = findLayout(head, headerScorer(settings));
  note.layout = layout;
  const { headers, unitsRow, headerLine, samples, preamble } = layout;
  if (headers.length === 0) throw new Problem('the file is empty', 'Export it again.');
  try {
    const columnsOf = (isWaveform: boolean): Columns =>
      withoutSpareDate(recogniseColumns(withGroups(layout), settings, unitsRow, isWaveform), layout);
    const numeric = columnsOf(false);
    note.columns = numeric;
    const texts = samples
      .map(({ cells }) => fitted(cells, headers))
      .filter((cells) => cells.length === headers.length)
      .map((cells) => timeText(cells, numeric.time))
      .filter((text) => text !== '' && /\d/.test(text));
    const choice = timeChoice(settings.columns);
    const startFrom = startPlace(choice.start !== undefined, preamble, settings);
    const plan = planTimes(texts, numeric.time, choice, startFrom, headers[numeric.time.index]);
    note.plan = plan;
    refuseLongWaveform(layout, numeric, plan);
    const intervalMs = intervalOfWaveform(layout, numeric, plan);
    const columns = intervalMs === null ? numeric : columnsOf(true);
    note.columns = columns;
    const waveform = intervalMs === null ? null : waveformPlan(intervalMs, layout, columns);
    const warnings = [
      ...columns.warnings,
      ...coarseTimes(texts, plan),
      ...orderContradicted(choice.order, columns.time.order),
      ...titleOfAlarms(layout),
    ];
    return { layout, columns, plan, waveform, warnings };
  } catch (error) {
    throw error instanceof Problem ? error.at({ line: headerLine }) : error;
  }
}

const orderContradicted = (chosen: DateOrder | undefined, stated: DateOrder | null): string[] =>
  chosen !== undefined && stated !== null && chosen !== stated
    ? [
        'the dates are read as the pipeline file says, though the header states the other order of day and month.',
      ]
    : [];

/** A title over the first column may say that all below are limits. */
function titleOfAlarms({ headerLine, preamble }: Layout): string[] {
  const above = preamble.at(-1);
  const title = above?.line === headerLine - 1 ? (above.cells[0]?.trim() ?? '') : '';
  return saysAlarm(headerWords(title).name)
    ? [`the line above the header says "${shorten(title)}": look whether the columns hold measured values.`]
    : [];
}

/** Headers under a row of groups that says cuff or alarm: what stands there is no arterial pressure, and no value. */
function withGroups({ headers, headerLine, preamble }: Layout): readonly string[] {
  const above = preamble.at(-1);
  if (above?.line !== headerLine - 1 || above.cells.length !== headers.length) return headers;
  let group = '';
  return headers.map((header, i) => {
    // What stands over the first column is a title.
    if (i > 0 && above.cells[i].trim() !== '') group = above.cells[i].trim();
    const { name } = headerWords(group);
    return saysCuff(name) || saysAlarm(name) ? `${group} ${header}` : header;
  });
}

function startPlace(isGiven: boolean, preamble: readonly CsvRecord[], settings: IngestSettings): StartFrom {
  if (isGiven) return 'the pipeline file';
  return startInPreamble(preamble, settings) === null ? null : 'the lines above the header';
}

/** Reads only the first lines of a file; what goes wrong is for the reading to tell. */
export async function peekExport(file: ExportFile, settings: IngestSettings): Promise<Seen> {
  const note: Seen = {};
  try {
    await readRecords(file.open ?? fileBytes(file.path), (head) => {
      const { layout } = understand(head, settings, note);
      return { delimiter: layout.delimiter, visit: () => false };
    });
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
  }
  return note;
}

/** A date column beside one that holds whole times is not needed. */
function withoutSpareDate(columns: Columns, { headers, samples }: Layout): Columns {
  const { time, leftAlone } = columns;
  if (time.date === null) return columns;
  const cell = samples.map(({ cells }) => cells[time.index]?.trim() ?? '').find((text) => text !== '');
  const [date, clock] = splitTime(cell ?? '');
  if (date === '' || clock === '') return columns;
  const spare = { header: headers[time.date], why: 'the time column holds the date as well' };
  return { ...columns, time: { ...time, date: null }, leftAlone: [...leftAlone, spare] };
}

/**
 * Reads a column of dates whole, for the one row that settles day and month.
 *
 * @throws Problem with both readings where none does
 */
async function settleDayOrder(
  file: ExportFile,
  settings: IngestSettings,
  { plan, columns, layout }: Understood,
): Promise<TimePlan> {
  const survey = new DayOrderSurvey();
  await readRecords(file.open ?? fileBytes(file.path), (head) => ({
    delimiter: findLayout(head, headerScorer(settings)).delimiter,
    visit: ({ cells, line }) => {
      const row = fitted(cells, layout.headers);
      const isData = line >= layout.dataLine && row.length === layout.headers.length;
      return !(isData && survey.add(timeText(row, columns.time), line));
    },
  }));
  const { settled } = survey;
  if (!settled) {
    if (survey.isSameEitherWay) return { ...plan, needsWholeColumn: false, why: 'the same either way' };
    throw survey.unsettled(layout.headers[columns.time.index]);
  }
  const first = settled.order === 'dayFirst' ? 'day' : 'month';
  const why = `${first} first, since line ${settled.line} holds ${settled.text}`;
  return { ...plan, order: settled.order, separator: survey.separator, needsWholeColumn: false, why };
}

/**
 * Reads one export.
 *
 * @param idOf the patient of all rows of the file, or null where a column names it
 * @param note filled with what was understood, also where the file cannot be used
 * @param patients filled by patient; holds the rows that were read where the file breaks off
 * @param first who was named first, over all files of one patient
 * @param watch looks at each sample of a waveform
 * @throws Problem where the file as a whole cannot be used; a bad row is kept with its patient's rows
 */
export async function readExport(
  file: ExportFile,
  settings: IngestSettings,
  clock: ZoneClock,
  idOf: string | null,
  patients = new Map<string, PatientRows>(),
  note: Seen = {},
  first: FirstNamed = new Map(),
  watch: Watch = () => [],
): Promise<ExportTable> {
  const { name } = file;
  try {
    const open = file.open ?? fileBytes(file.path);
    let understood: Understood | null = null;
    let needsOrder = false;
    const numbers = new NumberReader();
    const offsets = { bare: 0, stated: 0, different: new Set<number>() };
    const read = (order: TimePlan | null): ReturnType<typeof readRecords> =>
      readRecords(open, (head) => {
        const seen = understand(head, settings, note);
        understood = order ? { ...seen, plan: order } : seen;
        needsOrder = understood.plan.needsWholeColumn;
        const visit = needsOrder
          ? { visit: () => false }
          : rowTakers(name, understood, {
              settings,
              clock,
              idOf,
              patients,
              numbers,
              first,
              offsets,
              watch,
            });
        return { delimiter: seen.layout.delimiter, ...visit };
      });
    let identity = await read(null);
    if (needsOrder && understood) identity = await read(await settleDayOrder(file, settings, understood));
    if (!identity || !understood) throw new Problem('the file is empty', 'Export it again.');
    if (patients.size === 0) throw new Problem('the file has a header and no rows', 'Export it again.');
    for (const rows of patients.values()) rows.finish();
    const { layout, columns, plan, waveform, warnings } = understood as Understood;
    return {
      ...identity,
      file: name,
      layout,
      columns,
      plan,
      waveform,
      decimal: numbers.decimal?.mark ?? null,
      warnings: [...warnings, ...mixedOffsets(offsets)],
      patients,
    };
  } catch (error) {
    throw error instanceof Problem ? error.at({ file: name }) : error;
  }
}

const mixedOffsets = ({ bare, stated }: FileReading['offsets']): string[] =>
  bare > 0 && stated > 0
    ? [`${stated} times carry an offset and ${bare} do not, which were taken as local time.`]
    : [];

interface Reading {
  readonly first: FirstNamed;
  readonly offsets: FileReading['offsets'];
  readonly settings: IngestSettings;
  readonly clock: ZoneClock;
  readonly idOf: string | null;
  readonly patients: Map<string, PatientRows>;
  readonly numbers: NumberReader;
  readonly watch: Watch;
}

/** Hands each row of data to its patient; plain ones by a lane of their own, where the file allows it. */
function rowTakers(
  file: string,
  { layout, columns, plan, waveform, warnings }: Understood,
  { settings, clock, idOf, patients, numbers, first, offsets, watch }: Reading,
): { visit: RecordVisitor; lane: Lane | null } {
  const { headers, dataLine, unitsRow } = layout;
  const checkIdentity = onePatientOnly(file, columns, headers, first);
  const remarks = new Remarks(file, idOf !== null, first);
  for (const record of layout.preamble) remarks.take(record);
  const reading: FileReading = {
    file,
    headers,
    columns,
    plan,
    clock,
    numbers,
    isMissing: missingMarks(settings.missing),
    offsets,
    nameless: namelessBehindChannels(layout, columns),
    waveform: waveform && { plan: waveform, watch },
    parameter: columns.long ? parameterReader(columns.long, settings, warnings) : () => ({ why: '' }),
  };
  const choice = timeChoice(settings.columns);
  const fromPreamble = startInPreamble(layout.preamble, settings);
  const readerFor = (id: string): TimeReader => {
    if (plan.form !== 'elapsed') return timeReader(plan, null);
    try {
      const start = chosenStart(choice, id) ?? fromPreamble;
      return timeReader(plan, startOf(start, id, clock, choice.order, warnings));
    } catch (error) {
      // A patient without a start fails alone.
      return () => {
        throw error;
      };
    }
  };
  const rowsOf = (id: string): PatientRows => {
    const known = patients.get(id);
    if (known) return known;
    const rows = new PatientRows(reading, readerFor(id));
    patients.set(id, rows);
    return rows;
  };
  const score = headerScorer(settings);
  const mayTrim = isNamedLast(headers, columns);
  const mayBePlain =
    idOf !== null &&
    columns.long === null &&
    columns.time.date === null &&
    columns.identities.length === 0 &&
    reading.nameless.length === 0 &&
    settings.hasLane !== false;
  const lane = mayBePlain
    ? new PlainRows({
        headers,
        columns,
        delimiter: layout.delimiter,
        plan,
        dataLine,
        numbers,
        missingNumbers: missingNumbers(settings.missing),
        rows: () => rowsOf(idOf),
      })
    : null;
  const visit: RecordVisitor = ({ cells: written, line }) => {
    if (line < dataLine) return true;
    const cells = mayTrim || written.length < headers.length ? fitted(written, headers) : written;
    const time = cells[columns.time.index]?.trim() ?? '';
    const isWhole = cells.length === headers.length;
    // Only where no time stands: this is asked for each row.
    if (!/^[\d+-]/.test(time)) {
      const isHeader = sameCells(cells, headers);
      const isUnits = unitsRow !== null && sameCells(cells.map(withoutBrackets), unitsRow);
      const isOtherUnits = !isUnits && isUnitsRow({ cells, line }, headers);
      // Behind another header the columns may stand in another order or unit, for all patients of the file.
      if (isOtherUnits || (!isHeader && score(cells) >= CERTAIN)) throw headerAgain(line);
      if (isHeader || isUnits) {
        rowsOf(idOf ?? [...patients.keys()].at(-1) ?? '').addHeaderAgain(line);
        return true;
      }
      remarks.take({ cells, line });
    }
    if (isWhole && /\d/.test(time)) checkIdentity(cells, line);
    // In a row of another width the patient may stand elsewhere.
    rowsOf(idOf ?? (isWhole ? (cells[columns.patient ?? -1]?.trim() ?? '') : '')).add(cells, line);
    return true;
  };
  return { visit, lane };
}

/** Columns without a name right of a channel in a file that is parted by commas. */
const namelessBehindChannels = ({ headers, delimiter }: Layout, { channels }: Columns): number[] =>
  delimiter !== ','
    ? []
    : headers.flatMap((header, i) =>
        header === '' && channels.some(({ index }) => index === i - 1) ? [i] : [],
      );

/** True where the last named column is read, so that it cannot hide the second half of a decimal comma. */
function isNamedLast(headers: readonly string[], { time, patient, channels, long }: Columns): boolean {
  const last = headers.findLastIndex((header) => header !== '');
  const read = [time.index, time.date, patient, long?.parameter, long?.value, long?.unit];
  return read.includes(last) || channels.some(({ index }) => index === last);
}
