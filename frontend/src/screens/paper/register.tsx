import { useRef, useState } from 'preact/hooks';
import { announce, ErrorFrame, Key } from '../../furniture';
import type { Shop } from '../../services/shop';
import { useTrouble } from '../frame/trouble';

interface Told {
  records: number;
  stored: number;
  here: number;
  numbers: string[];
  troubles: { line: number; column: string; message: string }[];
}

/** Reads an earlier paper register in: all of it, or nothing with a list of what is wrong where. */
export function Register({ shop, whyNot }: { shop: Shop; whyNot: string | undefined }) {
  const picker = useRef<HTMLInputElement>(null);
  const [told, setTold] = useState<Told | null>(null);
  const { trouble, busy, run } = useTrouble();
  const unavailable = busy ? 'a moment …' : whyNot;
  const read = (file: File) =>
    run(async () => {
      setTold(null);
      const found = await shop.api.postBytes<Told>('/api/paper/register', file);
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
            title={`Nothing was stored: ${told.troubles.length} ${told.troubles.length === 1 ? 'fault' : 'faults'}.`}
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
