/** Writes sw.js at the root of the built app: the worker, a content hash and the list of files. */

import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { type Plugin, transformWithOxc } from 'vite';

export interface Built {
  /** Address in the app. */
  file: string;
  content: string | Uint8Array;
}

/** Returns the text of sw.js; other content or other names give another version. */
export function workerText(built: readonly Built[], code: string): string {
  const sorted = [...built].sort((a, b) => (a.file < b.file ? -1 : 1));
  const hash = createHash('sha256');
  for (const { file, content } of [...sorted, { file: '/sw.js', content: code }]) {
    hash.update(`${file}\n`).update(content).update('\n');
  }
  const files = sorted.map(({ file }) => (file === '/index.html' ? '/' : file));
  const version = hash.digest('hex').slice(0, 16);
  return `const VERSION=${JSON.stringify(version)},FILES=${JSON.stringify(files)};\n${code}`;
}

/** The plugin: `worker` is the source of the worker, `pub` the folder copied as it is. */
export function serviceWorker(worker: string, pub: string): Plugin {
  return {
    name: 'service-worker',
    apply: 'build',
    enforce: 'post',
    async generateBundle(_options, bundle) {
      const source = readFileSync(worker, 'utf8');
      const { code } = await transformWithOxc(source, worker, { sourcemap: false });
      const made = Object.values(bundle).map((part) => ({
        file: `/${part.fileName}`,
        content: part.type === 'chunk' ? part.code : part.source,
      }));
      this.emitFile({
        type: 'asset',
        fileName: 'sw.js',
        source: workerText([...made, ...publicFiles(pub)], code),
      });
    },
  };
}

function publicFiles(folder: string): Built[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((each) => each.isFile())
    .map((each) => join(each.parentPath, each.name))
    .map((path) => ({
      file: `/${relative(folder, path).replaceAll('\\', '/')}`,
      content: readFileSync(path),
    }));
}
