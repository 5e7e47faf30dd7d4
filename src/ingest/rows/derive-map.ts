import type { Channel } from '../../recording/channel.js';
import type { Recording } from '../../recording/recording.js';
import { nominalIntervalMs, signalOf } from '../../recording/sampling.js';

/** Common practice, no source: a third of the pulse pressure over the diastolic. */
const FORMULA = 'diastolic + (systolic - diastolic) / 3';

/** MAP from systolic and diastolic pressures of the same instants; null where either is missing. */
function derived(sbp: Channel, dbp: Channel): Channel | null {
  const times: number[] = [];
  const values: number[] = [];
  const [s, d] = [sbp.signal, dbp.signal];
  for (let i = 0, j = 0; i < s.times.length && j < d.times.length; ) {
    if (s.times[i] < d.times[j]) i++;
    else if (s.times[i] > d.times[j]) j++;
    else {
      times.push(s.times[i]);
      values.push(d.values[j] + (s.values[i++] - d.values[j++]) / 3);
    }
  }
  if (times.length === 0) return null;
  const at = Float64Array.from(times);
  return {
    kind: 'map',
    header: `${sbp.header}, ${dbp.header}`,
    source: null,
    derivedFrom: FORMULA,
    signal: signalOf(at, Float64Array.from(values)),
    nominalIntervalMs: nominalIntervalMs(at),
    decimals: Math.min(sbp.decimals, dbp.decimals),
    blanks: sbp.blanks,
  };
}

/** The recording with MAP computed from systolic and diastolic pressure, where it holds no MAP of its own. */
export function withMap(recording: Recording): Recording {
  const { map, sbp, dbp } = recording.channels;
  const isMissing = !map || map.signal.times.length === 0;
  const computed = isMissing && sbp && dbp ? derived(sbp, dbp) : null;
  return computed ? { ...recording, channels: { ...recording.channels, map: computed } } : recording;
}

/** The recording with ICP through a drain as its ICP, where nothing else reads it. */
export function withDrainAsIcp(recording: Recording): Recording {
  const { icp, icpDrain, ...others } = recording.channels;
  if ((icp && icp.signal.times.length > 0) || !icpDrain) return recording;
  const channels = { icp: { ...icpDrain, kind: 'icp', source: 'drain' } as const, ...others };
  const { waveform } = recording;
  if (!waveform) return { ...recording, channels };
  const marks = waveform.marks.map((mark) =>
    mark.channel === 'icpDrain' ? { ...mark, channel: 'icp' as const } : mark,
  );
  return { ...recording, channels, waveform: { ...waveform, marks } };
}
