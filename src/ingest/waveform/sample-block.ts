/** Samples in order, in room that is used again and again. */
export class SampleBlock {
  times = new Float64Array(512);
  values = new Float64Array(512);
  count = 0;

  push(time: number, value: number): void {
    if (this.count === this.times.length) this.grow();
    this.times[this.count] = time;
    this.values[this.count++] = value;
  }

  private grow(): void {
    const [times, values] = [this.times, this.values];
    this.times = new Float64Array(2 * times.length);
    this.values = new Float64Array(2 * values.length);
    this.times.set(times);
    this.values.set(values);
  }
}
