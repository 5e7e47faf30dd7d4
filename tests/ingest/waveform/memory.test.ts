import { describe, expect, it } from 'vitest';
import { WaveSeries } from '../../../src/ingest/waveform/wave-series.js';
import type { WaveformPlan } from '../../../src/ingest/waveform/waveform-plan.js';
import { ZoneClock } from '../../../src/recording/zone.js';
import { WAVE_START } from '../../support/waves.js';
import { usualWatch } from './support.js';

/** How many numbers and list entries hang on an object, room that is kept ready included. */
function retained(root: object): number {
  const seen = new Set<object>();
  const open: unknown[] = [root];
  let count = 0;
  while (open.length > 0) {
    const one = open.pop();
    if (typeof one !== 'object' || one === null || seen.has(one)) continue;
    seen.add(one);
    if (ArrayBuffer.isView(one)) {
      count += one.byteLength / 8;
      continue;
    }
    count++;
    if (one instanceof Map) open.push(...one.keys(), ...one.values());
    else open.push(...Object.values(one));
  }
  return count;
}

/** A series that has read so many seconds of two waveforms, with artifact in each tenth of them. */
function seriesAfter(seconds: number, perSecond: number): WaveSeries {
  const column = (kind: 'icp' | 'map', index: number) => ({
    index,
    kind,
    header: kind,
    unit: 'mm[Hg]' as const,
    conversion: { factor: 1, offset: 0, decimalsLost: 0 },
    source: null,
    why: '',
  });
  const plan: WaveformPlan = {
    intervalMs: 1000 / perSecond,
    columns: [
      { wave: 'icp', perSecond },
      { wave: 'map', perSecond },
    ],
  };
  const columns = [column('icp', 1), column('map', 2)];
  const series = new WaveSeries('a.csv', columns, new ZoneClock('UTC'), plan, usualWatch);
  const values = new Float64Array(2);
  for (let i = 0; i < seconds * perSecond; i++) {
    const pulse = Math.sin((2 * Math.PI * 1.2 * i) / perSecond);
    values[0] = i % (10 * perSecond) === 7 ? 500 : Math.min(13, 12 + 1.4 * pulse);
    values[1] = 85 + 20 * pulse;
    series.push(WAVE_START + (i * 1000) / perSecond, i + 2, values);
  }
  return series;
}

describe('what a waveform keeps while it is read', () => {
  it('grows with its seconds and not with its samples', () => {
    const [slow, fast] = [50, 250].map((perSecond) => retained(seriesAfter(1800, perSecond)));
    // Room for a second and a window of samples is larger at 250 a second; that is all.
    expect(fast).toBeLessThan(slow + 20_000);
    const longer = retained(seriesAfter(7200, 250));
    expect(longer - fast).toBeLessThan(20 * (7200 - 1800));
    expect(longer).toBeLessThan((7200 * 250) / 8);
  });
});
