/** Which book this browser holds, kept apart from the books themselves. */

import { openDB } from 'idb';

const NAME = 'skinpin';

function open() {
  return openDB(NAME, 1, {
    upgrade(database) {
      database.createObjectStore('held');
    },
  });
}

/** Returns the book this browser holds, or null. */
export async function heldBook(): Promise<string | null> {
  const database = await open();
  try {
    return ((await database.get('held', 'book')) as string | undefined) ?? null;
  } finally {
    database.close();
  }
}

/** Remembers the book this browser holds. */
export async function holdBook(book: string): Promise<void> {
  const database = await open();
  try {
    const tx = database.transaction('held', 'readwrite', { durability: 'strict' });
    await tx.store.put(book, 'book');
    await tx.done;
  } finally {
    database.close();
  }
}
