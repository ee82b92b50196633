import { newWords, type Taken } from './sending';

/** What became of a file that was taken in. */
export function TakenTable({ taken, name }: { taken: Taken; name: string }) {
  const { letter, entries, stored, photographs, photographs_stored, turned } = taken;
  const is_old = stored === 0 && photographs_stored === 0;
  return (
    <div class="take-in-taken" role="status">
      <h2>
        {letter ? `Tablet ${letter}` : 'Desk'}: {is_old ? 'nothing in it was new' : 'taken in'}
      </h2>
      <table class="take-in-table">
        <tbody>
          <tr>
            <th scope="row">File</th>
            <td>
              {name}
              <small>contents {taken.sha256.slice(0, 16)}</small>
            </td>
          </tr>
          <tr>
            <th scope="row">Entries</th>
            <td>{newWords(entries, stored, turned.length)}</td>
          </tr>
          <tr>
            <th scope="row">Photographs</th>
            <td>{newWords(photographs, photographs_stored)}</td>
          </tr>
        </tbody>
      </table>
      {turned.map((reason) => (
        <p key={reason}>Refused: {reason}</p>
      ))}
    </div>
  );
}
