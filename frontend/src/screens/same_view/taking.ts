import type { DefectRow, Json, PhotographRole, Shop } from '../../services/shop';
import { type Camera, useCamera } from '../frame/camera';
import { grabbed, type Stream } from './stream';

export interface TakingProps {
  shop: Shop;
  row: DefectRow;
  stream: Stream;
  role: PhotographRole;
  mirrored: boolean;
  /** The view it repeats, where the lamp stands. */
  more: Record<string, Json>;
  run: (work: () => Promise<void>) => Promise<void>;
  /** Shows the photograph once it is stored. */
  onTaken: (photograph: string) => void;
}

export interface Taking {
  /** Keeps what the camera shows now. */
  shutter: () => Promise<void>;
  /** Opens the system's camera instead. */
  byFile: () => void;
  camera: Camera;
}

/** Takes the picture: from the live view, or with the system's camera. */
export function useTaking(props: TakingProps): Taking {
  const { shop, row, stream, role, mirrored, more, run, onTaken } = props;
  const camera = useCamera(
    shop,
    ({ photograph }) => onTaken(photograph),
    (error) => void run(() => Promise.reject(error)),
  );
  const shutter = () =>
    run(async () => {
      const { session, capture } = shop;
      if (!session || !stream.video.current) return;
      const bytes = await grabbed(stream.video.current);
      const stored = await capture.addPhotograph(
        ...([session, row.record, bytes, role, 'live', mirrored, more] as const),
      );
      onTaken(stored.record);
      await capture.checked(stored.record);
    });
  const { record, number } = row;
  const byFile = () => camera.open({ record, number: number ?? '', role, mirrored, more });
  return { shutter, byFile, camera };
}
