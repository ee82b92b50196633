import { seenWords, type TabletShown } from '../../services/tablets';

/** Each tablet: in or not, what waited on it when it was last seen, and the numbers it gave. */
export function TabletsTable(props: { tablets: TabletShown[]; asked: boolean; away: boolean }) {
  const { tablets } = props;
  if (tablets.length === 0) return <p>No tablet is enrolled in this book yet.</p>;
  return (
    <table class="bars tablet-rows">
      <caption>
        <span class="bars-caption">Tablets</span>
        {!props.asked && (
          <span class="bars-note">
            {props.away
              ? 'the server is away: when each was last seen is not known here'
              : 'when each was last seen is told to the lead by the server'}
          </span>
        )}
      </caption>
      <thead>
        <tr>
          <th scope="col">tablet</th>
          <th scope="col">in or not</th>
          <th scope="col">waited on it</th>
          <th scope="col">numbers here</th>
          <th scope="col" class="bars-figure">
            records
          </th>
        </tr>
      </thead>
      <tbody>
        {tablets.map((tablet) => (
          <tr key={tablet.record}>
            <th scope="row">
              <b class="tablet-letter">{tablet.letter}</b>
            </th>
            <td>{tablet.is_in ? seenWords(tablet) : <b>{seenWords(tablet)}</b>}</td>
            <td>{waitedWords(tablet)}</td>
            <td>{numbersWords(tablet)}</td>
            <td class="bars-figure">
              <b>{tablet.records}</b>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function waitedWords({ unsent }: TabletShown): string {
  if (unsent === null) return 'not told';
  return unsent === 0 ? 'nothing' : `${unsent} unsent`;
}

function numbersWords({ first, last, gaps, drafts }: TabletShown): string {
  if (first === null) return 'none given';
  const parts = [first === last ? first : `${first} – ${last}`];
  if (gaps.length > 0) parts.push(gapWords(gaps));
  if (drafts > 0) parts.push(drafts === 1 ? '1 draft' : `${drafts} drafts`);
  return parts.join(', ');
}

/** Numbers that are in no record here may be on the tablet still. */
function gapWords(gaps: string[]): string {
  return gaps.length > 3 ? `${gaps.length} not here yet` : `${gaps.join(', ')} not here yet`;
}
