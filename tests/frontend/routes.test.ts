import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { matchRoute, ROUTES } from '../../frontend/src/routes';

describe('matchRoute', () => {
  it.each([
    ['/', 'sign_in', {}],
    ['/airframe', 'airframe', {}],
    ['/airframe/', 'airframe', {}],
    ['/airframe/A0017', 'measure', { number: 'A0017' }],
    ['/airframe/A0017/photograph/p%201', 'photograph', { number: 'A0017', photograph: 'p 1' }],
    ['/defects/B0002', 'defects', { number: 'B0002' }],
    ['/defects/%E0%A4%A', 'defects', { number: '%E0%A4%A' }],
  ])('knows %s', (path, folder, params) => {
    const match = matchRoute(path);
    expect([match?.route.folder, match?.params]).toEqual([folder, params]);
  });

  it.each(['/nowhere', '/defects/A0001/more', '/api/people'])('does not know %s', (path) => {
    expect(matchRoute(path)).toBeNull();
  });

  it('has a screen for every address', () => {
    const screens = ROUTES.map(({ folder }) => `frontend/src/screens/${folder}/screen.tsx`);
    expect(screens.filter((file) => !existsSync(file))).toEqual([]);
  });
});
