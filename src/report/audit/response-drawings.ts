import { responseCurveSpec } from '../charts/audit-curve.js';
import type { Draw } from '../charts/spec.js';
import type { AuditResponse, ClockResult } from '../results-audit-response.js';

/** The charts of responses, as SVG; null where there is nothing to draw. */
export type ResponseDrawings = Readonly<Record<ClockResult['channel'], string | null>>;

/** The clock that is drawn: of the others the tables tell. */
export const DRAWN_CLOCK = 'treated';

/** Draws what came first over the first hour, by channel. */
export async function drawResponse({ clocks }: AuditResponse, draw: Draw): Promise<ResponseDrawings> {
  const drawn = async (channel: ClockResult['channel']): Promise<string | null> => {
    const curve = clocks.find((one) => one.channel === channel && one.clock === DRAWN_CLOCK)?.curve ?? null;
    if (curve === null || curve.points.length < 2) return null;
    return draw(
      responseCurveSpec(curve, 'minutes from the first alarm (without one, from the crossing)'),
      `response-${channel}`,
    );
  };
  return { icp: await drawn('icp'), cpp: await drawn('cpp') };
}
