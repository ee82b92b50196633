import 'fake-indexeddb/auto';
import { expect, it } from 'vitest';
import { heldBook, holdBook } from '../../../frontend/src/storage/registry';

it('remembers which book this browser holds', async () => {
  expect(await heldBook()).toBeNull();
  await holdBook('marram');
  expect(await heldBook()).toBe('marram');
});
