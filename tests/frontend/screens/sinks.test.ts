// @vitest-environment happy-dom
import { afterEach, expect, it, vi } from 'vitest';
import { openSink } from '../../../frontend/src/screens/waiting/sinks';

const bytes = (text: string) => new TextEncoder().encode(text);

/** A place that a person chooses: what lies there, and what was done with it. */
function place(written: (piece: Uint8Array) => Promise<void> = async () => {}) {
  const pieces: string[] = [];
  const done: string[] = [];
  const stream = {
    write: async (piece: Uint8Array) => {
      await written(piece);
      pieces.push(new TextDecoder().decode(piece));
    },
    close: async () => void done.push('closed'),
    abort: async () => void done.push('aborted'),
  };
  const picker = vi.fn(async (_: { suggestedName: string }) => ({
    createWritable: async () => stream,
  }));
  Object.assign(window, { showSaveFilePicker: picker });
  return { pieces, done, picker };
}

afterEach(() => {
  Reflect.deleteProperty(window, 'showSaveFilePicker');
  vi.restoreAllMocks();
});

it('writes piece after piece to the place chosen, which is a file only at the end', async () => {
  const { pieces, done, picker } = place();
  const sink = await openSink('A-2025-11-03-0815.zip');
  expect(picker).toHaveBeenCalledWith({ suggestedName: 'A-2025-11-03-0815.zip' });
  await sink?.write(bytes('one'));
  expect([pieces, done]).toEqual([['one'], []]);
  await sink?.write(bytes('two'));
  await sink?.end();
  expect([pieces, done]).toEqual([['one', 'two'], ['closed']]);
});

it('leaves nothing behind where the stick is full, and says so', async () => {
  const full = new DOMException('no room', 'QuotaExceededError');
  const { done } = place(async () => {
    throw full;
  });
  const sink = await openSink('A.zip');
  await expect(sink?.write(bytes('one'))).rejects.toBe(full);
  await sink?.abandon();
  expect(done).toEqual(['aborted']);
});

it('is none where the person thought better of it, and an error where the place refuses', async () => {
  const { picker } = place();
  picker.mockRejectedValueOnce(new DOMException('left', 'AbortError'));
  expect(await openSink('A.zip')).toBe(null);
  const refused = new DOMException('may not', 'NotAllowedError');
  picker.mockRejectedValueOnce(refused);
  await expect(openSink('A.zip')).rejects.toBe(refused);
});

it('hands all pieces over as one download where no place can be chosen', async () => {
  const made: Blob[] = [];
  vi.spyOn(URL, 'createObjectURL').mockImplementation((blob) => {
    made.push(blob as Blob);
    return 'blob:one';
  });
  const clicked = vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(function (
    this: HTMLAnchorElement,
  ) {
    expect([this.download, this.href]).toEqual(['A.zip', 'blob:one']);
  });
  const sink = await openSink('A.zip');
  await sink?.write(bytes('one'));
  await sink?.write(bytes('two'));
  expect(clicked).not.toHaveBeenCalled();
  await sink?.end();
  expect(clicked).toHaveBeenCalledOnce();
  expect(await made[0]?.text()).toBe('onetwo');
});
