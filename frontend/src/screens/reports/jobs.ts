import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import type { Shop } from '../../services/shop';

/** A report as the server tells of it. */
export interface Job {
  id: string;
  zone: string;
  title: string;
  state: 'waiting' | 'running' | 'done' | 'failed' | 'cancelled';
  asked_by: string;
  asked_at: string;
  step?: { words: string; done: number; of: number };
  sheets?: number;
  size_bytes?: number;
  seq?: number;
  entries?: number;
  sha256?: string;
  record_sha256?: string;
  trouble?: { message: string; hint: string };
}

const OFTEN_MS = 1_000;

export function isUnderWay(job: Job): boolean {
  return job.state === 'waiting' || job.state === 'running';
}

/** The reports of the server: asked for at once, and often while one is under way. */
export function useReports(shop: Shop) {
  const [jobs, setJobs] = useState<Job[]>();
  const [away, setAway] = useState(false);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const look = useCallback(async () => {
    clearTimeout(timer.current);
    try {
      if (!shop.session?.online) throw new Error('not signed in at the server yet');
      const found = await shop.api.get<Job[]>('/api/reports');
      setJobs(found);
      setAway(false);
      if (found.some(isUnderWay)) timer.current = setTimeout(look, OFTEN_MS);
    } catch {
      setAway(true);
      timer.current = setTimeout(look, 5 * OFTEN_MS);
    }
  }, [shop]);
  useEffect(() => {
    void look();
    return () => clearTimeout(timer.current);
  }, [look]);
  return { jobs, away, look };
}

/** "0.5 MB", "940 kB". */
export function sizeWords(size_bytes: number): string {
  return size_bytes < 1_000_000
    ? `${Math.max(Math.round(size_bytes / 1000), 1)} kB`
    : `${(size_bytes / 1_000_000).toFixed(1)} MB`;
}
