/** A list of numbers that grows without boxing them. */
export class GrowingFloats {
  // Small at first: a column that names patients may name thousands.
  private store: Float64Array = new Float64Array(16);
  length = 0;

  /** A list of numbers that are there already; they are copied only where more come. */
  static over(values: Float64Array): GrowingFloats {
    const list = new GrowingFloats();
    list.store = values;
    list.length = values.length;
    return list;
  }

  push(value: number): void {
    if (this.length === this.store.length) {
      const larger = new Float64Array(Math.max(16, this.length * 2));
      larger.set(this.store);
      this.store = larger;
    }
    this.store[this.length++] = value;
  }

  /** Takes in many numbers at once. */
  append(values: Float64Array): void {
    const length = this.length + values.length;
    if (length > this.store.length) {
      const larger = new Float64Array(Math.max(length, this.store.length * 2));
      larger.set(this.values());
      this.store = larger;
    }
    this.store.set(values, this.length);
    this.length = length;
  }

  last(): number | undefined {
    return this.length === 0 ? undefined : this.store[this.length - 1];
  }

  at(index: number): number {
    return this.store[index];
  }

  /** Replaces a number that is there already. */
  set(index: number, value: number): void {
    this.store[index] = value;
  }

  /** The numbers so far; a view, valid until the next push. */
  values(): Float64Array {
    return this.store.length === this.length ? this.store : this.store.subarray(0, this.length);
  }
}
