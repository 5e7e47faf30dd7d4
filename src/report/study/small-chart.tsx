import type { ComponentChildren, JSX } from 'preact';
import { InlineChart } from '../page/chart.js';

interface SmallChartProps {
  readonly svg: string;
  readonly title: ComponentChildren;
  /** What it says, for a reader who cannot see it. */
  readonly says: string;
}

/** A chart that is no wider than a phone: it keeps its size there, and need not slide. */
export const SmallChart = ({ svg, title, says }: SmallChartProps): JSX.Element => (
  <figure>
    <figcaption>{title}</figcaption>
    <InlineChart svg={svg} says={says} />
  </figure>
);
