import type { RefObject } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Json, PhotographRole, Place, Shop } from '../../services/shop';

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
}

/**
 * The shutter: number, place and draft are stored first, then the system's camera opens.
 * The file is handed on the moment it comes; it counts as taken once it is stored and re-read.
 */
export function useCamera(
  shop: Shop,
  taken: (taken: Taken) => void,
  failed: (error: unknown) => void,
): Camera {
  const input = useRef<HTMLInputElement>(null);
  const wanted = useRef<Wanted | null>(null);
  const [dismissed, setDismissed] = useState<string | null>(null);
  useEffect(() => {
    const element = input.current;
    const cancel = () => setDismissed(wanted.current?.number ?? null);
    element?.addEventListener('cancel', cancel);
    return () => element?.removeEventListener('cancel', cancel);
  });
  const open = (want: Wanted) => {
    wanted.current = want;
    setDismissed(null);
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
    try {
      const photograph = await shop.capture.addPhotograph(
        shop.session,
        want.record,
        file,
        want.role,
        'file',
        want.mirrored,
      );
      taken({ record: want.record, number: want.number, photograph: photograph.record });
    } catch (error) {
      failed(error);
    } finally {
      if (input.current) input.current.value = '';
    }
  };
  return { input, shutter, open, onFile, dismissed };
}

/** The system's camera behind a screen: keys open it, nobody sees or steps to it. */
export function CameraInput({ camera }: { camera: Camera }) {
  return (
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
  );
}
