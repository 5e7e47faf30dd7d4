import { readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { namesIn } from './names-in.js';
import type { Share } from './shares.js';

const record = z.strictObject({
  shard: z.number().int().positive(),
  of: z.number().int().positive(),
  /** The identity of the program, and what people know it by. */
  program: z.string(),
  version: z.string(),
  node: z.string(),
  /** Of the settings and logs. */
  settings: z.string(),
  groups: z.number().int().nonnegative(),
  /** Files of groups whose result could not be kept, since the reason may pass. */
  notKept: z.array(z.strictObject({ file: z.string(), why: z.string() })),
});

/** What a shard says of itself once it is done. */
export type ShardRecord = z.infer<typeof record>;

/** Where records stand, and what marks those that are half written. */
interface Place {
  readonly folder: string;
  readonly token: string;
}

/** `shard-3-of-8.json`, or with the run's token while it is being written. */
export const SHARD_RECORD = /^shard-\d+-of-\d+\.json(?:\.(\d+-[0-9a-f]+)\.part)?$/;

const nameOf = ({ number, of }: Share): string => `shard-${number}-of-${of}.json`;

/** Writes the record of a shard in one step. Errors of the system pass through. */
export async function writeShardRecord({ folder, token }: Place, one: ShardRecord): Promise<void> {
  const path = join(folder, nameOf({ number: one.shard, of: one.of }));
  const half = `${path}.${token}.part`;
  try {
    await writeFile(half, `${JSON.stringify(one, null, 2)}\n`, { mode: 0o600 });
    await rename(half, path);
  } catch (error) {
    await rm(half, { force: true });
    throw error;
  }
}

/** Takes back what an earlier run of the shard said, since it is run again. */
export const dropShardRecord = ({ folder }: Pick<Place, 'folder'>, share: Share): Promise<void> =>
  rm(join(folder, nameOf(share)), { force: true });

/** The records of a store; what cannot be read is none. */
export async function shardRecords(folder: string): Promise<ShardRecord[]> {
  const names = (await namesIn(folder)).filter((name) => SHARD_RECORD.test(name) && name.endsWith('.json'));
  const records = await Promise.all(
    names.sort().map(async (name) => {
      try {
        return [record.parse(JSON.parse(await readFile(join(folder, name), 'utf8')))];
      } catch {
        return [];
      }
    }),
  );
  return records.flat();
}
