import type { JSX } from 'preact';
import { bandName } from '../morning/figure-rows.js';
import { noCppWords } from '../morning/no-cpp-words.js';
import { Table } from '../page/table.js';
import type { RecordingResult } from '../results-schema.js';
import { dose, duration, NONE, pressure, share } from '../words.js';
import { LowCppEpisodes } from './low-cpp-section.js';
import { hasOwnTarget, targetName, whichIsWhich } from './own-target.js';

/** Hours of CPP in each of its bands, with their share of the time over which it is known. */
export function BandTable({ result }: { result: RecordingResult }): JSX.Element {
  const { bands } = result.cpp;
  const known = result.monitoredHours.cpp;
  return (
    <Table
      columns={[{ head: 'Band, mmHg' }, { head: 'Time', number: true }, { head: 'Share', number: true }]}
      rows={bands.map((band, i) => ({
        key: `${band.fromMmHg}`,
        cells: [
          bandName(band, i === bands.length - 2),
          duration(band.hours),
          band.hours === null || known === 0 ? NONE : share(band.hours / known),
        ],
      }))}
    />
  );
}

/** How long and how far CPP was below its floor, its lowest band, and its target where that is another value. */
export function BelowTable({ result }: { result: RecordingResult }): JSX.Element {
  const { perfusion, lowCpp } = result;
  const rowOf = (name: string, hours: number | null, doseMmHgHours: number | null) => ({
    key: name,
    cells: [name, duration(hours), dose(doseMmHgHours)],
  });
  return (
    <Table
      columns={[
        { head: 'Below, mmHg' },
        { head: 'Time', number: true },
        { head: 'Dose, mmHg·h', number: true },
      ]}
      rows={[
        ...perfusion.below.map(({ belowMmHg, hours, doseMmHgHours }) =>
          rowOf(`CPP below ${belowMmHg}`, hours, doseMmHgHours),
        ),
        ...(hasOwnTarget(result)
          ? [rowOf(`Below ${targetName(result)}`, lowCpp.hours, lowCpp.doseMmHgHours)]
          : []),
      ]}
    />
  );
}

/** CPP in its bands and below them; where it is not known, why. */
export function CppSection({ result }: { result: RecordingResult }): JSX.Element {
  const { cpp, decimals, monitoredHours } = result;
  return (
    <section>
      <h2>CPP: how low, and how long</h2>
      {cpp.meanMmHg === null ? (
        <p>
          {monitoredHours.cpp > 0
            ? `CPP cannot be summed up: ${cpp.meanMmHgReason}.`
            : `CPP is not known: ${noCppWords(result)}.`}
        </p>
      ) : (
        <>
          <p>
            CPP is known for {duration(monitoredHours.cpp)}: mean {pressure(cpp.meanMmHg, decimals.cpp)} mmHg,
            lowest 5-min mean {pressure(cpp.lowest5MinMmHg, decimals.cpp)} mmHg. The dose is the area between
            CPP and the value that it is below.
          </p>
          <div class="beside-each-other">
            <BandTable result={result} />
            <BelowTable result={result} />
          </div>
          {hasOwnTarget(result) && <p class="small">{whichIsWhich(result)}</p>}
          <LowCppEpisodes result={result} />
        </>
      )}
    </section>
  );
}
