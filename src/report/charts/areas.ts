import { layerOf } from './layers.js';
import type { LinePoint } from './reduce.js';
import type { Spec } from './spec.js';

/** A point of the edge of an area; null breaks it. */
export interface AreaPoint {
  readonly x: number;
  readonly y: number | null;
  readonly y2: number;
}

/** What lies between a line and a value below it, as areas that are broken wherever the line is at the value or under it. */
export function areasAbove(line: readonly LinePoint[], value: number): AreaPoint[] {
  const points: AreaPoint[] = [];
  const at = (x: number, y: number | null): void => {
    points.push({ x, y, y2: value });
  };
  line.slice(1).forEach((b, i) => {
    const a = line[i];
    if (a.run !== b.run || Math.max(a.y, b.y) <= value) return;
    const crossing = a.x + ((b.x - a.x) * (value - a.y)) / (b.y - a.y);
    const last = points.at(-1);
    if (a.y <= value) {
      if (last) at(last.x, null);
      at(crossing, value);
    } else if (last === undefined || last.x !== a.x || last.y !== a.y) {
      if (last) at(last.x, null);
      at(a.x, a.y);
    }
    if (b.y > value) at(b.x, b.y);
    else at(crossing, value);
  });
  return points;
}

/** Filled areas without an outline. */
export const areaLayer = (points: readonly AreaPoint[], color: string, opacity: number): Spec[] =>
  layerOf(points, {
    mark: { type: 'area', color, opacity, clip: true },
    encoding: { y2: { field: 'y2' }, order: { value: null } },
  });
