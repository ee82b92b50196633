import { useEffect, useRef, useState } from 'preact/hooks';
import { announce, ErrorFrame, Key, SAFETY_FULL, Sheet, TitleBlock } from '../../furniture';
import type { ScreenProps, Shop } from '../../services/shop';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { useTrouble } from '../frame/trouble';
import { CountedIndex } from '../questions/counted_index';
import { COLUMNS, nextLine, type Typed } from './columns';
import { ofAirframe, Register } from './register';
import './screen.css';

interface Trouble {
  column: string;
  message: string;
}

/** Records from paper: one after the other by the keyboard alone, or a register as a file. */
export default function Paper({ shop, go }: ScreenProps) {
  const title = useDeskTitle(shop, 'Paper');
  return (
    <Sheet
      layout="desk"
      top={<CountedIndex at="/paper" {...{ shop, go }} />}
      legend={<SendKey shop={shop} size="small" />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      <div class="paper">
        <Entering shop={shop} />
        <section class="paper-files">
          <h2>The form</h2>
          <SheetKey
            shop={shop}
            label="THE FORM TO PRINT"
            second="two defects a sheet, PDF"
            address={`/api/paper/form.pdf${ofAirframe(shop)}`}
            file="paper-form.pdf"
          />
          <h2>The scale card</h2>
          <p>Laid beside a defect it gives a photograph its scale. Print it at 100 %.</p>
          <SheetKey
            shop={shop}
            label="THE CARD TO PRINT"
            second="with bars to measure, PDF"
            address="/api/scale-card.pdf"
            file="scale-card.pdf"
          />
          <h2>An earlier register</h2>
          <Register shop={shop} whyNot={whyNot(shop)} />
          <p class="paper-safety">{SAFETY_FULL}</p>
        </section>
      </div>
    </Sheet>
  );
}

function Entering({ shop }: { shop: Shop }) {
  const [typed, setTyped] = useLine(shop);
  const [troubles, setTroubles] = useState<Trouble[]>([]);
  const [stored, setStored] = useState<{ number: string; paper: string }[]>([]);
  const { trouble, busy, run } = useTrouble();
  const form = useRef<HTMLFormElement>(null);
  const unavailable = busy ? 'a moment …' : whyNot(shop);
  const store = () =>
    run(async () => {
      const told = await shop.api.post<{ number: string | null; troubles: Trouble[] }>(
        '/api/paper',
        { typed, airframe: shop.airframe?.constructor_number ?? '' },
      );
      setTroubles(told.troubles);
      if (told.number === null) {
        focus(form.current, told.troubles[0]?.column);
        return;
      }
      setStored([{ number: told.number, paper: typed.paper_number ?? '' }, ...stored]);
      setTyped(nextLine(typed));
      announce(`${told.number} is stored.`);
      focus(form.current, 'paper_number');
      void shop.exchange.sendNow();
    });
  return (
    <section class="paper-entering">
      <h1>Enter from paper</h1>
      <p>
        One line after the other; ENTER stores it. Who found it and when stands beside whoever types
        it. The record gets its number here, of the letter that is kept for paper.
      </p>
      {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
      <form
        ref={form}
        class="paper-line"
        onSubmit={(event) => {
          event.preventDefault();
          if (unavailable === undefined) void store();
        }}
      >
        {COLUMNS.map((column) => {
          const wrong = troubles.find((one) => one.column === column.name);
          const id = `paper-${column.name}`;
          return (
            <div key={column.name} class={`paper-field paper-${column.name}`}>
              <label for={id}>
                {column.label}
                {column.needed ? ' *' : ''}
              </label>
              <input
                id={id}
                name={column.name}
                type="text"
                autocomplete="off"
                placeholder={column.example}
                value={typed[column.name] ?? ''}
                aria-invalid={wrong !== undefined}
                aria-describedby={wrong ? `${id}-wrong` : undefined}
                onInput={(event) =>
                  setTyped({ ...typed, [column.name]: event.currentTarget.value })
                }
              />
              {wrong && (
                <p id={`${id}-wrong`} class="paper-wrong">
                  {wrong.message}
                </p>
              )}
            </div>
          );
        })}
        <Key
          type="submit"
          label="STORE THE LINE"
          kind="main"
          letters={24}
          second="ENTER"
          unavailable={unavailable}
        />
      </form>
      {stored.length > 0 && (
        <ol class="paper-stored" aria-label="Stored now" reversed>
          {stored.map(({ number, paper }) => (
            <li key={number}>
              <b>{number}</b> from paper {paper}
            </li>
          ))}
        </ol>
      )}
    </section>
  );
}

interface SheetKeyProps {
  shop: Shop;
  label: string;
  second: string;
  address: string;
  file: string;
}

/** Fetches a sheet to print from the server and hands it to the browser as a file. */
function SheetKey({ shop, label, second, address, file }: SheetKeyProps) {
  const { trouble, busy, run } = useTrouble();
  const fetchSheet = () =>
    run(async () => {
      const url = URL.createObjectURL(await shop.api.document(address));
      const link = document.createElement('a');
      link.href = url;
      link.download = file;
      link.click();
      setTimeout(() => URL.revokeObjectURL(url), 60_000);
    });
  return (
    <>
      <Key
        label={label}
        second={second}
        unavailable={
          busy ? 'a moment …' : shop.session?.online ? undefined : 'the server is not in reach'
        }
        onPress={fetchSheet}
      />
      {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
    </>
  );
}

/** The line being typed; it is still there after a reload. */
function useLine(shop: Shop): [Typed, (typed: Typed) => void] {
  const [typed, setTyped] = useState<Typed>({});
  const { session } = shop;
  useEffect(() => {
    if (session)
      shop.drafts.read<Typed>(session, 'paper').then(
        (found) => found && setTyped(found),
        () => undefined,
      );
  }, [shop, session?.person]);
  const keep = (line: Typed) => {
    setTyped(line);
    if (session) void shop.drafts.write(session, 'paper', line);
  };
  return [typed, keep];
}

function focus(form: HTMLFormElement | null, name: string | undefined) {
  const field = name && form?.elements.namedItem(name);
  if (field instanceof HTMLInputElement) {
    field.focus();
    field.select();
  }
}

function whyNot(shop: Shop): string | undefined {
  const { session } = shop;
  if (!session || ['clerk', 'design_authority'].includes(session.role))
    return 'for an inspector, a lead or a fitter';
  return session.online ? undefined : 'the server is not in reach';
}
