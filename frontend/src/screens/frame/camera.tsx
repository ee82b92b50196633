import type { RefObject } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Json, PhotographRole, Place, Shop } from '../../services/shop';
import './camera.css';
import { isLiveChosen, openLive } from './camera_choice';

export interface Taken {
  record: string;
  number: string;
  photograph: string;
}

/** What the camera is to photograph: a record whose number is already stored. */
export interface Wanted {
  record: string;
  number: string;
  role: PhotographRole;
  mirrored: boolean;
  /** What else is known of the picture: the view it repeats, where the lamp stands. */
  more?: Record<string, Json>;
}

/** What the shutter starts: a place, and what is known of the defect before it is looked at. */
export interface Shot {
  place: Place;
  survey: string | null;
  mirrored: boolean;
  set?: Record<string, Json>;
}

export interface Camera {
  input: RefObject<HTMLInputElement | null>;
  /** Stores number, place and draft, then opens the camera. */
  shutter: (shot: Shot) => Promise<void>;
  /** Opens the camera for a record that has its number. */
  open: (want: Wanted) => void;
  onFile: () => Promise<void>;
  /** Number of the record whose picture was not taken after all. */
  dismissed: string | null;
  /** Shows what is under way without drawing the whole screen anew. */
  note: RefObject<((note: Note | null) => void) | null>;
}

/** The record whose picture is being taken or stored. */
interface Note {
  number: string;
  what: string;
}

/**
 * The shutter: number, place and draft are stored first, then the system's camera opens.
 * The file is handed on the moment it comes; it is taken when the disk has it, and kept when it
 * read back: one that does not is off the record again, and the person is told.
 */
export function useCamera(
  shop: Shop,
  taken: (taken: Taken) => void,
  failed: (error: unknown) => void,
): Camera {
  const input = useRef<HTMLInputElement>(null);
  const note = useRef<((note: Note | null) => void) | null>(null);
  const wanted = useRef<Wanted | null>(null);
  const [dismissed, setDismissed] = useState<string | null>(null);
  useEffect(() => {
    const element = input.current;
    const cancel = () => {
      note.current?.(null);
      setDismissed(wanted.current?.number ?? null);
    };
    element?.addEventListener('cancel', cancel);
    return () => element?.removeEventListener('cancel', cancel);
  });
  const open = (want: Wanted) => {
    if (isLiveChosen() && !want.more) return openLive(want);
    wanted.current = want;
    setDismissed(null);
    note.current?.({ number: want.number, what: 'is stored. Take its picture.' });
    input.current?.click();
  };
  const shutter = async (shot: Shot) => {
    const { session } = shop;
    if (!session) return;
    const { place, survey, mirrored, set } = shot;
    const draft = await shop.capture.shutter(session, place, survey ?? undefined, set);
    open({ ...draft, role: 'wide', mirrored });
  };
  const onFile = async () => {
    const file = input.current?.files?.[0];
    const want = wanted.current;
    if (!file || !want || !shop.session) return;
    const { record, number, role, mirrored, more } = want;
    try {
      const { session } = shop;
      const { capture } = shop;
      const adding = capture.addPhotograph(session, record, file, role, 'file', mirrored, more);
      note.current?.({ number, what: 'is stored. Storing its picture …' });
      const photograph = await adding;
      taken({ record, number, photograph: photograph.record });
      await shop.capture.checked(photograph.record);
    } catch (error) {
      failed(error);
    } finally {
      note.current?.(null);
      if (input.current) input.current.value = '';
    }
  };
  return { input, shutter, open, onFile, dismissed, note };
}

/** The system's camera behind a screen: keys open it, nobody sees or steps to it. */
export function CameraInput({ camera }: { camera: Camera }) {
  const [note, setNote] = useState<Note | null>(null);
  camera.note.current = setNote;
  return (
    <>
      <input
        ref={camera.input}
        class="spoken"
        type="file"
        accept="image/*"
        capture="environment"
        aria-label="Photograph"
        tabIndex={-1}
        onChange={camera.onFile}
      />
      <output class={note ? 'camera-note' : 'spoken'}>
        {note && (
          <>
            <strong>{note.number}</strong> {note.what}
          </>
        )}
      </output>
    </>
  );
}
