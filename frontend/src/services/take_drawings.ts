/** Pictures of the drawings that lie under chosen zones: they come with the book to the airframe. */

import type { Definition } from '../domain/place';
import type { BookStore } from '../storage/database';
import { pinnedBy } from '../storage/derive';
import { readFile } from '../storage/files';

/** Hashes of the pictures of views on structures that some zones lie on, each once. */
export function drawingsUnder(definition: Definition, zones: readonly string[]): string[] {
  const named = definition.zones.filter(({ zone }) => zones.includes(zone));
  const structures = new Set(named.map(({ structure }) => structure));
  const shown = definition.views.filter((view) => view.picture && structures.has(view.structure));
  return [...new Set(shown.map((view) => view.picture?.sha256 as string))];
}

/** Fetches what is not here of them, of every airframe here; those that the server has not. */
export async function fetchDrawings(
  store: BookStore,
  zones: readonly string[],
  fetch: (sha256: string) => Promise<boolean>,
): Promise<string[]> {
  const lost = new Set<string>();
  for (const definition of await definitionsHere(store)) {
    for (const sha256 of drawingsUnder(definition, zones)) {
      if (!(await isHere(store, sha256)) && !(await fetch(sha256))) lost.add(sha256);
    }
  }
  return [...lost];
}

async function definitionsHere(store: BookStore): Promise<Definition[]> {
  const rows = await store.read(['standing'], (tx) =>
    tx.objectStore('standing').index('kind').getAll('airframe'),
  );
  const files = await Promise.all(
    pinnedBy(rows, 'definition').map((sha256) => readFile(store, sha256)),
  );
  return files.flatMap((bytes) => {
    const file = bytes && (JSON.parse(new TextDecoder().decode(bytes)) as Partial<Definition>);
    return file && Array.isArray(file.views) && Array.isArray(file.zones)
      ? [file as Definition]
      : [];
  });
}

async function isHere(store: BookStore, sha256: string): Promise<boolean> {
  return (await store.read(['files'], (tx) => tx.objectStore('files').count(sha256))) > 0;
}
