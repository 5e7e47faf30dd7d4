/** Coordinates are kept to a tenth of a pixel. */
const TENTHS = 10;

/** A number of tenths as SVG takes it, without what says nothing: `-.5`, `12`. */
function written(tenths: number): string {
  const sign = tenths < 0 ? '-' : '';
  const [whole, rest] = [Math.floor(Math.abs(tenths) / TENTHS), Math.abs(tenths) % TENTHS];
  return `${sign}${whole === 0 && rest > 0 ? '' : whole}${rest === 0 ? '' : `.${rest}`}`;
}

/** Numbers one after the other; a minus separates, and so does a point after a number that has one already. */
function joined(numbers: readonly number[]): string {
  let text = '';
  let hasPoint = true;
  numbers.map(written).forEach((next, i) => {
    const needsSpace = i > 0 && !next.startsWith('-') && !(next.startsWith('.') && hasPoint);
    text += needsSpace ? ` ${next}` : next;
    hasPoint = next.includes('.');
  });
  return text;
}

/**
 * The same path in fewer characters. Straight lines go from rounded point to rounded point, so that each point stays
 * within 0.05 px of its place along both axes, and errors do not add up. Other paths are left as they are.
 */
export function shortPath(d: string): string {
  if (!/^(?:[ML]-?[\d.]+,-?[\d.]+)+Z?$/.test(d)) return d;
  const subpaths = d.replace(/Z$/, '').split('M').slice(1);
  const parts = subpaths.map((subpath) => {
    const points = subpath
      .split('L')
      .map((point) => point.split(',').map((n) => Math.round(Number(n) * TENTHS)));
    const steps: number[] = [];
    points.slice(1).forEach(([x, y], i) => {
      const [dx, dy] = [x - points[i][0], y - points[i][1]];
      if (dx !== 0 || dy !== 0) steps.push(dx, dy);
    });
    // A line of no length is a dot where its ends are round, and else nothing: it stays as it was.
    if (points.length > 1 && steps.length === 0) steps.push(0, 0);
    return `M${joined(points[0])}${steps.length > 0 ? `l${joined(steps)}` : ''}`;
  });
  return parts.join('') + (d.endsWith('Z') ? 'Z' : '');
}
