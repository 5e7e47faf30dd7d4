import type { JSX } from 'preact';
import { Table } from '../page/table.js';
import type { PerfusionResult } from '../results-perfusion.js';
import type { RecordingResult } from '../results-schema.js';
import { counted, duration, fromTo, pressure, share, timesOf } from '../words.js';

/** So many plateau waves are listed; tables and results.json have all. */
const MOST_WAVES = 12;

/** Plateau waves in a sentence. */
export function plateauWords(perfusion: PerfusionResult): string {
  const { plateauWaves, plateauWavesReason, plateauWavesCut } = perfusion;
  if (plateauWavesReason !== undefined) return `Plateau waves cannot be told: ${plateauWavesReason}.`;
  const seen = counted(plateauWaves.length, 'plateau wave');
  if (plateauWavesCut > 0) {
    return `${seen} seen from beginning to end: ICP at 50 mmHg or more for 5 to 20 min. ${plateauWavesCut} more cut off by missing data: they may have been longer.`;
  }
  return plateauWaves.length === 0
    ? 'No plateau wave: ICP was never at 50 mmHg or more for 5 to 20 min.'
    : `${seen}: ICP at 50 mmHg or more for 5 to 20 min.`;
}

/** B waves in a sentence. */
export function bWaveWords({ bWaves }: PerfusionResult): string {
  const { share: part, windows, windowsWith } = bWaves;
  if (part === null) return `B waves cannot be told: ${bWaves.shareReason}.`;
  return windowsWith === 0
    ? `No B waves in ${counted(windows, 'window')} of 10 min.`
    : `B waves in ${windowsWith ?? 0} of ${counted(windows, 'window')} of 10 min (${share(part)}).`;
}

/** Plateau waves one by one, and how often there were B waves. */
export function WavesSection({
  result,
  perfusion,
}: {
  result: RecordingResult;
  perfusion: PerfusionResult;
}): JSX.Element {
  const at = timesOf(result.period);
  const shown = perfusion.plateauWaves
    .toSorted((a, b) => b.minutes - a.minutes || Date.parse(a.start) - Date.parse(b.start))
    .slice(0, MOST_WAVES)
    .sort((a, b) => Date.parse(a.start) - Date.parse(b.start));
  const rest = perfusion.plateauWaves.length - shown.length;
  return (
    <section>
      <h2>Waves of ICP</h2>
      <p>
        {plateauWords(perfusion)} {bWaveWords(perfusion)}
      </p>
      {shown.length > 0 && (
        <Table
          caption={rest > 0 ? `The ${shown.length} longest; results.json has all.` : undefined}
          columns={[
            { head: 'Plateau wave' },
            { head: 'Length', number: true },
            { head: 'Mean ICP, mmHg', number: true },
            { head: 'Highest ICP, mmHg', number: true },
          ]}
          rows={shown.map((wave) => ({
            key: wave.start,
            cells: [
              fromTo(wave, at),
              duration(wave.minutes / 60),
              pressure(wave.meanMmHg, result.decimals.icp),
              pressure(wave.highestMmHg, result.decimals.icp),
            ],
          }))}
        />
      )}
    </section>
  );
}
