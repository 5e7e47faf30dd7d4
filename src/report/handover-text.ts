import { absentHandover } from './handover.js';
import type { UnitResults } from './results-schema.js';
import { oneLine } from './visible-text.js';
import { span } from './words.js';

/** handover.txt: all patients in the order of the unit page, a paragraph each. */
export function handoverText({ pipeline, period, unit, recordings, noData, failed }: UnitResults): string {
  const paragraphs = unit.order.map((id) => {
    const recording = recordings.find((one) => one.id === id);
    if (recording) return recording.handover;
    const unread = failed.find((one) => one.id === id);
    return unread
      ? absentHandover(id, 'exports not read', unread.why)
      : absentHandover(id, 'no data', noData.find((one) => one.id === id)?.why ?? 'no data');
  });
  const head = [`${pipeline.title}: ${span(period.start, period.end)} (${period.timezone})`, unit.sentence];
  return `${[head.map(oneLine), ...paragraphs].map((lines) => lines.join('\n')).join('\n\n')}\n`;
}
