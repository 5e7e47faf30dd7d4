/** A spread under this share of the values (or of 1) is rounding: the list is constant. */
const ROUNDING = 1e-9;

const isConstant = (squares: number, count: number, mean: number): boolean =>
  squares <= count * (ROUNDING * Math.max(1, Math.abs(mean))) ** 2;

/**
 * Count, means, sums of squares and of products about the means of pairs (x, y). Two of them join to those of all their
 * pairs without a subtraction of large sums, so that nothing is lost to rounding however long a recording is. Source:
 * Chan, Golub & LeVeque, The American Statistician 1983;37:242-7.
 */
export class PairMoments {
  count = 0;
  meanX = 0;
  meanY = 0;
  private squaresX = 0;
  private squaresY = 0;
  private products = 0;

  clear(): void {
    this.count = 0;
    this.meanX = 0;
    this.meanY = 0;
    this.squaresX = 0;
    this.squaresY = 0;
    this.products = 0;
  }

  copy(other: PairMoments): void {
    this.count = other.count;
    this.meanX = other.meanX;
    this.meanY = other.meanY;
    this.squaresX = other.squaresX;
    this.squaresY = other.squaresY;
    this.products = other.products;
  }

  /** Takes a pair in; one of which either is NaN does not count. */
  add(x: number, y: number): void {
    if (Number.isNaN(x) || Number.isNaN(y)) return;
    this.count++;
    const dx = x - this.meanX;
    const dy = y - this.meanY;
    this.meanX += dx / this.count;
    this.meanY += dy / this.count;
    this.squaresX += dx * (x - this.meanX);
    this.squaresY += dy * (y - this.meanY);
    this.products += dx * (y - this.meanY);
  }

  /** Takes in all pairs of another. */
  join(other: PairMoments): void {
    if (other.count === 0) return;
    if (this.count === 0) {
      this.copy(other);
      return;
    }
    const count = this.count + other.count;
    const dx = other.meanX - this.meanX;
    const dy = other.meanY - this.meanY;
    const weight = (this.count * other.count) / count;
    this.squaresX += other.squaresX + dx * dx * weight;
    this.squaresY += other.squaresY + dy * dy * weight;
    this.products += other.products + dx * dy * weight;
    this.meanX += (dx * other.count) / count;
    this.meanY += (dy * other.count) / count;
    this.count = count;
  }

  /** Pearson's r; NaN where either is constant, so that r is undefined. */
  get correlation(): number {
    const { count, squaresX, squaresY } = this;
    if (count < 2 || isConstant(squaresX, count, this.meanX) || isConstant(squaresY, count, this.meanY)) {
      return Number.NaN;
    }
    return Math.max(-1, Math.min(1, this.products / Math.sqrt(squaresX * squaresY)));
  }
}
