import { Problem, shorten } from '../../recording/problem.js';
import { saysBed, saysPatient } from '../columns/channel-names.js';
import { headerWords } from '../columns/header-words.js';
import type { CsvRecord } from '../text/parse-records.js';
import { saysStart } from '../time/start-time.js';
import { type FirstNamed, namePatient } from './one-patient.js';

/** A line above the data or between them that says something, such as `Patient: 7` or `Start;2031-02-11 19:00`. */
function remarkIn(cells: readonly string[]): { key: string; value: string } | null {
  const [first = '', ...others] = cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
  const apart = /^([^:=]+)\s*[:=]\s*(.*)$/.exec(first);
  const key = (apart?.[1] ?? first).trim();
  const value = [apart?.[2] ?? '', ...others].filter((text) => text !== '').join(' ');
  return value === '' ? null : { key, value };
}

/**
 * Watches what lines without a time say of patient and start. Where exports were joined one behind the other, the lines
 * above the second header may name somebody else.
 */
export class Remarks {
  private start: { readonly value: string; readonly line: number } | null = null;

  constructor(
    private readonly file: string,
    /** True where all rows are one patient's. */
    private readonly isOnePatient: boolean,
    private readonly first: FirstNamed,
  ) {}

  /** @throws Problem where the line names another patient or start than one before */
  take({ cells, line }: CsvRecord): void {
    const remark = remarkIn(cells);
    if (!remark) return;
    const { key, value } = remark;
    const { name } = headerWords(key);
    if (saysPatient(name) || saysBed(name)) {
      if (!this.isOnePatient) return;
      namePatient(this.first, { key: `line ${name}`, column: key, value, file: this.file, line });
    }
    if (!saysStart(key)) return;
    this.start ??= { value, line };
    if (this.start.value === value) return;
    throw new Problem(
      `another start is given here, "${shorten(value)}", than in line ${this.start.line}, "${shorten(this.start.value)}"`,
      'Two exports seem to be joined: split the file here.',
      { line },
    );
  }
}
