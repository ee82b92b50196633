/** Pictures of the drawings of an airframe: all come with the book to it, whatever zones are chosen. */

import type { Definition } from '../domain/place';
import type { BookStore } from '../storage/database';
import { pinnedBy } from '../storage/derive';
import { readFile } from '../storage/files';

/** Hashes of the pictures of a definition's views, each once. */
export function drawingsOf(definition: Definition): string[] {
  const all = definition.views.map((view) => view?.picture?.sha256);
  return [...new Set(all.filter((one) => typeof one === 'string'))];
}

/** Hashes of those that are not here, of every airframe here. */
export async function drawingsLacking(store: BookStore): Promise<string[]> {
  const all = new Set((await definitionsHere(store)).flatMap(drawingsOf));
  const lacking: string[] = [];
  for (const sha256 of all) if (!(await isHere(store, sha256))) lacking.push(sha256);
  return lacking;
}

/** Fetches what is not here of them; those that the server has not. */
export async function fetchDrawings(
  store: BookStore,
  fetch: (sha256: string) => Promise<boolean>,
): Promise<string[]> {
  const lost: string[] = [];
  for (const sha256 of await drawingsLacking(store)) if (!(await fetch(sha256))) lost.push(sha256);
  return lost;
}

async function definitionsHere(store: BookStore): Promise<Definition[]> {
  const rows = await store.read(['standing'], (tx) =>
    tx.objectStore('standing').index('kind').getAll('airframe'),
  );
  const files = await Promise.all(
    pinnedBy(rows, 'definition').map((sha256) => readFile(store, sha256)),
  );
  return files.flatMap((bytes) => {
    const file = bytes && readDefinition(bytes);
    return file && Array.isArray(file.views) ? [file as Definition] : [];
  });
}

/** A file that is no definition has no drawings. */
function readDefinition(bytes: ArrayBuffer): Partial<Definition> | null {
  try {
    return JSON.parse(new TextDecoder().decode(bytes)) as Partial<Definition> | null;
  } catch {
    return null;
  }
}

async function isHere(store: BookStore, sha256: string): Promise<boolean> {
  return (await store.read(['files'], (tx) => tx.objectStore('files').count(sha256))) > 0;
}
