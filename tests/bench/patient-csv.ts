import type { Patient } from './patient.js';

const HEADER = 'Time,ICP (mmHg),ABP mean (mmHg)\n';
const LONGEST_ROW = 48;
const [ZERO, POINT, COMMA, COLON, MINUS, LINE_FEED] = [...Buffer.from('0.,:-\n')];

/** The patient as an export: whole seconds, values with tenths, 999 as some monitors write what is not connected. */
export function patientCsv({ start, icp, map, hasNoRow }: Patient): Buffer {
  const bytes = Buffer.allocUnsafe(HEADER.length + icp.length * LONGEST_ROW);
  let at = bytes.write(HEADER);
  const digits = (value: number, count: number): void => {
    for (let i = count - 1, rest = value; i >= 0; i--, rest = Math.floor(rest / 10))
      bytes[at + i] = ZERO + (rest % 10);
    at += count;
  };
  const cell = (value: number): void => {
    bytes[at++] = COMMA;
    if (Number.isNaN(value)) return;
    if (value === 999) {
      digits(999, 3);
      return;
    }
    const tenths = Math.round(Math.abs(value) * 10);
    if (value < 0 && tenths > 0) bytes[at++] = MINUS;
    const whole = Math.floor(tenths / 10);
    digits(whole, whole >= 100 ? 3 : whole >= 10 ? 2 : 1);
    bytes[at++] = POINT;
    digits(tenths % 10, 1);
  };
  let day = Number.NaN;
  let date = '';
  for (let s = 0; s < icp.length; s++) {
    if (hasNoRow[s]) continue;
    const time = start / 1000 + s;
    if (Math.floor(time / 86_400) !== day) {
      day = Math.floor(time / 86_400);
      date = `${new Date(day * 86_400_000).toISOString().slice(0, 10)} `;
    }
    at += bytes.write(date, at, 'latin1');
    const second = time % 86_400;
    digits(Math.floor(second / 3600), 2);
    bytes[at++] = COLON;
    digits(Math.floor(second / 60) % 60, 2);
    bytes[at++] = COLON;
    digits(second % 60, 2);
    cell(icp[s]);
    cell(map[s]);
    bytes[at++] = LINE_FEED;
  }
  return bytes.subarray(0, at);
}
