import type { RefObject } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { bytesOf } from './outline';

/** No canvas may have more than this, or some tablets give none. */
const MOST_PIXELS = 16_700_000;
const QUALITY = 0.92;
/** The largest picture that cameras commonly stream: 3840 × 2160 has 8.3 Mpx. */
const WANTED: MediaTrackConstraints = {
  facingMode: { ideal: 'environment' },
  width: { ideal: 3840 },
  height: { ideal: 2160 },
};

export interface Stream {
  video: RefObject<HTMLVideoElement | null>;
  /** Upright size of what is shown; null until something is. */
  size: [width_px: number, height_px: number] | null;
  /** Why there is no live view, as a sentence; null while there may be one. */
  refused: string | null;
  again: () => void;
}

/** The camera behind the tablet, from when the screen is opened until it is left. */
export function useStream(): Stream {
  const video = useRef<HTMLVideoElement>(null);
  const [size, setSize] = useState<Stream['size']>(null);
  const [refused, setRefused] = useState<string | null>(null);
  const [tries, setTries] = useState(0);
  useEffect(() => {
    let left = false;
    let stream: MediaStream | null = null;
    const element = video.current;
    const turned = () => {
      if (element && element.videoWidth > 0) setSize([element.videoWidth, element.videoHeight]);
    };
    element?.addEventListener('loadedmetadata', turned);
    // Turning the tablet turns the picture.
    element?.addEventListener('resize', turned);
    setRefused(null);
    openCamera().then(
      (opened) => {
        stream = opened;
        if (left || !element) return stop(opened);
        element.srcObject = opened;
        element.play().catch(() => {}); // What is left before it plays throws.
        for (const track of opened.getTracks())
          track.addEventListener('ended', () => setRefused(WENT));
      },
      (error) => left || setRefused(refusalOf(error)),
    );
    return () => {
      left = true;
      stop(stream);
      element?.removeEventListener('loadedmetadata', turned);
      element?.removeEventListener('resize', turned);
    };
  }, [tries]);
  return { video, size, refused, again: () => setTries((before) => before + 1) };
}

async function openCamera(): Promise<MediaStream> {
  const { mediaDevices } = navigator;
  // Without a secure address browsers have no such member.
  if (!mediaDevices?.getUserMedia) throw new DOMException('', 'NotSupportedError');
  return mediaDevices.getUserMedia({ audio: false, video: WANTED });
}

function stop(stream: MediaStream | null): void {
  for (const track of stream?.getTracks() ?? []) track.stop();
}

const WENT = 'The camera was taken away by another program or by the tablet.';
const REFUSALS: Readonly<Record<string, string>> = {
  NotAllowedError: 'The browser does not let Skinpin use the camera.',
  NotFoundError: 'This device has no camera that the browser knows of.',
  OverconstrainedError: 'This device has no camera that the browser knows of.',
  NotReadableError: 'The camera is in use by another program.',
  NotSupportedError: 'This browser has no live view, or the address is not a secure one.',
};

/** Why the camera did not open, as a plain sentence. */
export function refusalOf(error: unknown): string {
  const name = error instanceof Error ? error.name : '';
  return Object.hasOwn(REFUSALS, name)
    ? (REFUSALS[name] as string)
    : `The camera did not open${name ? ` (${name})` : ''}.`;
}

/** The picture that is shown now, as the bytes of a JPEG. The canvas is let go. */
export async function grabbed(video: HTMLVideoElement): Promise<Blob> {
  const { videoWidth, videoHeight } = video;
  const canvas = document.createElement('canvas');
  try {
    [canvas.width, canvas.height] = grabSize(videoWidth, videoHeight);
    canvas.getContext('2d')?.drawImage(video, 0, 0, canvas.width, canvas.height);
    return await bytesOf(canvas, 'image/jpeg', QUALITY);
  } finally {
    canvas.width = 0;
    canvas.height = 0;
  }
}

/** Size of the picture that is kept: the camera's own, as long as a canvas holds it. */
export function grabSize(width: number, height: number): [number, number] {
  const shrunk = Math.min(1, Math.sqrt(MOST_PIXELS / Math.max(width * height, 1)));
  return [Math.floor(width * shrunk), Math.floor(height * shrunk)];
}
