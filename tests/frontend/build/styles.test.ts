import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROUTES } from '../../../frontend/src/routes';
import { breaches, classesOf, comesWith, fromDisk, ruledIn } from './styles';

const FOLDERS = [...new Set(ROUTES.map(({ folder }) => folder))];
const SHEETS = readdirSync('frontend/src', { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.css'))
  .map((name) => join('frontend/src', name));
const screenOf = (folder: string) => `frontend/src/screens/${folder}/screen.tsx`;
const ALWAYS = ['frontend/src/main.ts'];

describe('a screen that is opened first', () => {
  it.each(FOLDERS)('%s has the rules of every class it draws with', (folder) => {
    expect(breaches(screenOf(folder), ALWAYS, SHEETS, fromDisk)).toEqual([]);
  });

  it('is looked at with all it draws', () => {
    const files = comesWith([screenOf('defects')], fromDisk);
    expect(files).toContain('frontend/src/furniture/figure.css');
    expect(files).toContain('frontend/src/screens/photograph/marks_on.tsx');
    const drawn = [...files].flatMap((file) => [...classesOf(file, fromDisk(file) ?? '')]);
    expect(drawn.length).toBeGreaterThan(200);
  });
});

describe('the look at classes', () => {
  const planted: Record<string, string> = {
    'a/screen.tsx': `import { Part } from '../b/part'; import './a.css';
      export default () => <p class="own"><Part /></p>;`,
    'a/a.css': '.own { color: red }',
    'b/part.tsx': `const names = \`part \${now ? 'lit' : ''} hand-\${hand}\`;
      export const Part = () => <i class={names} />;`,
    'b/screen.css': '.part, .lit { color: red }',
    'main.ts': 'export {};',
  };
  const read = (path: string) => planted[path] ?? null;
  const look = () => breaches('a/screen.tsx', ['main.ts'], ['a/a.css', 'b/screen.css'], read);

  it('finds a part whose rules lie with another screen', () => {
    expect(look().map(({ file, name, sheets }) => [file, name, ...sheets])).toEqual([
      ['b/part.tsx', 'part', 'b/screen.css'],
      ['b/part.tsx', 'lit', 'b/screen.css'],
    ]);
  });

  it('is content once the part brings them', () => {
    planted['b/part.tsx'] = `import './screen.css'; ${planted['b/part.tsx']}`;
    expect(look()).toEqual([]);
  });

  it('takes rules within something else for rules only where there are no others', () => {
    expect([...ruledIn('.a .b, .c:hover { x: y } @media print { .b > .d { x: y } }')]).toEqual([
      ['a', 'within'],
      ['b', 'within'],
      ['c', 'alone'],
      ['d', 'within'],
    ]);
  });
});
