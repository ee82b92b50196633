import type { ComponentChildren } from 'preact';
import type { Definition } from '../../services/shop';
import { useFetched } from '../frame/fetched';
import type { OnDrawingsProps } from './pictured';

/** The shell expansion, or a calibrated drawing in its place where the structure has one. */
export function OnDrawings(props: OnDrawingsProps & { children: ComponentChildren }) {
  return hasPicture(props.definition, props.structure.name) ? (
    <Fetched {...props} />
  ) : (
    props.children
  );
}

function Fetched(props: OnDrawingsProps & { children: ComponentChildren }) {
  const Chosen = useFetched(() => import('./pictured').then((file) => file.Chosen));
  return Chosen ? <Chosen {...props} /> : props.children;
}

function hasPicture({ views }: Definition, structure: string): boolean {
  return views.some((one) => one.picture && one.structure === structure);
}
