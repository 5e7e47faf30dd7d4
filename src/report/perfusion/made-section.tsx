import type { JSX } from 'preact';
import { MadeData } from '../morning/made-section.js';
import type { PageInput } from '../page-input.js';

/** Where the figures of perfusion come from, and the definitions with their sources. */
export function PerfusionMadeSection({ result, logs }: Pick<PageInput, 'result' | 'logs'>): JSX.Element {
  return (
    <section class="small">
      <h2>How it was made</h2>
      <MadeData result={result} logs={logs} />
      <p>
        The signal is taken as linear between neighbouring samples and as unknown across longer gaps and
        across what was removed; every figure is computed on that one function, crossings included. CPP is MAP
        minus ICP at the same instant, MAP from an arterial line. Values for adults (ICP 22 mmHg, CPP 60 to 70
        mmHg): Brain Trauma Foundation, 4th edition, Carney et al., Neurosurgery 2017;80:6-15; for children
        (ICP 20 mmHg, CPP 40 to 50 mmHg): Kochanek et al., Pediatr Crit Care Med 2019;20:S1-S82.
      </p>
      <p>
        PRx: Pearson's r of 30 consecutive 10-s means of ICP and MAP, every minute, stamped at the end of its
        5 min, where half of the pairs or more are known (Czosnyka et al., Neurosurgery 1997;41:11-17, in its
        later form); above 0.25 counts as impaired (Sorrentino et al., Neurocrit Care 2012;16:258-66); the
        sentence on top says so only where mean PRx and over half of the time are above it (own convention).
        The low-frequency index is the same on 1-min means in windows of 20 min. Plateau waves, 50 mmHg or
        more for 5 to 20 min: Lundberg, Acta Psychiatr Scand 1960. B waves: windows of 10 min in which the
        waves of ICP at 0.5 to 2 a minute have an amplitude (half of peak to peak) of 5 mmHg or more; the band
        is Lundberg's, the 5 mmHg an own convention. Brain tissue oxygen under 20 mmHg, and 5 min for an
        episode of low CPP: common practice, no source.
        {result.perfusion.pulse !== null &&
          " RAP: Pearson's r of the amplitude of ICP's pulse and of mean ICP over 40 windows of 10 s (Czosnyka et al., J Neurol Neurosurg Psychiatry 2004;75:813-21, value from memory)."}
      </p>
      <p>
        Optimal CPP, investigational: in windows of 4 h, every minute, the means of PRx (Fisher-transformed)
        in bins of 5 mmHg of CPP that hold 2 % of the window or more, 5 bins or more, and a parabola through
        them, weighted by their minutes; taken where it opens upward, is lowest inside the bins and explains
        20 % or more (Steiner et al., Crit Care Med 2002;30:733-8; Aries et al., Crit Care Med
        2012;40:2456-63; transform, and the bias without it: Kelly et al., Acta Neurochir Suppl
        2018;126:317-20). Nothing is read from it where a curve was found no more often than on shuffled
        arterial pressure, or at under 10 % of the minutes (own convention). All figures, unrounded, are in
        results.json.
      </p>
    </section>
  );
}
