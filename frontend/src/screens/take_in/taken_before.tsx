import { Loading } from '../../furniture';
import type { Json, Shop } from '../../services/shop';
import { useLive } from '../live';

interface Line {
  entry: string;
  letter: string;
  date: string;
  by: string;
  why: string | null;
  entries: number;
  photographs: number;
}

/** Every file that was taken in, the newest first, as the book has it. */
export function TakenBefore({ shop }: { shop: Shop }) {
  const lines = useLive(shop, () => readLines(shop), []);
  if (!lines) return <Loading what="Files taken in" />;
  if (lines.length === 0) return <p>No memory-stick file was taken in yet.</p>;
  return (
    <table class="take-in-table">
      <thead>
        <tr>
          {['Tablet', 'Day', 'New in it', 'By'].map((head) => (
            <th key={head} scope="col">
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={line.entry}>
            <th scope="row">{line.letter}</th>
            <td>{line.date}</td>
            <td>
              entries {line.entries}, photographs {line.photographs}
            </td>
            <td>
              {line.by}
              {line.why && <small>{line.why}</small>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

async function readLines(shop: Shop): Promise<Line[]> {
  const names = await shop.people.names();
  const tablets = await shop.book.records('tablet');
  const found = await Promise.all(
    tablets.map(async ({ record, letter }) => {
      const written = await shop.book.written(record, 'taken_in');
      return written.map(({ entry, date, by, why, value }) => ({
        ...{ entry, date, why, by: names[by] ?? by },
        letter: typeof letter === 'string' ? letter : 'Desk',
        entries: numberIn(value, 'entries'),
        photographs: numberIn(value, 'photographs'),
      }));
    }),
  );
  return found.flat().sort((a, b) => (a.entry < b.entry ? 1 : -1));
}

function numberIn(value: Json, name: string): number {
  const found = value && typeof value === 'object' && !Array.isArray(value) ? value[name] : 0;
  return typeof found === 'number' ? found : 0;
}
