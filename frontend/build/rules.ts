/** Names the rules that a build derives by: a hash of everything they are written in. */

import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** What is derived hangs on the code and the tables of these folders and on nothing else. */
export const DERIVING = [
  'backend/skinpin/domain/tables',
  'frontend/src/domain',
  'frontend/src/storage',
  'sync/typescript',
];

/** A name of sixteen hex digits that changes with any of those files. */
export function rulesOf(root: string): string {
  const hash = createHash('sha256');
  for (const folder of DERIVING) {
    const names = readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' });
    for (const name of names.filter((one) => /\.(ts|json)$/.test(one)).sort()) {
      const text = readFileSync(join(root, folder, name), 'utf8').replaceAll('\r\n', '\n');
      hash.update(`${folder}/${name.replaceAll('\\', '/')} ${text.length}\n${text}`);
    }
  }
  return hash.digest('hex').slice(0, 16);
}
