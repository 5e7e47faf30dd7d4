import { rawSignal } from '../../recording/recording.js';
import { sparklineSpec } from '../charts/sparkline.js';
import type { DrawPages } from '../patient-report.js';
import { detailPage } from './detail-page.js';
import { drawPatient } from './patient-drawings.js';
import { patientPage } from './patient-page.js';

/** The morning page of a patient, the page in detail, and the strip of ICP for the unit. */
export const morningPages: DrawPages = async ({ names, page, from }, draw) => {
  const { recording, summary, period, targets } = from;
  const strip = sparklineSpec({
    period,
    icp: summary.signals.icp,
    rawIcp: rawSignal(recording, 'icp'),
    marks: summary.marks,
    thresholdMmHg: targets.icpThresholdMmHg,
  });
  const [drawings, stripSvg] = await Promise.all([
    drawPatient({ ...from, result: page.result }, draw),
    draw(strip, `strip-${names.morning.replace(/\.html$/, '')}`),
  ]);
  const input = { ...page, drawings };
  return {
    files: [
      { name: names.morning, html: patientPage(input) },
      ...(names.detail === null ? [] : [{ name: names.detail, html: detailPage(input) }]),
    ],
    strip: stripSvg,
  };
};
