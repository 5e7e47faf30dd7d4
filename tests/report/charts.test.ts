import { describe, expect, it } from 'vitest';
import { withoutIntervals } from '../../src/recording/signal.js';
import { removalPictureSpec } from '../../src/report/charts/removal-picture.js';
import { renderSvg, rewriteIds } from '../../src/report/charts/render.js';
import { everySeconds, T0 } from '../support/signals.js';

describe('the picture of a removal', () => {
  const draw = (values: number[], from: number, to: number): Promise<string> => {
    const rawIcp = everySeconds(1, values);
    const mark = {
      channel: 'icp',
      rule: 'briefSpike',
      grade: 'removed',
      start: T0 + from * 1000,
      end: T0 + to * 1000,
    } as const;
    const icp = withoutIntervals(rawIcp, [mark]);
    return renderSvg(
      removalPictureSpec({ removal: mark, icp, rawIcp, marks: [mark], thresholdMmHg: 22 }),
      'r',
    );
  };
  const labelsOf = (svg: string): string[] =>
    [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, t]) => t);

  it('names its range by two numbers, tens that hold all samples and the threshold', async () => {
    const cough = Array.from({ length: 601 }, (_, i) => (i >= 300 && i < 310 ? 63 : 12));
    expect(labelsOf(await draw(cough, 300, 309))).toEqual(['10', '70']);
    const zeroing = Array.from({ length: 601 }, (_, i) => (i >= 300 && i < 400 ? -0.4 : 12));
    expect(labelsOf(await draw(zeroing, 300, 399))).toEqual(['−10', '30']);
  });

  it('cuts off what no transducer means', async () => {
    const values = Array.from({ length: 601 }, (_, i) => (i === 300 ? 3000 : 12));
    expect(labelsOf(await draw(values, 300, 300))).toEqual(['10', '160']);
  });

  it('has the same size whatever it shows, and stays small over hours', async () => {
    const long = Array.from({ length: 20_000 }, (_, i) => 12 + (i % 17) + (i > 2000 && i < 18_000 ? 30 : 0));
    const short = Array.from({ length: 601 }, () => 12);
    const [a, b] = [await draw(long, 2000, 18_000), await draw(short, 300, 302)];
    expect(/viewBox="[^"]+"/.exec(a)?.[0]).toBe(/viewBox="[^"]+"/.exec(b)?.[0]);
    expect(a.length).toBeLessThan(12_000);
  });
});

describe('a drawing', () => {
  it('has ids that belong to its page, and references that follow them', () => {
    const svg = '<g id="clip7"/><rect clip-path="url(#clip7)"/><use href="#clip7"/><a href="#other"/>';
    expect(rewriteIds(svg, 'night')).toBe(
      '<g id="night-1"/><rect clip-path="url(#night-1)"/><use href="#night-1"/><a href="#other"/>',
    );
  });

  it('leaves a text alone that looks like an id or a reference, and the tags behind it', () => {
    const text = 'id="x url(#clip7) href="#clip7" &lt;a id="';
    const svg = `<text>${text}</text><g id="clip7"/><g clip-path="url(#clip7)"/>`;
    expect(rewriteIds(svg, 'night')).toBe(
      `<text>${text}</text><g id="night-1"/><g clip-path="url(#night-1)"/>`,
    );
  });

  it('is the same however many were drawn before', async () => {
    const spec = {
      width: 50,
      height: 20,
      data: {
        values: [
          { x: 0, y: 1 },
          { x: 9, y: 5 },
        ],
      },
      mark: { type: 'line', clip: true },
      encoding: { x: { field: 'x', type: 'quantitative' }, y: { field: 'y', type: 'quantitative' } },
    } as never;
    const first = await renderSvg(spec, 'a');
    await renderSvg(spec, 'b');
    expect(await renderSvg(spec, 'a')).toBe(first);
    expect(first).toMatch(/id="a-1"/);
  });

  it('shows hostile text as text', async () => {
    const spec = {
      data: { values: [{ t: '<script>x</script>"' }] },
      mark: 'text',
      encoding: { text: { field: 't', type: 'nominal' } },
    } as never;
    const svg = await renderSvg(spec, 'k');
    expect(svg).not.toContain('<script');
    expect(svg).toContain('&lt;script&gt;');
  });
});
