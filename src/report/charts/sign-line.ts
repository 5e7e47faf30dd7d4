/** A point of a map in cells: the middle of the first cell of the first row is at 0.5, 0.5. */
interface Place {
  readonly x: number;
  readonly y: number;
}

export type SignPiece = readonly [Place, Place];

const toward = (a: number, b: number): number => a / (a - b);

/**
 * The line along which the values of a map change their sign, in straight pieces between the middles of neighbouring cells:
 * so it crosses each row where the values of the row do, and each column likewise. Beside a blank cell and at the edge of the
 * map it goes on straight for half a cell. Where four cells have two signs crosswise, their mean says which two belong
 * together. Own convention.
 *
 * @param values row by row; null where blank
 */
export function signLine(values: readonly (number | null)[], columns: number): SignPiece[] {
  const rows = values.length / columns;
  const at = (row: number, column: number): number | null =>
    row < 0 || row >= rows || column < 0 || column >= columns ? null : values[row * columns + column];
  const isWhole = (row: number, column: number): boolean =>
    [at(row, column), at(row, column + 1), at(row + 1, column), at(row + 1, column + 1)].every(
      (value) => value !== null,
    );
  const pieces: SignPiece[] = [];
  /** Where two neighbours have two signs; what is 0 counts to those above 0. */
  const alongRow = (row: number, column: number): Place | null => {
    const [a, b] = [at(row, column), at(row, column + 1)];
    return a === null || b === null || a < 0 === b < 0
      ? null
      : { x: column + 0.5 + toward(a, b), y: row + 0.5 };
  };
  const alongColumn = (row: number, column: number): Place | null => {
    const [a, b] = [at(row, column), at(row + 1, column)];
    return a === null || b === null || a < 0 === b < 0
      ? null
      : { x: column + 0.5, y: row + 0.5 + toward(a, b) };
  };
  const goOn = (from: Place | null, dx: number, dy: number): void => {
    if (from !== null) pieces.push([from, { x: from.x + dx / 2, y: from.y + dy / 2 }]);
  };
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const [low, left] = [alongRow(row, column), alongColumn(row, column)];
      if (!isWhole(row, column)) goOn(low, 0, 1);
      if (!isWhole(row - 1, column)) goOn(low, 0, -1);
      if (!isWhole(row, column)) goOn(left, 1, 0);
      if (!isWhole(row, column - 1)) goOn(left, -1, 0);
      if (!isWhole(row, column)) continue;
      const [high, right] = [alongRow(row + 1, column), alongColumn(row, column + 1)];
      const ends = [low, right, high, left].filter((place) => place !== null);
      if (ends.length === 2) pieces.push([ends[0], ends[1]]);
      if (low && right && high && left) {
        const corners = [at(row, column), at(row, column + 1), at(row + 1, column), at(row + 1, column + 1)];
        const mean = corners.reduce((sum: number, value) => sum + (value as number), 0);
        // The first corner and the middle alike: the line goes around the other two corners.
        const isFirstWithMiddle = (corners[0] as number) < 0 === mean < 0;
        pieces.push(
          ...(isFirstWithMiddle
            ? ([
                [low, right],
                [high, left],
              ] as const)
            : ([
                [low, left],
                [high, right],
              ] as const)),
        );
      }
    }
  }
  return pieces;
}
