import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { once } from 'node:events';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  writeFileSync,
} from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { newFolder } from './cistern.js';

/** What a Slurm cluster of this machine alone is: a controller and node daemons on loopback. */
export interface Slurm {
  /** Of a process that calls its commands. */
  readonly env: Readonly<Record<string, string>>;
  /** A command of Slurm, and what it printed. */
  readonly command: (name: string, ...args: readonly string[]) => string;
  /** Kills the daemon of a node and all that it runs, as where its power fails. */
  readonly cutPower: (node: string) => number;
  readonly stop: () => Promise<void>;
}

const DAEMONS = ['munged', 'slurmctld', 'slurmd', 'sbatch'] as const;
const NODES = ['n1', 'n2'] as const;

/** @throws Error that says what to install */
function insistOnSlurm(): void {
  const missing = DAEMONS.filter(
    (name) =>
      !['/usr/sbin', '/usr/bin', '/usr/local/sbin', '/usr/local/bin'].some((f) => existsSync(join(f, name))),
  );
  if (missing.length === 0) return;
  throw new Error(
    `This test needs ${missing.join(', ')}: run "node tests/tools/install-system.mjs" (slurm-wlm, munge).`,
  );
}

/**
 * `SlurmdTimeout` and `cred_expire` are short, so that a test need not wait for minutes until a dead node is given up and its
 * jobs may begin elsewhere.
 */
const configuration = (folder: string, ports: readonly number[]): string => {
  const user = execFileSync('id', ['-un'], { encoding: 'utf8' }).trim();
  return `ClusterName=cistern
SlurmctldHost=${hostname()}(127.0.0.1)
SlurmctldPort=${ports[0]}
AuthType=auth/munge
AuthInfo=socket=${folder}/munge.socket,cred_expire=5
CredType=cred/munge
SlurmUser=${user}
SlurmdUser=${user}
StateSaveLocation=${folder}/state
SlurmdSpoolDir=${folder}/%n
SlurmctldPidFile=${folder}/slurmctld.pid
SlurmdPidFile=${folder}/%n.pid
SlurmctldLogFile=${folder}/slurmctld.log
SlurmdLogFile=${folder}/%n.log
ProctrackType=proctrack/pgid
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
SchedulerParameters=sched_min_interval=100000,batch_sched_delay=0
ReturnToService=2
SlurmdTimeout=5
SlurmdParameters=config_overrides
KillWait=2
UnkillableStepTimeout=10
MpiDefault=none
JobAcctGatherType=jobacct_gather/none
AccountingStorageType=accounting_storage/none
JobRequeue=1
${NODES.map((node, i) => `NodeName=${node} NodeHostname=${hostname()} NodeAddr=127.0.0.1 Port=${ports[i + 1]} CPUs=2 RealMemory=8000 State=UNKNOWN`).join('\n')}
PartitionName=day Nodes=ALL Default=YES MaxTime=60 State=UP
`;
};

/** Ports on which nobody listens. */
async function freePorts(count: number): Promise<number[]> {
  const servers = Array.from({ length: count }, () => createServer());
  const ports = await Promise.all(
    servers.map(async (server) => {
      server.listen(0, '127.0.0.1');
      await once(server, 'listening');
      return (server.address() as AddressInfo).port;
    }),
  );
  for (const server of servers) server.close();
  return ports;
}

/** Ends processes, of which some may have ended by themselves. */
function kill(pids: readonly number[]): void {
  for (const pid of pids) {
    try {
      process.kill(pid, 'SIGKILL');
    } catch {
      // It came to its end by itself.
    }
  }
}

/** The last lines of what the daemons said. */
const lastWords = (folder: string): string =>
  readdirSync(folder)
    .filter((name) => /\.(log|out)$/.test(name))
    .map((name) => {
      const lines = readFileSync(join(folder, name), 'utf8').trim().split('\n');
      return `${name}: ${lines.slice(-8).join('\n  ')}`;
    })
    .join('\n');

/** Waits until something holds; the error says what did not. */
export async function until(what: string, holds: () => boolean, seconds = 60): Promise<void> {
  const end = Date.now() + seconds * 1000;
  while (!holds()) {
    if (Date.now() > end) throw new Error(`After ${seconds} s ${what} had not come about.`);
    await wait(100);
  }
}

/** Processes in whose environment all of some lines stand. */
function processesWith(...wanted: readonly string[]): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)
    .filter((pid) => {
      try {
        const environment = readFileSync(`/proc/${pid}/environ`, 'utf8').split('\0');
        return wanted.every((line) => environment.includes(line));
      } catch {
        return false;
      }
    });
}

/**
 * Starts a cluster of two nodes on this machine: an authentication daemon, a controller and two node daemons, in a folder of
 * their own, and waits until both nodes are idle.
 */
export async function startSlurm(): Promise<Slurm> {
  insistOnSlurm();
  const folder = newFolder();
  // The authentication daemon wants to be sure that nobody else can put a socket there.
  chmodSync(folder, 0o755);
  mkdirSync(join(folder, 'state'));
  for (const node of NODES) mkdirSync(join(folder, node));
  writeFileSync(join(folder, 'munge.key'), randomBytes(1024), { mode: 0o600 });
  const file = join(folder, 'slurm.conf');
  writeFileSync(file, configuration(folder, await freePorts(1 + NODES.length)));
  const env = { ...(process.env as Record<string, string>), SLURM_CONF: file };
  const running: ChildProcess[] = [];
  const start = (name: string, ...args: readonly string[]): ChildProcess => {
    const out = openSync(join(folder, `${name}-${running.length}.out`), 'w');
    const path = `${process.env.PATH}:/usr/sbin:/sbin`;
    // They end with this process, however it ends.
    const dying = ['--pdeathsig', 'KILL', name, ...args];
    const child = spawn('setpriv', dying, { env: { ...env, PATH: path }, stdio: ['ignore', out, out] });
    running.push(child);
    return child;
  };
  const command = (name: string, ...args: readonly string[]): string =>
    execFileSync(name, args, { env, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
  const at = (name: string): string => join(folder, name);
  const stop = async (): Promise<void> => {
    try {
      command('scancel', '-u', execFileSync('id', ['-un'], { encoding: 'utf8' }).trim());
    } catch {
      // The controller may be gone already.
    }
    kill(processesWith(`SLURM_CONF=${file}`));
    for (const child of running.reverse()) child.kill('SIGKILL');
    await wait(100);
  };
  const daemons = new Map<string, ChildProcess>();
  try {
    start(
      'munged',
      '--foreground',
      '--force',
      `--key-file=${at('munge.key')}`,
      `--socket=${at('munge.socket')}`,
      `--pid-file=${at('munged.pid')}`,
      `--log-file=${at('munged.log')}`,
      `--seed-file=${at('munged.seed')}`,
    );
    await until('the socket of munged', () => existsSync(at('munge.socket')));
    start('slurmctld', '-D', '-f', file);
    for (const node of NODES) daemons.set(node, start('slurmd', '-D', '-N', node, '-f', file));
    const idle = (): boolean => {
      try {
        return command('sinfo', '-h', '-N', '-o', '%N %T')
          .trim()
          .split('\n')
          .every((line) => line.endsWith(' idle'));
      } catch {
        return false;
      }
    };
    await until('two idle nodes', idle);
  } catch (error) {
    const said = lastWords(folder);
    await stop();
    throw new Error(`Slurm did not start: ${(error as Error).message} Its daemons said:\n${said}`);
  }
  return {
    env,
    command,
    cutPower: (node) => {
      daemons.get(node)?.kill('SIGKILL');
      const jobs = command('squeue', '-h', '-w', node, '-o', '%A').trim().split('\n').filter(Boolean);
      const steps = jobs.flatMap((job) => pidsOf(`slurmstepd: [${job}.`));
      const all = [...steps, ...processesWith(`SLURM_CONF=${file}`, `SLURMD_NODENAME=${node}`)];
      kill(all);
      return all.length;
    },
    stop,
  };
}

/** Processes whose command line begins with a text. */
const pidsOf = (start: string): number[] =>
  readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)
    .filter((pid) => {
      try {
        return readFileSync(`/proc/${pid}/cmdline`, 'utf8').startsWith(start);
      } catch {
        return false;
      }
    });
