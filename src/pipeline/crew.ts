import { setMaxListeners } from 'node:events';
import { availableParallelism } from 'node:os';
import { Piscina } from 'piscina';
import { abandonedGroup } from './failed-group.js';
import type { GroupOptions } from './group-options.js';
import type { GroupOutcome, StoredTask } from './stored-group.js';

/** What came of a task whose thread died: its patient failed, and no other. */
const abandoned = ({ task }: StoredTask, error: Error): GroupOutcome => ({
  parts: abandonedGroup(task.group, error),
  isReused: false,
  key: null,
  unkept: null,
  isLacking: false,
});

/**
 * Threads that work through tasks; one that dies is replaced. They begin to load the program as soon as there is a crew,
 * which takes as long as some patients: so it is called together before what the main thread has to do first.
 */
export class Crew {
  private readonly pool: Piscina<StoredTask, GroupOutcome>;
  // While a thread is replaced nothing else may keep the process from ending.
  private readonly awake = setInterval(() => {}, 1 << 30);

  constructor(threads: number) {
    this.pool = new Piscina<StoredTask, GroupOutcome>({
      filename: new URL('./worker.cjs', import.meta.url).href,
      minThreads: threads,
      maxThreads: threads,
    });
    // A thread that dies with nothing to do harms nobody: it is replaced.
    this.pool.on('error', () => {});
  }

  /** The crew for so many groups of files; null where one thread does as well. */
  static for(groups: number, threads = availableParallelism()): Crew | null {
    const needed = Math.min(threads, groups);
    return needed > 1 ? new Crew(needed) : null;
  }

  /**
   * Works through tasks. What comes of one is taken as soon as it is there, and nothing is taken any more once taking has
   * failed or the run was interrupted: the crew is sent home then.
   *
   * @returns what taking gave, in the order of the tasks
   */
  async report<T>(tasks: readonly StoredTask[], { signal, take }: GroupOptions<T>): Promise<T[]> {
    // Each task listens to it.
    if (signal) setMaxListeners(0, signal);
    const how = signal ? { signal } : {};
    let isStopped = false;
    const work = async (task: StoredTask): Promise<T> => {
      try {
        const outcome = await this.pool.run(task, how).catch((error: Error) => {
          if (isStopped || signal?.aborted) throw error;
          return abandoned(task, error);
        });
        if (isStopped) throw new Error('the run was stopped');
        return await take(outcome, task);
      } catch (error) {
        isStopped = true;
        throw error;
      }
    };
    const taken = tasks.map(work);
    try {
      return await Promise.all(taken);
    } catch (error) {
      await this.end();
      // Whoever cleans up behind this must not meet anybody who still writes.
      await Promise.allSettled(taken);
      throw error;
    }
  }

  /** Ends the threads; nothing may be asked of them any more. */
  async end(): Promise<void> {
    clearInterval(this.awake);
    await this.pool.destroy();
  }
}
