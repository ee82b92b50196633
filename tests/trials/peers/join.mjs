// Joins documents over HTTP: a local book replicated to a server that keeps it on disk.
// node join.mjs DOCUMENTS.ndjson BATCH  → one JSON object: {"records", "seconds"}
// node join.mjs serve FOLDER            → prints the port it listens on
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import express from 'express';
import expressPouch from 'express-pouchdb';
import PouchDB from 'pouchdb';
import memory from 'pouchdb-adapter-memory';

async function serve(folder) {
  const Kept = PouchDB.defaults({ prefix: `${folder}/` });
  const app = express();
  app.use(expressPouch(Kept, { mode: 'minimumForPouchDB', inMemoryConfig: true, logPath: `${folder}/log.txt` }));
  const server = app.listen(0, '127.0.0.1', () => console.log(`port ${server.address().port}`));
}

function startServer(folder) {
  const words = [fileURLToPath(import.meta.url), 'serve', folder];
  const child = spawn(process.execPath, words, { cwd: folder, stdio: ['ignore', 'pipe', 'inherit'] });
  return new Promise((done, fail) => {
    child.once('exit', () => fail(new Error('The peer server ended before it listened.')));
    child.stdout.on('data', (bytes) => {
      const found = /port (\d+)/.exec(bytes.toString());
      if (found) done({ child, port: Number(found[1]) });
    });
  });
}

async function measure(file, batch) {
  PouchDB.plugin(memory);
  const documents = readFileSync(file, 'utf8').trimEnd().split('\n').map((line) => JSON.parse(line));
  const folder = mkdtempSync(join(tmpdir(), 'peer-'));
  const { child, port } = await startServer(folder);
  try {
    const local = new PouchDB('tablet', { adapter: 'memory' });
    await local.bulkDocs(documents);
    const remote = new PouchDB(`http://127.0.0.1:${port}/joined`);
    await remote.info();
    const began = performance.now();
    const told = await local.replicate.to(remote, { batch_size: batch, batches_limit: 10 });
    const seconds = (performance.now() - began) / 1000;
    const { doc_count: records } = await remote.info();
    if (!told.ok || records !== documents.length) throw new Error(`${records} records arrived`);
    console.log(JSON.stringify({ records, seconds }));
  } finally {
    child.kill('SIGKILL');
    rmSync(folder, { recursive: true, force: true });
  }
}

const [first, second] = process.argv.slice(2);
await (first === 'serve' ? serve(second) : measure(first, Number(second)));
