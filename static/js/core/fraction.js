// Exact fractions on BigInt, as Python's fractions.Fraction.

const gcd = (a, b) => {
  while (b) [a, b] = [b, a % b];
  return a < 0n ? -a : a;
};

export const floorDiv = (a, b) => {
  const q = a / b;
  return a % b !== 0n && a < 0n !== b < 0n ? q - 1n : q;
};

const bits = (n) => n.toString(2).length;

// n / d as the nearest double, ties to even, as Python divides whole numbers.
export function divide(n, d) {
  const sign = n < 0n ? -1 : 1;
  if (n < 0n) n = -n;
  if (n <= 0x1fffffffffffffn && d <= 0x1fffffffffffffn) return (sign * Number(n)) / Number(d);
  // A quotient of 66 bits or more with a sticky last bit rounds right, also through Number().
  const shift = Math.max(0, 66 + bits(d) - bits(n));
  let q = (n << BigInt(shift)) / d;
  if ((q * d) !== n << BigInt(shift)) q |= 1n;
  const big = Number(q);
  return shift > 1000 ? sign * big * 2 ** -1000 * 2 ** (1000 - shift) : sign * big * 2 ** -shift;
}

export class Fraction {
  constructor(n, d = 1n) {
    n = BigInt(n);
    d = BigInt(d);
    if (d < 0n) [n, d] = [-n, -d];
    const g = gcd(n, d) || 1n;
    this.n = n / g;
    this.d = d / g;
  }

  // A Fraction, a whole number, any double (exactly) or text such as "1/16", "1.625", ".5".
  static of(value) {
    if (value instanceof Fraction) return value;
    if (typeof value === "bigint") return new Fraction(value);
    if (typeof value === "number") return Fraction.fromNumber(value);
    const [top, bottom] = value.split("/");
    if (bottom !== undefined) return new Fraction(top, bottom);
    const [whole, places = ""] = top.split(".");
    return new Fraction(BigInt(whole + places), 10n ** BigInt(places.length));
  }

  static fromNumber(x) {
    if (Number.isInteger(x)) return new Fraction(BigInt(x));
    let power = 0;
    while (!Number.isInteger(x)) {
      x *= 2;
      power += 1;
    }
    return new Fraction(BigInt(x), 1n << BigInt(power));
  }

  add(other) {
    const o = Fraction.of(other);
    return new Fraction(this.n * o.d + o.n * this.d, this.d * o.d);
  }

  sub(other) {
    return this.add(Fraction.of(other).neg());
  }

  mul(other) {
    const o = Fraction.of(other);
    return new Fraction(this.n * o.n, this.d * o.d);
  }

  div(other) {
    const o = Fraction.of(other);
    return new Fraction(this.n * o.d, this.d * o.n);
  }

  neg() {
    return new Fraction(-this.n, this.d);
  }

  abs() {
    return this.n < 0n ? this.neg() : this;
  }

  // -1, 0 or 1, exactly.
  cmp(other) {
    const o = Fraction.of(other);
    const [a, b] = [this.n * o.d, o.n * this.d];
    return a < b ? -1 : a > b ? 1 : 0;
  }

  lt(other) {
    return this.cmp(other) < 0;
  }

  le(other) {
    return this.cmp(other) <= 0;
  }

  gt(other) {
    return this.cmp(other) > 0;
  }

  ge(other) {
    return this.cmp(other) >= 0;
  }

  eq(other) {
    return this.cmp(other) === 0;
  }

  floor() {
    return floorDiv(this.n, this.d);
  }

  ceil() {
    return -floorDiv(-this.n, this.d);
  }

  // Nearest whole number, halves to even.
  round() {
    const low = this.floor();
    const side = this.sub(low).cmp(HALF);
    return side > 0 || (side === 0 && low % 2n !== 0n) ? low + 1n : low;
  }

  // The closest fraction whose denominator is at most `most` (Python's limit_denominator).
  limitDenominator(most) {
    most = BigInt(most);
    if (this.d <= most) return this;
    let [p0, q0, p1, q1] = [0n, 1n, 1n, 0n];
    let [n, d] = [this.n, this.d];
    for (;;) {
      const a = floorDiv(n, d);
      const q2 = q0 + a * q1;
      if (q2 > most) break;
      [p0, q0, p1, q1] = [p1, q1, p0 + a * p1, q2];
      [n, d] = [d, n - a * d];
    }
    const k = (most - q0) / q1;
    const low = new Fraction(p0 + k * p1, q0 + k * q1);
    const high = new Fraction(p1, q1);
    return high.sub(this).abs().le(low.sub(this).abs()) ? high : low;
  }

  valueOf() {
    return divide(this.n, this.d);
  }

  toString() {
    return this.d === 1n ? `${this.n}` : `${this.n}/${this.d}`;
  }
}

const HALF = new Fraction(1n, 2n);
export const frac = (n, d = 1) => new Fraction(n, d);
