import { useRef, useState } from 'preact/hooks';
import { announce, ErrorFrame, Key } from '../../furniture';
import type { Shop } from '../../services/shop';
import { useTrouble } from '../frame/trouble';
import { readIn, type Told } from './read_in';

/** Reads an earlier paper register in: all of it, or nothing with a list of what is wrong where. */
export function Register({ shop, whyNot }: { shop: Shop; whyNot: string | undefined }) {
  const picker = useRef<HTMLInputElement>(null);
  const [told, setTold] = useState<Told | null>(null);
  const [step, setStep] = useState<[stored: number, of: number] | null>(null);
  const { trouble, busy, run } = useTrouble();
  const soon = step ? `${step[0]} of ${step[1]} lines stored …` : 'a moment …';
  const unavailable = busy ? soon : whyNot;
  const read = (file: File) =>
    run(async () => {
      setTold(null);
      const path = `/api/paper/register${ofAirframe(shop)}`;
      const found = await readIn(shop.api, path, file, (...step) => setStep(step)).finally(() =>
        setStep(null),
      );
      setTold(found);
      if (found.stored > 0) {
        announce(`${found.stored} records are stored.`);
        void shop.exchange.sendNow();
      }
    });
  return (
    <div class="paper-register">
      <p>
        CSV in UTF-8 with the headings of the form; a line is known again by its number. While one
        line is wrong nothing is stored.
      </p>
      <input
        ref={picker}
        type="file"
        accept=".csv,text/csv"
        class="spoken"
        aria-label="Register as CSV"
        tabIndex={-1}
        disabled={unavailable !== undefined}
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? [];
          event.currentTarget.value = '';
          if (file) void read(file);
        }}
      />
      <Key
        label="READ A REGISTER IN"
        second="CSV"
        unavailable={unavailable}
        onPress={() => picker.current?.click()}
      />
      {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
      {told && told.troubles.length === 0 && (
        <p role="status">
          <b>Lines read: {told.records}.</b> {told.stored} new, {told.here} here already.
        </p>
      )}
      {told && told.troubles.length > 0 && (
        <>
          <ErrorFrame
            title={`${told.stored > 0 ? `${told.stored} lines were stored, then came` : 'Nothing was stored:'} ${told.troubles.length} ${told.troubles.length === 1 ? 'fault' : 'faults'}.`}
            text="Mend the file and read it in again."
          />
          <table class="paper-troubles">
            <thead>
              <tr>
                {['Line', 'Column', 'What is wrong'].map((head) => (
                  <th key={head} scope="col">
                    {head}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {told.troubles.map(({ line, column, message }) => (
                <tr key={`${line} ${column} ${message}`}>
                  <th scope="row">{line}</th>
                  <td>{column}</td>
                  <td>{message}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
    </div>
  );
}

/** The query that names the airframe shown: in a book of several the server asks for it. */
export function ofAirframe({ airframe }: Shop): string {
  const number = airframe?.constructor_number;
  return number ? `?${new URLSearchParams({ airframe: number })}` : '';
}
