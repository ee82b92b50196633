import { describe, expect, it } from 'vitest';
import { Server } from '../../../frontend/src/services/server';

function answering(...answers: (Response | Error)[]) {
  const asked: RequestInit[] = [];
  const server = new Server(async (_address, init) => {
    asked.push(init);
    const answer = answers.shift() as Response | Error;
    if (answer instanceof Error) throw answer;
    return answer;
  });
  return { server, asked };
}
const headersOf = (init: RequestInit | undefined) => Object.fromEntries(new Headers(init?.headers));

describe('Server', () => {
  it('sends the token of an enrolled browser and its cookies', async () => {
    const { server, asked } = answering(new Response('{"a":3}'), new Response('{}'));
    expect(await server.get('/api/session')).toEqual({ a: 3 });
    server.token = 't5';
    await server.post('/api/sign-in', { person: 'p' });
    expect(headersOf(asked[0])).toEqual({});
    expect(headersOf(asked[1])).toMatchObject({ authorization: 'Bearer t5' });
    expect(asked[1]).toMatchObject({
      method: 'POST',
      body: '{"person":"p"}',
      credentials: 'same-origin',
    });
  });

  it('passes on what the server refused, word for word', async () => {
    const refusal = { code: 'no_such_code', message: 'The code is used up.', hint: 'Ask for one.' };
    const { server } = answering(new Response(JSON.stringify(refusal), { status: 403 }));
    await expect(server.post('/api/enrol')).rejects.toMatchObject(refusal);
  });

  it('says so in a sentence when something else than Skinpin answers', async () => {
    const { server } = answering(new Response('<html>', { status: 502 }));
    await expect(server.get('/api/people')).rejects.toMatchObject({
      code: 'not_understood',
      message: 'The server answered 502 to /api/people.',
    });
  });

  it('takes a lost connection for a server that is away, and keeps the cause', async () => {
    const { server } = answering(new TypeError('Failed to fetch'));
    await expect(server.get('/api/people')).rejects.toMatchObject({
      code: 'away',
      cause: expect.any(TypeError),
    });
  });

  it('waits no longer than it should', async () => {
    const never = (_address: string, init: RequestInit) =>
      new Promise<Response>((_resolve, reject) => {
        init.signal?.addEventListener('abort', () => reject(init.signal?.reason));
      });
    const server = new Server(never, 20);
    await expect(server.get('/api/health')).rejects.toMatchObject({ code: 'away' });
  });
});
