import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { DERIVING, rulesOf } from '../../../frontend/build/rules.ts';
import config from '../../../vite.config.ts';

let root: string;

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'rules-'));
  for (const folder of DERIVING) cpSync(folder, join(root, folder), { recursive: true });
});
afterEach(() => rmSync(root, { recursive: true }));

const change = (name: string, text: (before: string) => string) =>
  writeFileSync(join(root, name), text(readFileSync(join(root, name), 'utf8')));

describe('the name of the rules', () => {
  it.each([
    'backend/skinpin/domain/tables/moves.json',
    'frontend/src/domain/judging.ts',
    'frontend/src/storage/rows.ts',
    'sync/typescript/standing.ts',
  ])('changes with one letter of %s', (name) => {
    const before = rulesOf(root);
    expect(before).toMatch(/^[0-9a-f]{16}$/);
    change(name, (text) => `${text} `);
    expect(rulesOf(root)).not.toBe(before);
    change(name, (text) => text.slice(0, -1));
    expect(rulesOf(root)).toBe(before);
  });

  it('changes with a file that comes or goes', () => {
    const before = rulesOf(root);
    mkdirSync(join(root, 'frontend/src/domain/tables_too'));
    writeFileSync(join(root, 'frontend/src/domain/tables_too/more.ts'), 'export {};');
    const more = rulesOf(root);
    rmSync(join(root, 'sync/typescript/chain.ts'));
    expect(new Set([before, more, rulesOf(root)]).size).toBe(3);
  });

  it('is the same on a computer that ends lines in another way', () => {
    const before = rulesOf(root);
    change('frontend/src/domain/judging.ts', (text) => text.replaceAll('\n', '\r\n'));
    expect(rulesOf(root)).toBe(before);
  });

  it('is put into the build', () => {
    expect(config.define).toMatchObject({ __RULES__: JSON.stringify(rulesOf('.')) });
  });
});
