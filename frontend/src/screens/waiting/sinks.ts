/** Where a memory-stick file goes: straight to the place chosen, else by the browser's downloads. */

import type { Sink } from '../../services/shop_stick';

interface Picked {
  createWritable(): Promise<FileSystemWritableFileStream>;
}
type Picker = (options: { suggestedName: string }) => Promise<Picked>;

export interface OpenSink extends Sink {
  /** Ends the file; only then it lies where it should. */
  end(): Promise<void>;
  /** Leaves nothing behind. */
  abandon(): Promise<void>;
}

/** Asks where the file goes; null where the person thought better of it. */
export async function openSink(name: string): Promise<OpenSink | null> {
  const { showSaveFilePicker } = window as Window & { showSaveFilePicker?: Picker };
  if (!showSaveFilePicker) return new Download(name);
  try {
    const picked = await showSaveFilePicker.call(window, { suggestedName: name });
    const stream = await picked.createWritable();
    return {
      write: (bytes) => stream.write(bytes),
      end: () => stream.close(),
      abandon: () => stream.abort().catch(() => {}),
    };
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return null;
    throw error;
  }
}

/** Pieces are handed to the browser one by one, which may lay them on the disk. */
class Download implements OpenSink {
  private pieces: Blob[] = [];

  constructor(private readonly name: string) {}

  async write(bytes: Uint8Array<ArrayBuffer>): Promise<void> {
    this.pieces.push(new Blob([bytes]));
  }

  async end(): Promise<void> {
    const url = URL.createObjectURL(new Blob(this.pieces, { type: 'application/zip' }));
    const link = document.createElement('a');
    link.href = url;
    link.download = this.name;
    link.click();
    this.pieces = [];
    setTimeout(() => URL.revokeObjectURL(url), 600_000);
  }

  async abandon(): Promise<void> {
    this.pieces = [];
  }
}
