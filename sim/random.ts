// Seeded random numbers, so that a seed replays a whole run of the stand-in rig byte for byte.

const TWO_32 = 2 ** 32;

/** Generator sfc32 (small fast counting; from memory). Streams of one seed are independent. */
export class Random {
  private a: number;
  private b: number;
  private c: number;
  private counter = 1;
  private spare = Number.NaN;

  constructor(seed: number, stream: number) {
    this.a = seed >>> 0;
    this.b = Math.floor(seed / TWO_32) >>> 0;
    this.c = stream >>> 0;
    // The first numbers of neighbouring seeds resemble each other; these are thrown away.
    for (let i = 0; i < 16; i++) this.whole32();
  }

  /** 0 to 2³² − 1. */
  whole32(): number {
    const sum = (this.a + this.b + this.counter) | 0;
    this.counter = (this.counter + 1) | 0;
    this.a = this.b ^ (this.b >>> 9);
    this.b = (this.c + (this.c << 3)) | 0;
    this.c = (((this.c << 21) | (this.c >>> 11)) + sum) | 0;
    return sum >>> 0;
  }

  /** 0 up to but not 1, evenly. */
  uniform(): number {
    return this.whole32() / TWO_32;
  }

  /** Normal deviate of mean 0 and standard deviation 1, by Marsaglia's polar method. */
  normal(): number {
    const { spare } = this;
    if (!Number.isNaN(spare)) {
      this.spare = Number.NaN;
      return spare;
    }
    for (;;) {
      const x = (this.whole32() / TWO_32) * 2 - 1;
      const y = (this.whole32() / TWO_32) * 2 - 1;
      const square = x * x + y * y;
      if (square >= 1 || square === 0) continue;
      const scale = Math.sqrt((-2 * Math.log(square)) / square);
      this.spare = y * scale;
      return x * scale;
    }
  }
}
