/** Which instruments of the book could measure a figure. */

/** An instrument's record as the book has it: name, title, range, due. */
export type InstrumentWords = Readonly<Record<string, unknown>>;

/** What the title of an instrument for a figure speaks of. */
const SPEAKS_OF: Record<string, RegExp> = {
  depth: /depth|dial|pit/i,
  hole_major: /hole|bore|plug/i,
  hole_minor: /hole|bore|plug/i,
};
/** Figures are lengths; a range in another unit is of something else. */
const LENGTH = /(?:\b|\d)(in|mm|µm|thou)\b|[″"]$/i;
const NOT_LENGTH = /pressure|torque|temperature|tension/i;

/** The instruments that suit a figure, the nearest to it first, and the others; both by name. */
export function instrumentsFor<T extends InstrumentWords>(
  field: string | undefined,
  instruments: readonly T[],
): { suits: T[]; others: T[] } {
  const sorted = [...instruments].sort(
    (one, other) =>
      rank(field, one) - rank(field, other) || String(one.name).localeCompare(String(other.name)),
  );
  return {
    suits: sorted.filter((one) => rank(field, one) < OTHER),
    others: sorted.filter((one) => rank(field, one) === OTHER),
  };
}

const OTHER = 2;

/** 0: of this very figure; 1: of a length; 2: of something else. */
function rank(field: string | undefined, { title, range }: InstrumentWords): number {
  const [words, reach] = [String(title ?? ''), String(range ?? '')];
  if (reach !== '' && !LENGTH.test(reach)) return OTHER;
  if (NOT_LENGTH.test(words)) return OTHER;
  const own = SPEAKS_OF[field ?? ''];
  if (own?.test(words)) return 0;
  const is_of_another = Object.values(SPEAKS_OF).some((one) => one.test(words));
  return field !== undefined && is_of_another ? OTHER : 1;
}
