import { RULES } from '../../../src/clean/rules.js';
import { watchOf } from '../../../src/clean/watch.js';
import { type Ingested, ingestGroup } from '../../../src/ingest/ingest.js';
import type { IngestSettings } from '../../../src/ingest/settings.js';
import type { Watch } from '../../../src/recording/waveform.js';
import { settingsWith } from '../support.js';

/** Every rule with its usual parameters. */
export const USUAL_RULES = Object.fromEntries(
  RULES.map(({ name, parameters }) => [name, parameters.parse({}) as object]),
);
export const usualWatch = watchOf(USUAL_RULES);

/** How files are handed over. */
export interface Handing {
  readonly settings?: Partial<IngestSettings>;
  readonly watch?: Watch;
  /** Bytes in each chunk that a file comes in; all at once where left out. */
  readonly chunkBytes?: number;
}

/** Reads files of one patient, by name. */
export async function ingestWaves(
  files: Readonly<Record<string, string | Uint8Array>>,
  { settings = {}, watch = usualWatch, chunkBytes = Number.POSITIVE_INFINITY }: Handing = {},
): Promise<Ingested> {
  const exports = Object.entries(files).map(([name, content]) => {
    const bytes = Buffer.from(content as string);
    async function* chunks(): AsyncGenerator<Uint8Array> {
      const size = Math.min(chunkBytes, Math.max(1, bytes.length));
      for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
    }
    return { name, path: name, open: chunks };
  });
  const group = { id: '007', files: exports };
  const [outcome] = await ingestGroup(group, settingsWith(settings), undefined, watch);
  return outcome;
}

/** Reads one file, `a.csv`. */
export const ingestWave = (content: string | Uint8Array, handing: Handing = {}): Promise<Ingested> =>
  ingestWaves({ 'a.csv': content }, handing);
