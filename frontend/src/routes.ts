/** Addresses of the screens. Each folder of screens/ holds `screen.tsx` with a default export. */

export interface Route {
  /** Words, and {names} that come to the screen as params. */
  pattern: string;
  /** Folder under screens/. */
  folder: string;
  /** Who is let in: anyone, an enrolled browser, or a person signed in. */
  needs: 'nothing' | 'device' | 'session';
}

export const ROUTES: readonly Route[] = [
  { pattern: '/', folder: 'sign_in', needs: 'nothing' },
  { pattern: '/airframe', folder: 'airframe', needs: 'session' },
  { pattern: '/airframe/{number}', folder: 'measure', needs: 'session' },
  { pattern: '/airframe/{number}/photograph/{photograph}', folder: 'photograph', needs: 'session' },
  {
    pattern: '/airframe/{number}/photograph/{photograph}/measure',
    folder: 'measuring',
    needs: 'session',
  },
  { pattern: '/airframe/{number}/live', folder: 'same_view', needs: 'session' },
  {
    pattern: '/airframe/{number}/photograph/{photograph}/same-view',
    folder: 'same_view',
    needs: 'session',
  },
  { pattern: '/defects', folder: 'defects', needs: 'session' },
  { pattern: '/defects/{number}', folder: 'defects', needs: 'session' },
  { pattern: '/assessment', folder: 'assessment', needs: 'session' },
  { pattern: '/assessment/{number}', folder: 'assessment', needs: 'session' },
  { pattern: '/stages', folder: 'stages', needs: 'session' },
  { pattern: '/stages/{stage}', folder: 'stages', needs: 'session' },
  { pattern: '/questions', folder: 'questions', needs: 'session' },
  { pattern: '/figures', folder: 'figures', needs: 'session' },
  { pattern: '/waiting', folder: 'waiting', needs: 'device' },
  { pattern: '/take', folder: 'take', needs: 'session' },
  { pattern: '/reports', folder: 'reports', needs: 'session' },
  { pattern: '/paper', folder: 'paper', needs: 'session' },
  { pattern: '/take-in', folder: 'take_in', needs: 'session' },
  { pattern: '/airframes', folder: 'airframes', needs: 'session' },
  { pattern: '/airframes/{airframe}', folder: 'airframes', needs: 'session' },
  { pattern: '/airframes/{airframe}/{part}', folder: 'airframes', needs: 'session' },
  { pattern: '/airframes/{airframe}/drawings/{view}', folder: 'drawings', needs: 'session' },
  { pattern: '/standards', folder: 'standards', needs: 'session' },
  { pattern: '/people', folder: 'people', needs: 'session' },
  { pattern: '/tablets', folder: 'tablets', needs: 'session' },
  { pattern: '/set-up', folder: 'set_up', needs: 'nothing' },
  { pattern: '/enrol', folder: 'enrol', needs: 'nothing' },
  { pattern: '/sheet-furniture', folder: 'sheet_furniture', needs: 'nothing' },
];

export interface Match {
  route: Route;
  params: Record<string, string>;
}

/** Returns the route of a path, or null. */
export function matchRoute(path: string): Match | null {
  const parts = path.split('/').filter(Boolean);
  for (const route of ROUTES) {
    const params = matchParts(route.pattern.split('/').filter(Boolean), parts);
    if (params) return { route, params };
  }
  return null;
}

function matchParts(pattern: string[], parts: string[]): Record<string, string> | null {
  if (pattern.length !== parts.length) return null;
  const params: Record<string, string> = {};
  for (const [at, word] of pattern.entries()) {
    const part = decode(parts[at] ?? '');
    if (word.startsWith('{')) params[word.slice(1, -1)] = part;
    else if (word !== part) return null;
  }
  return params;
}

function decode(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
