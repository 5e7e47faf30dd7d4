/** More lines than this on both sides are told as all gone and all new. */
const MOST = 4000;

/** Lengths of the longest common part of each pair of ends of two texts. */
function commonLengths(before: readonly string[], after: readonly string[]): Uint16Array[] {
  const rows = Array.from({ length: before.length + 1 }, () => new Uint16Array(after.length + 1));
  for (let i = before.length - 1; i >= 0; i--)
    for (let j = after.length - 1; j >= 0; j--)
      rows[i][j] = before[i] === after[j] ? rows[i + 1][j + 1] + 1 : Math.max(rows[i + 1][j], rows[i][j + 1]);
  return rows;
}

/** What went, as `- line`, and what came, as `+ line`, in the order of the texts. */
export function lineChanges(before: readonly string[], after: readonly string[]): string[] {
  let same = 0;
  while (same < Math.min(before.length, after.length) && before[same] === after[same]) same++;
  let sameEnd = 0;
  while (
    sameEnd < Math.min(before.length, after.length) - same &&
    before[before.length - 1 - sameEnd] === after[after.length - 1 - sameEnd]
  )
    sameEnd++;
  const gone = before.slice(same, before.length - sameEnd);
  const come = after.slice(same, after.length - sameEnd);
  if (Math.max(gone.length, come.length) > MOST)
    return [...gone.map((line) => `- ${line}`), ...come.map((line) => `+ ${line}`)];
  const common = commonLengths(gone, come);
  const changes: string[] = [];
  let [i, j] = [0, 0];
  while (i < gone.length || j < come.length) {
    if (i < gone.length && j < come.length && gone[i] === come[j]) {
      i++;
      j++;
    } else if (j === come.length || (i < gone.length && common[i + 1][j] >= common[i][j + 1]))
      changes.push(`- ${gone[i++]}`);
    else changes.push(`+ ${come[j++]}`);
  }
  return changes;
}
