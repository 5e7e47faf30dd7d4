import * as vega from 'vega';
import { compile, type TopLevelSpec } from 'vega-lite';
import { COLOURS } from './palette.js';

const FONT = 'Helvetica, Arial, sans-serif';

const CONFIG = {
  background: 'white',
  font: FONT,
  // The page describes each chart in words; a role on every mark would only repeat that.
  aria: false,
  view: { stroke: null },
  axis: {
    labelFont: FONT,
    titleFont: FONT,
    labelFontSize: 11,
    titleFontSize: 11,
    titleFontWeight: 'normal',
    labelColor: COLOURS.ink,
    titleColor: COLOURS.ink,
    gridColor: COLOURS.grid,
    domainColor: COLOURS.removed,
    tickColor: COLOURS.removed,
  },
} as const;

/**
 * Draws a Vega-Lite spec as an SVG element.
 *
 * @param key names the chart on its page: Vega numbers its ids by process, so they are rewritten to it
 */
export async function renderSvg(spec: TopLevelSpec, key: string): Promise<string> {
  const { spec: full } = compile({ ...spec, config: { ...CONFIG, ...spec.config } } as TopLevelSpec);
  const view = new vega.View(vega.parse(full), { renderer: 'none', logLevel: vega.Error });
  const svg = await view.toSVG();
  view.finalize();
  return rewriteIds(svg, key);
}

/** Gives every id of an SVG, and every reference to one, a name made of the key and its place. */
export function rewriteIds(svg: string, key: string): string {
  const ids = [...new Set([...svg.matchAll(/\bid="([^"]+)"/g)].map((match) => match[1]))];
  const named = new Map(ids.map((id, i) => [id, `${key}-${i + 1}`]));
  return svg
    .replace(/\bid="([^"]+)"/g, (_, id: string) => `id="${named.get(id)}"`)
    .replace(/url\(#([^)]+)\)/g, (all, id: string) => (named.has(id) ? `url(#${named.get(id)})` : all))
    .replace(/href="#([^"]+)"/g, (all, id: string) => (named.has(id) ? `href="#${named.get(id)}"` : all));
}
