import { spawnSync } from 'node:child_process';

/** Runs an R script with jsonlite; it finds `input` and has to end in the value that it answers with. */
export function runR<T>(script: string, input: unknown): T {
  const program = `suppressMessages(library(jsonlite))
input <- fromJSON(file("stdin"), simplifyMatrix = FALSE)
answer <- (function() { ${script} })()
cat(toJSON(answer, digits = NA, auto_unbox = TRUE, na = "null"))`;
  const { status, stdout, stderr, error } = spawnSync('Rscript', ['-e', program], {
    input: JSON.stringify(input),
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  if (error || /there is no package called/.test(stderr)) {
    throw new Error(
      'No Rscript with jsonlite, survival, pROC, MASS and brglm2 is here, and the outside checks need them: run "npm run verify", which installs them on Debian, or install r-base-core, r-cran-jsonlite, r-cran-survival, r-cran-proc, r-cran-mass and r-cran-brglm2 by hand.',
    );
  }
  if (status !== 0) throw new Error(`R failed: ${stderr}`);
  return JSON.parse(stdout) as T;
}
