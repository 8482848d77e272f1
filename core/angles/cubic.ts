// A cubic through known values, laid once and read at many times.

/** By Newton's divided differences. */
export class Cubic {
  private t0 = 0;
  private t1 = 0;
  private t2 = 0;
  private v0 = 0;
  private d01 = 0;
  private d012 = 0;
  private d0123 = 0;

  /** Through the values v0 to v3 at the times t0 to t3. */
  through(
    t0: number,
    t1: number,
    t2: number,
    t3: number,
    v0: number,
    v1: number,
    v2: number,
    v3: number,
  ): void {
    const d01 = (v1 - v0) / (t1 - t0);
    const d12 = (v2 - v1) / (t2 - t1);
    const d23 = (v3 - v2) / (t3 - t2);
    const d012 = (d12 - d01) / (t2 - t0);
    const d123 = (d23 - d12) / (t3 - t1);
    this.t0 = t0;
    this.t1 = t1;
    this.t2 = t2;
    this.v0 = v0;
    this.d01 = d01;
    this.d012 = d012;
    this.d0123 = (d123 - d012) / (t3 - t0);
  }

  /** Quadratic only: values 0, 1 and 2 at times 0, `t1` and `t2`. */
  throughThree(t1: number, t2: number): void {
    const d01 = 1 / t1;
    this.t0 = 0;
    this.t1 = t1;
    this.t2 = t2;
    this.v0 = 0;
    this.d01 = d01;
    this.d012 = (1 / (t2 - t1) - d01) / t2;
    this.d0123 = 0;
  }

  at(t: number): number {
    const { t0, t1, t2, v0, d01, d012, d0123 } = this;
    return v0 + (t - t0) * (d01 + (t - t1) * (d012 + (t - t2) * d0123));
  }

  /** At each of the times, into `values`. */
  atEach(times: ArrayLike<number>, values: Float64Array): void {
    const { t0, t1, t2, v0, d01, d012, d0123 } = this;
    for (let i = 0; i < values.length; i++) {
      const t = times[i] as number;
      values[i] = v0 + (t - t0) * (d01 + (t - t1) * (d012 + (t - t2) * d0123));
    }
  }
}
