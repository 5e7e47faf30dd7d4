import type { KeptPart } from './report-group.js';
import type { RunEvent } from './run-event.js';
import { bytesOf } from './share-out.js';
import type { GroupOutcome, StoredTask } from './stored-group.js';

/** How many patients were read in this run, and how many came out of the store. */
export interface PatientCounts {
  readonly done: number;
  readonly reused: number;
}

/** Keeps count of what a run has finished, and tells of it. */
export class Tally {
  /** Keys of the stored entries that the run used or wrote. */
  readonly needed = new Set<string>();
  /** Why the store did not take a result; the first time. */
  unkept: string | null = null;
  private readonly anew = new Set<string>();
  private readonly reused = new Set<string>();
  private readonly bytesOf = new Map<StoredTask, number>();
  private pass: 1 | 2 = 1;
  private finished = 0;
  private kept = 0;
  private of = 0;

  constructor(private readonly tell: (event: RunEvent) => void) {}

  async start(pass: 1 | 2, tasks: readonly StoredTask[]): Promise<void> {
    const sizes = await Promise.all(tasks.map(({ task }) => bytesOf(task.group)));
    tasks.forEach((task, i) => {
      this.bytesOf.set(task, sizes[i]);
    });
    Object.assign(this, { pass, finished: 0, kept: 0, of: tasks.length });
    const bytes = sizes.reduce((sum, size) => sum + size, 0);
    this.tell({ event: 'start', pass, patients: tasks.length, bytes });
  }

  take({ parts, isReused, key, unkept }: GroupOutcome, task: StoredTask): void {
    const { pass, of } = this;
    this.unkept ??= unkept;
    if (key !== null) {
      this.needed.add(key);
      this.kept++;
    }
    this.finished++;
    let bytes = this.bytesOf.get(task) ?? 0;
    for (const { id, problem, rowsRead: rows, isStray } of parts) {
      if (isStray) continue;
      (isReused ? this.reused : this.anew).add(id);
      const count = { pass, patient: id, rows, bytes, finished: this.finished, kept: this.kept, of };
      this.tell(
        problem === null
          ? { event: isReused ? 'reused' : 'done', ...count }
          : { event: 'failed', ...count, why: problem },
      );
      bytes = 0;
    }
  }

  /** A patient of whom a part was read anew, such as over the unit's night, counts as read. */
  counts(parts: readonly Pick<KeptPart, 'id' | 'isStray'>[]): PatientCounts {
    const patients = parts.filter(({ isStray }) => !isStray);
    const reused = patients.filter(({ id }) => this.reused.has(id) && !this.anew.has(id)).length;
    return { done: patients.length - reused, reused };
  }
}
