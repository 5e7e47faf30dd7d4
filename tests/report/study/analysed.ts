import type { JSX } from 'preact';
import { renderToStaticMarkup } from 'preact-render-to-string';
import type { StudyResult } from '../../../src/report/results-study.js';
import { askedResult } from '../../../src/report/study/asked-result.js';
import { featuresResult } from '../../../src/report/study/features-result.js';
import { flowResult } from '../../../src/report/study/flow-result.js';
import { looksResult } from '../../../src/report/study/looks-result.js';
import { wordsResult } from '../../../src/report/study/words-result.js';
import {
  type FeatureAnalysis,
  featureAnalyses,
} from '../../../src/summarize/study/analysis/feature-analysis.js';
import type { StudyCohort, StudyMember } from '../../../src/summarize/study/study-cohort.js';
import { type InventedStudy, inventedStudy } from '../../support/invented-study.js';

/** A cohort, its analysis, and what of it stands in results. */
export interface Analysed extends Pick<StudyResult, 'asked' | 'features' | 'flow' | 'looks' | 'words'> {
  readonly cohort: StudyCohort;
  readonly analyses: readonly FeatureAnalysis[];
  readonly outcome: Pick<StudyResult['outcome'], 'counts' | 'words' | 'levels'>;
}

export function analysed(given: InventedStudy): Analysed {
  const cohort = inventedStudy(given);
  const { groups, settings, adjusters } = cohort;
  const analyses = featureAnalyses(groups, settings.chosen, adjusters);
  return {
    cohort,
    analyses,
    asked: askedResult(cohort),
    features: featuresResult(cohort, analyses),
    flow: flowResult(cohort),
    looks: looksResult(cohort, analyses),
    words: wordsResult(cohort, analyses),
    outcome: {
      counts: { ...groups.counts },
      words: { ...groups.words },
      levels: groups.levels.map((level) => ({ ...level })),
    },
  };
}

/** Gives each patient with a row and features of the primary window another outcome. */
export const withGose =
  (gose: (meanMmHg: number, place: number) => number) =>
  (member: StudyMember, place: number): StudyMember => {
    const window = member.study?.rows.find(({ kind }) => kind === 'primary')?.window;
    const mean = window && !('reason' in window) ? window.features.icpMeanMmHg : null;
    return member.row === null || typeof mean !== 'number'
      ? member
      : { ...member, row: { ...member.row, outcome: { scale: 'gose', value: gose(mean, place) } } };
  };

const plain = (html: string): string =>
  html
    .replace(/<[^>]*>/g, ' ')
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&amp;/g, '&')
    .replace(/&#39;/g, "'")
    .replace(/\s+/g, ' ')
    .trim();

/** What a reader reads, without drawings. */
export const textOf = (element: JSX.Element | null): string =>
  element === null ? '' : plain(renderToStaticMarkup(element).replace(/<svg.*?<\/svg>/gs, ' '));

/** The lines of each cell, by row, of the table whose caption begins so; remarks below rows are left out. */
export function rowsOf(element: JSX.Element | null, caption: string): string[][][] {
  const html = element === null ? '' : renderToStaticMarkup(element);
  const tables = html.match(/<table.*?<\/table>/gs) ?? [];
  const table = tables.find((one) =>
    plain(/<caption>(.*?)<\/caption>/s.exec(one)?.[1] ?? '').startsWith(caption),
  );
  if (table === undefined) throw new Error(`No table "${caption}" among ${tables.length}`);
  const body = table.slice(table.indexOf('<tbody>'));
  return (body.match(/<tr.*?<\/tr>/gs) ?? [])
    .filter((row) => !row.includes('note-row'))
    .map((row) =>
      (row.match(/<t[hd][ >].*?<\/t[hd]>/gs) ?? []).map((cell) => cell.split(/<br\/?>/).map(plain)),
    );
}
