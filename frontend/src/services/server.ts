/** Asks the server; every failure comes back as one kind of error. */

import { Refused } from '../domain/errors';
import type { Api, Json } from './shop';

export type Fetch = (address: string, init: RequestInit) => Promise<Response>;

/** Says whether an error means that the server could not be reached. */
export function isAway(error: unknown): boolean {
  return error instanceof Refused && error.code === 'away';
}

export class Server implements Api {
  /** Token of this browser; sent with every question once it is known. */
  token: string | null = null;

  constructor(
    private readonly ask: Fetch = (address, init) => fetch(address, init),
    private readonly wait_ms = 20_000,
  ) {}

  async get<T = Json>(path: string): Promise<T> {
    return (await wholeJson(await this.send(path, {}))) as T;
  }

  post<T = Json>(path: string, body: Json = {}): Promise<T> {
    return this.give<T>('POST', path, body);
  }

  put<T = Json>(path: string, body: Json): Promise<T> {
    return this.give<T>('PUT', path, body);
  }

  putBytes<T = Json>(path: string, body: Blob): Promise<T> {
    return this.giveBytes<T>('PUT', path, body);
  }

  postBytes<T = Json>(path: string, body: Blob): Promise<T> {
    return this.giveBytes<T>('POST', path, body);
  }

  private async giveBytes<T>(method: string, path: string, body: Blob): Promise<T> {
    const headers = { 'Content-Type': 'application/octet-stream' };
    return (await (await this.send(path, { method, headers, body }, 60_000)).json()) as T;
  }

  private async give<T>(method: string, path: string, body: Json): Promise<T> {
    const headers = { 'Content-Type': 'application/json' };
    const answer = await this.send(path, { method, headers, body: JSON.stringify(body) });
    return (answer.status === 204 ? null : await wholeJson(answer)) as T;
  }

  async document(path: string): Promise<Blob> {
    return (await this.send(path, {})).blob();
  }

  /** Sends a request as it is; an answer that is no success is thrown. */
  async send(path: string, init: RequestInit, wait_ms = this.wait_ms): Promise<Response> {
    const headers = new Headers(init.headers);
    if (this.token) headers.set('Authorization', `Bearer ${this.token}`);
    const answer = await this.reach(path, { ...init, headers }, wait_ms);
    if (!answer.ok) throw await refusalOf(answer, path);
    return answer;
  }

  private async reach(path: string, init: RequestInit, wait_ms: number): Promise<Response> {
    try {
      const signal = AbortSignal.timeout(wait_ms);
      return await this.ask(path, { credentials: 'same-origin', signal, ...init });
    } catch (cause) {
      const message = 'The server does not answer.';
      const hint = 'Everything is stored on this tablet; it is sent when the server is back.';
      throw new Refused('away', message, hint, { cause });
    }
  }
}

/** Reads an answer; one that was cut short on the way is as good as none. */
async function wholeJson(answer: Response): Promise<unknown> {
  try {
    return await answer.json();
  } catch (cause) {
    throw new Refused('away', 'The server’s answer was cut short.', 'Try again.', { cause });
  }
}

async function refusalOf(answer: Response, path: string): Promise<Refused> {
  try {
    const { code, message, hint } = (await answer.json()) as Record<string, unknown>;
    if (typeof code === 'string' && typeof message === 'string') {
      return new Refused(code, message, typeof hint === 'string' ? hint : '');
    }
  } catch {
    // Not of Skinpin's form: something between here and the server has answered.
  }
  const message = `The server answered ${answer.status} to ${path}.`;
  return new Refused('not_understood', message, 'Try again; tell the lead if it stays.');
}
