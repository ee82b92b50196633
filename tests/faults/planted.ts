// Faults planted in the tablets of the schedules, to see whether schedules find them. Each stands for
// a mistake somebody could make in the app; they live in the process of the tests alone.
import { takePage } from '@sync/exchange';
import { Refused } from '../../frontend/src/domain/errors';
import { KeptExchange } from '../../frontend/src/services/exchange';
import { KeptFiles } from '../../frontend/src/services/files';
import type { OpenShop } from '../../frontend/src/services/open';
import type { BookStore } from '../../frontend/src/storage/database';
import { DERIVED_STORES, takeIn } from '../../frontend/src/storage/derive';
import { OUTBOX_STORES, readOutbox, writeOutbox } from '../../frontend/src/storage/outbox';
import type { StoreName } from '../../frontend/src/storage/schema';

/** The fault that is planted now. */
export const PLANTED: { name: string | null } = { name: null };
export const SAME_WRITER = 'a writer goes on after a start and in a clone';

type Method = (...given: never[]) => Promise<unknown>;
type Methods = Record<string, Method>;
const STORES = [...new Set<StoreName>([...DERIVED_STORES, ...OUTBOX_STORES])];
const EVERY = 3;

/** Puts another method in the place of one of the app's; returns what puts it back. */
function inPlaceOf(owner: object, name: string, planted: (plain: Method) => unknown): () => void {
  const methods = owner as Methods;
  const plain = methods[name] as Method;
  methods[name] = planted(plain) as Method;
  return () => {
    methods[name] = plain;
  };
}

type Inside = {
  host: { store: BookStore };
  change(step: (outbox: Outbox) => Outbox): Promise<void>;
};
type Outbox = Awaited<ReturnType<typeof readOutbox>>;

const exchange = KeptExchange.prototype;
const files = KeptFiles.prototype;

/** No question whether what was sent is still there: by the hour it would make good what was
planted. */
const noFilesAsked = () => inPlaceOf(files, 'askHeld', () => async () => {});
const noLogCompared = () => inPlaceOf(exchange, 'isOtherLog', () => async () => false);

export const PLANTS: Record<string, () => () => void> = {
  'a cut answer taken for a yes': () =>
    inPlaceOf(
      exchange,
      'send',
      (plain) =>
        async function (this: Inside) {
          try {
            return await plain.call(this);
          } catch (error) {
            if (error instanceof Refused && error.message.includes('cut short'))
              await this.change((outbox) => ({ ...outbox, unsent: outbox.unsent.slice(1) }));
            throw error;
          }
        },
    ),
  'the cursor moved before its page is stored': () =>
    inPlaceOf(
      exchange,
      'takePage',
      () =>
        async function (this: Inside, ...[, head, arrivals]: Parameters<TakePage>) {
          const { store } = this.host;
          const ids = arrivals.map(({ entry }) => entry.id);
          await store.write(OUTBOX_ALSO, async (tx) => {
            const outbox = await readOutbox(tx, store.book);
            await writeOutbox(tx, outbox, takePage(outbox, head, ids));
          });
          await store.write(STORES, (tx) => takeIn(tx, arrivals));
        },
    ),
  'a photograph counted as sent before it is': () =>
    inPlaceOf(
      files,
      'put',
      (plain) =>
        async function (this: { acknowledge(some: string[]): Promise<void> }, ...given: never[]) {
          await this.acknowledge([given[0] as unknown as string]);
          return plain.apply(this, given);
        },
    ),
  'after a new epoch only its own offered': () =>
    inPlaceOf(
      exchange,
      'offerAgain',
      (plain) =>
        async function (this: Inside, ...given: never[]) {
          await plain.apply(this, given);
          const { store } = this.host;
          const mine = await store.read(['entries', 'meta'], async (tx) => {
            const device = (await tx.objectStore('meta').get('device')) as { device: string };
            const all = await tx.objectStore('entries').getAll();
            const isMine = (line: string) => line.includes(`"device":"${device.device}"`);
            return new Set(all.filter(({ line }) => isMine(line)).map(({ id }) => id));
          });
          await this.change((outbox) => ({
            ...outbox,
            unsent: outbox.unsent.filter((id) => mine.has(id)),
          }));
        },
    ),
  'after a new epoch no photograph asked about': () =>
    inPlaceOf(
      exchange,
      'offerAgain',
      (plain) =>
        async function (this: Inside, ...given: never[]) {
          await plain.apply(this, given);
          await this.change((outbox) => ({ ...outbox, ask_files: false }));
        },
    ),
  'an entry of a page left out': () => {
    let count = 0;
    return inPlaceOf(
      exchange,
      'takePage',
      (plain) =>
        function (this: Inside, ...[asked, head, arrivals]: Parameters<TakePage>) {
          count += 1;
          const some = count % EVERY === 0 ? arrivals.slice(1) : arrivals;
          return plain.apply(this, [asked, head, some] as never);
        },
    );
  },
  [SAME_WRITER]: () => () => {},
};

type TakePage = (
  asked: unknown,
  head: Parameters<typeof takePage>[1],
  arrivals: Parameters<typeof takeIn>[1],
) => unknown;
const OUTBOX_ALSO: StoreName[] = [...OUTBOX_STORES, 'entries'];

/** The questions that are put by the hour, each of which may be left out as well. */
export const QUESTIONS: Record<string, () => () => void> = {
  'no photograph asked about once it was sent': noFilesAsked,
  'the log never compared': noLogCompared,
};

/** Plants a fault of the tablets; what is returned takes it out again. */
export function plantHere(name: string): () => void {
  PLANTED.name = name;
  const took = QUESTIONS[name] ? [QUESTIONS[name]] : [noFilesAsked, noLogCompared];
  const out = [...took, PLANTS[name] ?? (() => () => {})].map((put) => put());
  return () => {
    PLANTED.name = null;
    for (const takeOut of out) takeOut();
  };
}

interface WithChain {
  parts: { writer: { chain: unknown } };
}

/** Where an app's chain stands, writer and number. */
export const chainOf = (shop: OpenShop): unknown =>
  (shop as unknown as WithChain).parts.writer.chain;

/** Has an app go on with a chain that another start of it wrote. */
export function goOnWith(shop: OpenShop, chain: unknown): void {
  (shop as unknown as WithChain).parts.writer.chain = chain;
}
