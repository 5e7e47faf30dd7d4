import type { JSX } from 'preact';
import type { Targets } from '../../summarize/targets.js';
import { type Row, Table } from '../page/table.js';
import { PerfusionInShort } from '../perfusion/in-short.js';
import type { RecordingResult } from '../results-schema.js';
import { NONE } from '../words.js';
import { type FigureColumn, figureRows, missingReasons } from './figure-rows.js';
import { LevellingNote } from './levelling-note.js';
import { noCppWords } from './no-cpp-words.js';
import type { PatientPageInput } from './patient-page-input.js';

/** The columns side by side: this period, the night before, suspect stretches the other way, and as exported. */
function comparison(
  result: RecordingResult,
  word: string,
  hasOwnRaw: boolean,
): { heads: string[]; columns: FigureColumn[] } {
  const { nightBefore, icpOtherWay, cppOtherWay } = result;
  const heads = [word === 'night' ? 'This night' : 'This period'];
  const columns: FigureColumn[] = [
    { ...result, episodes: result.episodesReason === null ? result.episodes.length : null },
  ];
  if (nightBefore) {
    heads.push('The night before');
    columns.push(nightBefore);
  }
  if (icpOtherWay && cppOtherWay) {
    heads.push('Suspect stretches the other way');
    columns.push({ icp: icpOtherWay, cpp: cppOtherWay });
  }
  if (hasOwnRaw) {
    heads.push('As exported');
    columns.push({ icp: result.icpRaw, cpp: result.cppRaw });
  }
  return { heads, columns };
}

/** What a dash in the table stands for. */
function Missing({ of }: { of: Parameters<typeof missingReasons>[0] }): JSX.Element | null {
  const reasons = missingReasons(of);
  return reasons.length === 0 ? null : (
    <p class="small">
      {NONE} means: {reasons.join('; ')}.
    </p>
  );
}

const FigureTable = ({ heads, rows }: { heads: readonly string[]; rows: readonly Row[] }): JSX.Element => (
  <Table columns={[{ head: 'Figure' }, ...heads.map((head) => ({ head, number: true }))]} rows={rows} />
);

/** True where each figure of the period prints the same cleaned and as exported. */
function printsAsExported(result: RecordingResult, targets: Targets): boolean {
  const { icp, cpp, icpRaw, cppRaw, decimals } = result;
  const columns = [
    { icp, cpp },
    { icp: icpRaw, cpp: cppRaw },
  ];
  const rows = figureRows(columns, targets, decimals);
  return [...rows.icp, ...rows.cpp].every(({ cells: [, cleaned, raw] }) => cleaned === raw);
}

/** All figures of ICP, and then of perfusion. */
export function FiguresSection({ result, period, targets }: PatientPageInput): JSX.Element {
  // Where nothing was cleaned the figures are those as exported; and so they are where cleaning took nothing that counts.
  const isRawSame = printsAsExported(result, targets);
  const { heads, columns } = comparison(result, period.word, !result.cleaning.isOff && !isRawSame);
  const { icp, cpp } = figureRows(columns, targets, result.decimals);
  return (
    <>
      <section>
        <h2>ICP in figures</h2>
        <FigureTable heads={heads} rows={icp} />
        <Missing of={columns.map((column) => column.icp)} />
        {!result.cleaning.isOff && isRawSame && (
          <p class="small">
            As exported, all of these figures print the same{cpp.length > 0 ? ', and so do those of CPP' : ''}
            .
          </p>
        )}
        {!result.nightBefore && period.word === 'night' && (
          <p class="small">There are no data of the night before.</p>
        )}
      </section>
      <section>
        <h2>Perfusion</h2>
        {cpp.length === 0 ? (
          <p>CPP is not known: {noCppWords(result)}.</p>
        ) : (
          <FigureTable heads={heads} rows={cpp} />
        )}
        {cpp.length > 0 && <LevellingNote result={result} isInDetail />}
        {result.mapDerivedFrom !== null && (
          <p class="small">
            The export holds no MAP: it is derived from systolic and diastolic pressure, and CPP rests on it.
          </p>
        )}
        {cpp.length > 0 && <Missing of={columns.map((column) => column.cpp)} />}
        <PerfusionInShort result={result} />
      </section>
    </>
  );
}
