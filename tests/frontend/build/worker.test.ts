import { describe, expect, it } from 'vitest';
import { workerText } from '../../../frontend/build/worker';

const built = [
  { file: '/index.html', content: '<p>3</p>' },
  { file: '/assets/main-5f.js', content: 'go(5)' },
];
const version = (text: string) => /VERSION="([0-9a-f]{16})"/.exec(text)?.[1];

describe('workerText', () => {
  it('lists every built file once, the page under its address', () => {
    const text = workerText(built, 'run(FILES);');
    expect(text).toContain('FILES=["/assets/main-5f.js","/"];\nrun(FILES);');
  });

  it('has the same version for the same files in any order', () => {
    const turned = [...built].reverse();
    expect(version(workerText(built, 'a'))).toBe(version(workerText(turned, 'a')));
  });

  it.each([
    ['other content', [{ file: '/index.html', content: '<p>7</p>' }, built[1]], 'a'],
    ['another name', [{ file: '/other.html', content: '<p>3</p>' }, built[1]], 'a'],
    ['another worker', built, 'b'],
  ])('has another version for %s', (_what, files, code) => {
    expect(version(workerText(files as typeof built, code))).not.toBe(
      version(workerText(built, 'a')),
    );
  });
});
