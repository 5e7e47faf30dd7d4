import type { Row } from './page/table.js';
import type { UnitRecording, UnitResults } from './results-schema.js';
import { NONE } from './words.js';

/** The row of a patient without figures: what stands there for them, and why. */
const absentRow = (id: string, what: string, why: string, figures: number): Row => ({
  key: id,
  kind: 'cannot',
  cells: [id, what, ...Array.from({ length: figures }, () => NONE)],
  note: (
    <>
      <strong>Cannot say:</strong> {why.replace(/\.$/, '')}.
    </>
  ),
});

/**
 * A row a patient in the order of the unit: also of those who could not be read or have no data.
 *
 * @param figures columns behind the patient and the strip
 */
export function unitRows(
  { unit, recordings, failed, noData }: UnitResults,
  rowOf: (recording: UnitRecording) => Row,
  figures: number,
): Row[] {
  return unit.order.map((id) => {
    const recording = recordings.find((one) => one.id === id);
    if (recording) return rowOf(recording);
    const unread = failed.find((one) => one.id === id);
    return unread
      ? absentRow(id, 'not read', unread.why, figures)
      : absentRow(id, 'no data', noData.find((one) => one.id === id)?.why ?? 'no data', figures);
  });
}
