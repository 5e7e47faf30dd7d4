import { type Figure, unless } from '../figure.js';
import { PRX_LIMIT } from '../perfusion/cpp-bins.js';
import type { Feature } from './feature.js';

const PRX_SECONDS = 10;
const PRX_SOURCE =
  'Czosnyka et al., Neurosurgery 1997;41:11-17, in its later 10 s x 30 form; 0.25: Sorrentino et al., Neurocrit Care 2012;16:258-66';
const OPTIMAL_SOURCE =
  'investigational; Steiner et al., Crit Care Med 2002;30:733-8; Aries et al., Crit Care Med 2012;40:2456-63';

const orReason = (figure: number | null, reason: string | undefined): Figure =>
  figure ?? { reason: reason ?? 'it is not known' };

const OF_PRX: readonly Pick<Feature, 'key' | 'title' | 'unit' | 'definition' | 'read'>[] = [
  {
    key: 'prxMean',
    title: 'Mean PRx',
    unit: '1',
    definition: 'Mean of PRx over the minutes at whose end it could be computed.',
    read: ({ prx }) => orReason(prx.mean, prx.meanReason),
  },
  {
    key: 'prxShareAboveLimit',
    title: `Share of PRx above ${PRX_LIMIT}`,
    unit: '1',
    definition: `Share of the minutes with PRx at which it is above ${PRX_LIMIT}.`,
    read: ({ prx }) => orReason(prx.shareAboveLimit, prx.shareAboveLimitReason),
  },
  {
    key: 'prxComputableShare',
    title: 'Share of the window with PRx',
    unit: '1',
    definition: 'Minutes at whose end PRx could be computed, divided by the length of the window.',
    read: ({ prx }) => unless(prx.whyNone, () => prx.computableShare),
  },
];

/** Features of pressure reactivity, the last one investigational. */
export const REACTIVITY_FEATURES: readonly Feature[] = [
  ...OF_PRX.map(
    (one): Feature => ({ ...one, source: PRX_SOURCE, coarsestSeconds: PRX_SECONDS, needs: null }),
  ),
  {
    key: 'cppLessOptimalMmHg',
    title: 'Mean CPP less optimal CPP (investigational)',
    unit: 'mm[Hg]',
    definition:
      'Mean, over the minutes at which a curve was accepted and CPP is known, of the mean CPP of the last 5 min less optimal CPP. Not read where MAP with shuffled phases finds as many curves.',
    source: OPTIMAL_SOURCE,
    coarsestSeconds: PRX_SECONDS,
    needs: null,
    read: ({ lessOptimal }) => lessOptimal,
  },
];
