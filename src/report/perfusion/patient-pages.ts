import { cppStripSpec } from '../charts/sparkline.js';
import type { DrawPages } from '../patient-report.js';
import { coursesOf } from './courses.js';
import { drawPerfusion } from './page-drawings.js';
import { perfusionPage } from './patient-page.js';

/** The page of perfusion of a patient, and the strip of CPP for the unit. */
export const perfusionPages: DrawPages = async ({ names, page, from }, draw) => {
  const strip = cppStripSpec(from.period, from.summary.signals.cpp, from.targets.cppFloorMmHg);
  const [drawings, stripSvg] = await Promise.all([
    drawPerfusion(from, page.result, coursesOf(from.perfusion), draw),
    draw(strip, `strip-${names.morning.replace(/\.html$/, '')}`),
  ]);
  return {
    files: [{ name: names.morning, html: perfusionPage({ ...page, drawings }) }],
    strip: stripSvg,
  };
};
