import type { FileGroup } from '../ingest/group-files.js';
import { Problem, shorten } from '../recording/problem.js';
import { counted, listed } from '../report/words.js';
import { VERSION } from '../version.js';
import { type CommandOptions, runCommand, shardCommand } from './shard-command.js';
import type { ShardRecord } from './shard-record.js';
import { shareOut } from './share-out.js';

const MOST_NAMED = 3;
const MOST_COMMANDS = 20;

/** What a merge has found out. */
export interface Merging {
  readonly groups: readonly FileGroup[];
  readonly lacking: readonly FileGroup[];
  readonly records: readonly ShardRecord[];
  /** Of this program, settings and logs. */
  readonly program: string;
  readonly settings: string;
}

/** `1, 3 and 5`; the first of them where they are many. */
const numbersIn = (numbers: readonly number[]): string => {
  const more = numbers.length - MOST_COMMANDS;
  const shown = numbers.slice(0, MOST_COMMANDS).map(String);
  return listed(more > 0 ? [...shown, `${more} more`] : shown);
};

const named = (groups: readonly FileGroup[]): string => {
  const names = groups.map(({ id, files }) => `"${shorten(id ?? files[0].name)}"`);
  const more = names.length - MOST_NAMED;
  return listed(more > 0 ? [...names.slice(0, MOST_NAMED), `${more} more`] : names);
};

/** Why shards did not bring their patients, behind "it" or "they". */
function whyLacking(record: ShardRecord | undefined, { program, settings }: Merging): string {
  if (!record) return 'not come to an end';
  if (record.program !== program) {
    const isOther = record.version !== VERSION || record.node !== process.version;
    const which = isOther
      ? `version ${record.version} on Node ${record.node}`
      : 'of the same version, built anew or with other libraries';
    return `run by another program (${which}) than this merge`;
  }
  if (record.settings !== settings)
    return 'run on another pipeline file, other options or other logs than this merge';
  return 'done, and these files are new or have changed since, or what was stored of them is damaged';
}

/**
 * Into how many shares the patients were shared out: what most shards say, the most shares where several are as many. Those
 * that were run as this merge is are asked first: a trial with other options may have left more of them.
 */
function countOf({ records, program, settings }: Merging): number | null {
  const own = records.filter((one) => one.program === program && one.settings === settings);
  const counts = new Map<number, number>();
  for (const { of } of own.length > 0 ? own : records) counts.set(of, (counts.get(of) ?? 0) + 1);
  const [most] = [...counts].sort(([a, m], [b, n]) => n - m || b - a);
  return most ? most[0] : null;
}

/** What a merge says where the store lacks patients: which shard lacks whom, why, and the commands that mend it. */
export async function lackingProblem(
  given: string,
  options: CommandOptions,
  found: Merging,
): Promise<Problem> {
  const { groups, lacking, records } = found;
  const all = counted(groups.length, 'patient');
  const are = lacking.length === 1 ? 'is' : 'are';
  const of = countOf(found);
  if (of === null) {
    // They may be killed or still at work, or a merge came since, which takes away what shards said of themselves.
    const few =
      lacking.length < groups.length
        ? ` Where only few are lacking, ${runCommand(given, options)} reads them here, and takes the others as they are stored.`
        : '';
    return new Problem(
      `merge: ${lacking.length} of ${all} ${are} not in the store (${named(lacking)}), and no shard has come to its end there`,
      `Run all shards, as ${shardCommand(given, options, { number: 1, of: 8 })}, into the same --out.${few}`,
    );
  }
  const shares = await shareOut(groups, of);
  // Sets and lists that grow: all of a hundred thousand patients may be lacking.
  const isLacking = new Set(lacking);
  const byShard = new Map<number, FileGroup[]>();
  groups.forEach((group, i) => {
    if (!isLacking.has(group)) return;
    const ofShard = byShard.get(shares[i]);
    if (ofShard) ofShard.push(group);
    else byShard.set(shares[i], [group]);
  });
  const sorted = [...byShard].sort(([a], [b]) => a - b);
  const byReason = new Map<string, number[]>();
  for (const [number] of sorted) {
    const record = records.find((one) => one.of === of && one.shard === number);
    const why = whyLacking(record, found);
    byReason.set(why, [...(byReason.get(why) ?? []), number]);
  }
  const parts = [...byReason].map(([why, numbers]) => {
    const missing = numbers.flatMap((number) => byShard.get(number) ?? []);
    const [shards, lack, has] = numbers.length === 1 ? ['Shard', 'lacks', 'has'] : ['Shards', 'lack', 'have'];
    const verb = why.startsWith('not come') ? has : has === 'has' ? 'was' : 'were';
    return `${shards} ${numbersIn(numbers)} of ${of} ${verb} ${why}, and ${lack} ${counted(missing.length, 'patient')} (${named(missing)})`;
  });
  const commands = sorted
    .slice(0, MOST_COMMANDS)
    .map(([number]) => shardCommand(given, options, { number, of }));
  const more = sorted.length - commands.length;
  return new Problem(
    `merge: ${lacking.length} of ${all} ${are} not in the store. ${parts.join('. ')}`,
    `Run ${listed(commands)}${more > 0 ? `, and ${more} more shards likewise` : ''}; then merge again.`,
  );
}
