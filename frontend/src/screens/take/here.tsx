import type { Copies, Shop, StatusLine, WholeNeed } from '../../services/shop';
import { photographsIn } from '../../services/status';
import { sizeWords } from '../../services/take_work';
import { useExchange } from '../frame/contact';
import { ageWords, hereWords, whenWords, zoneNames } from './words';

interface Props {
  shop: Shop;
  line: StatusLine | undefined;
  records: number;
  people: number | undefined;
  chosen: readonly string[];
  copies: Copies;
  need: WholeNeed | undefined;
}

/** What is here, how old it is, and what is not: a ruled table, one line a thing. */
export function HereTable(props: Props) {
  const { whole_ms } = useExchange(props.shop);
  const all = [
    log(props, whole_ms),
    drawings(props),
    names(props),
    photographs(props),
    notHere(props),
    room(props),
    store(props),
  ];
  return (
    <table class="take-here">
      <caption>What is here</caption>
      <tbody>
        {all.map(({ name, says, lacks }) => (
          <tr key={name} class={lacks ? 'lacks' : ''}>
            <th scope="row">{name}</th>
            <td>{says}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** One line; what lacks is bold. */
interface Line {
  name: string;
  says: string;
  lacks: boolean;
}

function countedRecords(count: Props['records']): string {
  return `${count} ${count === 1 ? 'record' : 'records'}`;
}

function log({ shop, records }: Props, whole_ms: number | null): Line {
  const name = 'Log';
  if (whole_ms === null)
    return { name, says: `not whole: ${countedRecords(records)}`, lacks: true };
  const age = `${whenWords(whole_ms, shop)}, ${ageWords(shop.now() - whole_ms)}`;
  return { name, says: `whole as of ${age}: ${countedRecords(records)}`, lacks: false };
}

function drawings({ shop, need }: Props): Line {
  const { definition, standard } = shop;
  const limits = standard ? `limits ${standard.name} issue ${standard.issue}` : 'limits not here';
  const lacking = need?.drawings_lacking ?? 0;
  const not_here =
    lacking > 0 ? ` · ${lacking} ${lacking === 1 ? 'drawing' : 'drawings'} not here` : '';
  const says = definition
    ? `${definition.name} issue ${definition.issue} · ${limits}${not_here}`
    : 'not here: they come with the log';
  return { name: 'Drawings', says, lacks: !definition || !standard || lacking > 0 };
}

function names({ people }: Props): Line {
  const says = `${people ?? '…'} ${people === 1 ? 'person' : 'people'} can sign in with no network`;
  return { name: 'Names', says, lacks: people === 0 };
}

function photographs({ chosen, need }: Props): Line {
  const name = 'Photographs';
  if (chosen.length === 0) return { name, says: 'no zone chosen: touch them below', lacks: false };
  const says = need ? `${zoneNames(chosen)}: ${hereWords(need)}` : 'counting …';
  return { name, says, lacks: need !== undefined && need.here < need.photographs };
}

function notHere({ shop, chosen, need }: Props): Line {
  const lacking = need ? need.photographs - need.here : 0;
  const { not_there } = shop.take.state;
  const others = chosen.length > 0 ? 'the other zones' : 'all zones';
  const parts = [
    lacking > 0 ? `${lacking} photographs of ${zoneNames(chosen)}` : '',
    not_there > 0 ? `${not_there} photographs or drawings that the server has not got yet` : '',
    `photographs of ${others}, but for those shown here before`,
  ];
  return { name: 'Not here', says: parts.filter(Boolean).join('; '), lacks: false };
}

function room({ line, need }: Props): Line {
  const name = 'Room';
  const bytes = line?.room_bytes ?? null;
  const needs = `needs ${sizeWords(need?.bytes ?? 0)}`;
  if (bytes === null) return { name, says: `${needs}; the browser says no room`, lacks: false };
  const left = photographsIn(bytes - (need?.bytes ?? 0));
  const says = `${needs}, room for ${sizeWords(bytes)}: then ${left} photographs left`;
  return { name, says, lacks: (need?.bytes ?? 0) > bytes };
}

function store({ line }: Props): Line {
  const name = 'Kept';
  if (!line || line.kept === null)
    return { name, says: 'the browser is asked first', lacks: false };
  const says = line.kept
    ? 'the browser keeps this store'
    : 'the browser may clear this store: KEEP THIS STORE, below, asks it not to';
  return { name, says, lacks: !line.kept };
}
