/** Sends a file to the server in pieces and follows what becomes of it. */

import { Refused } from '../../domain/errors';
import type { RefusalShape, Shop } from '../../services/shop';

export interface Taken {
  letter: string | null;
  sha256: string;
  entries: number;
  stored: number;
  photographs: number;
  photographs_stored: number;
  turned: string[];
}

interface Job {
  id: string;
  state: 'coming' | 'running' | 'done' | 'refused';
  size_bytes: number;
  here_bytes: number;
  piece_bytes: number;
  step?: Step | null;
  trouble?: RefusalShape | null;
  taken?: Taken;
}

export interface Step {
  words: string;
  done: number;
  of: number;
}

type Tell = (step: Step) => void;
const OFTEN_MS = 300;

/** Sends all of a file; returns its name at the server. */
export async function sendFile(shop: Shop, file: Blob, tell: Tell): Promise<string> {
  let job = await shop.api.post<Job>('/api/stick-files', { size_bytes: file.size });
  const { id, piece_bytes } = job;
  while (job.here_bytes < file.size) {
    const at = job.here_bytes;
    tell({ words: 'bytes sent to the server', done: at, of: file.size });
    const piece = file.slice(at, at + piece_bytes);
    job = await shop.api.putBytes<Job>(`/api/stick-files/${id}?at=${at}`, piece);
  }
  return id;
}

/** Has a file that was sent checked and taken in; throws what the server refuses. */
export async function takeIn(shop: Shop, id: string, reason: string, tell: Tell): Promise<Taken> {
  let job = await shop.api.post<Job>(`/api/stick-files/${id}/take-in`, { reason });
  while (job.state === 'running') {
    if (job.step) tell(job.step);
    await new Promise((done) => setTimeout(done, OFTEN_MS));
    job = await shop.api.get<Job>(`/api/stick-files/${id}`);
  }
  if (job.taken) return job.taken;
  const { code, message, hint } = job.trouble ?? { code: 'fault', message: job.state, hint: '' };
  throw new Refused(code, message, hint);
}

/** Why this person can't take a file in here now; undefined where nothing stands in the way. */
export function whyNot(shop: Shop): string | undefined {
  const { session } = shop;
  if (!session || !['lead', 'clerk'].includes(session.role)) return 'for a lead or the clerk';
  return session.online ? undefined : 'the server is not in reach';
}

/** "12 new, 3 here already": what became of one kind of thing. */
export function newWords(all: number, stored: number, refused = 0): string {
  const here = all - stored - refused;
  const parts = [`${stored} new`, `${here} here already`];
  return [...parts, ...(refused ? [`${refused} refused`] : [])].join(', ');
}
