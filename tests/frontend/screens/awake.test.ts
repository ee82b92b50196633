// @vitest-environment happy-dom
import { afterEach, expect, it, vi } from 'vitest';
import { awake } from '../../../frontend/src/screens/frame/awake';

function wakeLocks(request: () => Promise<{ release: () => Promise<void> }>) {
  Object.defineProperty(navigator, 'wakeLock', { value: { request }, configurable: true });
}

afterEach(() => Reflect.deleteProperty(navigator, 'wakeLock'));

it('holds the screen awake for as long as the work takes, even when it fails', async () => {
  const release = vi.fn(async () => {});
  const request = vi.fn(async () => ({ release }));
  wakeLocks(request);
  const work = async () => {
    expect(request).toHaveBeenCalledOnce();
    expect(release).not.toHaveBeenCalled();
    throw new Error('no server');
  };
  await expect(awake(work)).rejects.toThrow('no server');
  expect(release).toHaveBeenCalledOnce();
});

it('asks for the lock again when the page comes back in sight', async () => {
  const request = vi.fn(async () => ({ release: async () => {} }));
  wakeLocks(request);
  await awake(async () => {
    document.dispatchEvent(new Event('visibilitychange'));
  });
  expect(request).toHaveBeenCalledTimes(2);
  document.dispatchEvent(new Event('visibilitychange'));
  expect(request).toHaveBeenCalledTimes(2);
});

it('does the work where the browser has no lock, or gives none', async () => {
  expect(await awake(async () => 'sent')).toBe('sent');
  wakeLocks(async () => {
    throw new Error('battery low');
  });
  expect(await awake(async () => 'sent')).toBe('sent');
});
