/**
 * A Vega-Lite spec, or a part of one, as plain data: fields have fixed names, text of users stands in values only.
 * vega-lite exports no types for parts, and checks the whole when it compiles it.
 */
export type Spec = Readonly<Record<string, unknown>>;

/**
 * Draws a spec as an SVG element.
 *
 * @param key names the chart on its page; ids in the drawing are made of it
 */
export type Draw = (spec: Spec, key: string) => Promise<string>;
