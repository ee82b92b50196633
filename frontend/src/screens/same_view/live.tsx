import { useState } from 'preact/hooks';
import type { DefectRow, Json, ScreenProps } from '../../services/shop';
import { CameraInput } from '../frame/camera';
import { useTrouble } from '../frame/trouble';
import { unbroken } from '../frame/unbroken';
import { roleNamed } from '../photograph/roles';
import { type Alongside, useAlongside } from './alongside';
import { AlongsideStrip } from './alongside_strip';
import type { Strength } from './ghost';
import { useGhosts } from './ghosts';
import { LiveKeys } from './live_keys';
import { LiveStage, NoLiveView } from './live_stage';
import { useStream } from './stream';
import { useTaking } from './taking';
import { ViewSheet } from './view_sheet';

type Props = ScreenProps & { row: DefectRow };

/** What the camera sees, with an earlier picture of the same view laid over it. */
export function Live(props: Props) {
  const { shop, params, go, row } = props;
  const stream = useStream();
  const alongside = useAlongside(shop);
  const { trouble, run, busy } = useTrouble();
  const asked = useAskedFor(props, alongside);
  const { ghost, strength, mirrored, more } = asked;
  const role = roleNamed(params.role) ?? roleNamed(ghost?.role) ?? 'close';
  const number = row.number ?? '';
  const address = `/airframe/${number.replace('/', '')}`;
  const onTaken = (photograph: string) =>
    go(`${address}/photograph/${photograph}${more.repeat_of ? '/same-view' : ''}`, 'replace');
  const taking = useTaking({ shop, row, stream, role, mirrored, more, run, onTaken });
  return (
    <>
      <CameraInput camera={taking.camera} />
      <ViewSheet
        {...{ shop, row, trouble }}
        head={`${role} picture, live view`}
        under={unbroken(row.place_words ?? '')}
        keys={(onTouchOff) => (
          <LiveKeys
            {...{ ...asked, busy, onTouchOff }}
            ready={stream.size !== null && !stream.refused}
            onFile={taking.byFile}
            onBack={() => go(address, 'replace')}
            onShutter={() => void taking.shutter()}
          />
        )}
      >
        {stream.refused && <NoLiveView stream={stream} onFile={taking.byFile} />}
        <LiveStage {...{ shop, stream, mirrored, ghost, strength, number }} />
        <AlongsideStrip
          {...{ shop, alongside }}
          actions={[{ label: 'OVER THE VIEW', act: asked.choose }]}
        />
      </ViewSheet>
    </>
  );
}

/** What lies over the view and how, and what is known of the picture before it is taken. */
function useAskedFor({ shop, params, row }: Props, { held }: Alongside) {
  const [chosen, choose] = useState<string | null>(params.of ?? null);
  const [strength, onStrength] = useState<Strength>(40);
  const [light, onLight] = useState<string | null>(null);
  const [mirrored, setMirrored] = useState(params.mirrored === 'yes');
  const ghosts = useGhosts(shop, row.record, held, params.of);
  const ghost = ghosts?.find((one) => one.record === chosen) ?? ghosts?.at(-1) ?? null;
  const more: Record<string, Json> = {
    ...(ghost && strength !== 'none' ? { repeat_of: ghost.record } : {}),
    ...(light ? { light } : {}),
  };
  return {
    ...{ ghost, strength, light, mirrored, more, choose, onStrength, onLight },
    others: (ghosts?.length ?? 0) - 1,
    onMirror: () => setMirrored(!mirrored),
    onOther: () => choose(next(ghosts?.map((one) => one.record) ?? [], ghost?.record)),
  };
}

function next(all: readonly string[], now: string | undefined): string | null {
  const at = now === undefined ? -1 : all.indexOf(now);
  return all[(at + all.length - 1) % Math.max(all.length, 1)] ?? null;
}
