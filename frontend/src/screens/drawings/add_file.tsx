import { useRef, useState } from 'preact/hooks';
import { announce, DeskKey, ErrorFrame } from '../../furniture';
import type { Shop } from '../../services/shop';
import { TextField } from '../frame/fields';
import { useTrouble } from '../frame/trouble';
import type { Drawing } from './known';

interface Added {
  sha256: string;
  media_type: string;
  width_px: number;
  height_px: number;
  size_bytes: number;
  pages: number;
}

const KINDS = '.png,.jpg,.jpeg,.svg,.pdf,image/png,image/jpeg,image/svg+xml,application/pdf';

/** Adds the file of a drawing; of a PDF its pages can be turned. */
export function AddFile(props: {
  shop: Shop;
  drawing: Drawing;
  whyNot: string | undefined;
  onPicture: (picture: Drawing['picture']) => void;
}) {
  const { shop, drawing, whyNot } = props;
  const picker = useRef<HTMLInputElement>(null);
  const [file, setFile] = useState<File | null>(null);
  const [pages, setPages] = useState(1);
  const [page, setPage] = useState('1');
  const { trouble, busy, run } = useTrouble();
  const unavailable = busy ? 'a moment …' : whyNot;
  const add = (from: File, at: string) =>
    run(async () => {
      const path = `/api/drawings?page=${encodeURIComponent(at)}`;
      const { pages: found, ...picture } = await shop.api.postBytes<Added & Record<string, never>>(
        path,
        from,
      );
      setFile(from);
      setPages(found);
      props.onPicture(picture);
      announce(`The picture has ${picture.width_px} by ${picture.height_px} px.`);
    });
  return (
    <div class="add-file">
      <input
        ref={picker}
        type="file"
        accept={KINDS}
        class="spoken"
        aria-label="File of the drawing"
        tabIndex={-1}
        disabled={unavailable !== undefined}
        onChange={(event) => {
          const [found] = event.currentTarget.files ?? [];
          event.currentTarget.value = '';
          setPage('1');
          if (found) void add(found, '1');
        }}
      />
      <DeskKey
        label={drawing.picture ? 'ANOTHER FILE' : 'ADD A FILE'}
        kind={drawing.picture ? 'plain' : 'main'}
        second="PNG, JPEG, SVG or PDF"
        unavailable={unavailable}
        onPress={() => picker.current?.click()}
      />
      {file && pages > 1 && (
        <>
          <TextField label={`Page of ${pages}`} value={page} figures onText={setPage} />
          <DeskKey
            label="SHOW THIS PAGE"
            unavailable={unavailable}
            onPress={() => void add(file, page.trim() || '1')}
          />
        </>
      )}
      {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
    </div>
  );
}
