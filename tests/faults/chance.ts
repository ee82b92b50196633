/** mulberry32: draws that come again with the same seed. */
export class Chance {
  private state: number;

  constructor(seed: number) {
    this.state = seed >>> 0;
  }

  next(): number {
    this.state = (this.state + 0x6d2b79f5) >>> 0;
    let word = Math.imul(this.state ^ (this.state >>> 15), this.state | 1);
    word = (word + Math.imul(word ^ (word >>> 7), word | 61)) ^ word;
    return ((word ^ (word >>> 14)) >>> 0) / 2 ** 32;
  }

  /** A whole number from 0 to below a limit. */
  below(limit: number): number {
    return Math.floor(this.next() * limit);
  }

  is(share: number): boolean {
    return this.next() < share;
  }

  one<T>(list: readonly T[]): T {
    if (list.length === 0) throw new Error('There is nothing to choose from.');
    return list[this.below(list.length)] as T;
  }

  /** One of the names, each as likely as its weight. */
  weighed<T extends string>(weights: Readonly<Record<T, number>>): T {
    const names = Object.keys(weights) as T[];
    let left = this.next() * names.reduce((sum, name) => sum + weights[name], 0);
    for (const name of names) {
      left -= weights[name];
      if (left < 0) return name;
    }
    return names.at(-1) as T;
  }
}
